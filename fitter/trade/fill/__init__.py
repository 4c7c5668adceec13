"""What stands on the left-over pages."""
