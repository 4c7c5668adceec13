"""How sheets fold into a book: gatherings, printers, prices, formes, collation."""
