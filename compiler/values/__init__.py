"""The values that pass from stage to stage: frozen, comparable, with no behaviour beyond looking things up."""
