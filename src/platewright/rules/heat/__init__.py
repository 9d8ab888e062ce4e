"""Checks of warmth: air, housings, ducts, gaps."""
