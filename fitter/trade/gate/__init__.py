"""What a reader sees on each page, and the rules that judge it."""
