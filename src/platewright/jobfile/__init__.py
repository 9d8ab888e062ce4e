"""The job folder: files in, records out, and back."""
