"""Data files that come with the program."""
