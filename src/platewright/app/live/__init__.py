"""What follows while the hand moves: measured anew many times a second."""
