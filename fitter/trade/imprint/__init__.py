"""The imprint page: what stands on it, and which page of a book it is."""
