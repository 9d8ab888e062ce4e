"""How it is wired: formulas of ducts, wires and the room they need."""
