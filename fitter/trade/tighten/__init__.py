"""Where pages can be won."""
