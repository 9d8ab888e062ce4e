"""One document a file; the registry lists them."""
