"""What is cut, drilled and screwed."""
