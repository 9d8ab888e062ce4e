"""What is not stated, and what was assumed instead."""
