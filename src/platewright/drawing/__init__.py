"""One picture, many writers."""
