"""The plate in the browser: served from this machine only, over the same job folder."""
