"""What takes room: nothing in another's place, and enough air around it."""
