"""How warm it gets."""
