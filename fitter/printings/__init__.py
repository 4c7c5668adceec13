"""The printings of a book on disk: the record, and the fingerprint of each printing."""
