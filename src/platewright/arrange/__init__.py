"""Where everything goes: the arrangement stage."""
