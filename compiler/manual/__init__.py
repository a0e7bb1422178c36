"""The makers' manual: what may be written, generated from the code that reads it, and published like a plan."""
