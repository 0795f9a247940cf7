"""Published values, and typical ones marked as such; never code."""
