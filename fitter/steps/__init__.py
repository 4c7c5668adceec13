"""The way of a book through the program: draft, plan, insert, judge."""
