"""Changing a plate by hand: every edit, undone and kept."""
