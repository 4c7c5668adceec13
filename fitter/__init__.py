"""Books that fold: fit a typeset book to whole gatherings."""

__version__ = "0.1.0"
