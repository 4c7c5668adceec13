"""What the cover designer, the printer and the catalogue need to know."""
