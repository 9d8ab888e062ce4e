"""Whether the wires find their way and the ducts hold them."""
