"""The printer's key: made, read, struck."""
