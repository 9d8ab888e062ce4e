"""Units, errors and sources: knows nothing of plates."""
