"""The plugins that come with the compiler, one folder each. They use nothing that others cannot use."""
