"""One check a file, families as folders; the registry runs them all."""
