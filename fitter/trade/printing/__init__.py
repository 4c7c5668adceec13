"""The record of printings, and whether a new one is a new edition."""
