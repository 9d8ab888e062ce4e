"""Planning a plate: from a job to a layout, and in words why not."""
