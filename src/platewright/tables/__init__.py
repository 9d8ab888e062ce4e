"""Published numbers with their sources: one CSV a table, one module that reads it."""
