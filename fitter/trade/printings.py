"""The record of printings, one entry for each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Printing:
    """One printing: its number from 1, its year, and the printer's code (empty: as the key)."""

    printing: int
    year: int
    printer: str = ""
