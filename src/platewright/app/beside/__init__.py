"""Work that goes on beside the page: it shows what it has and can be stopped."""
