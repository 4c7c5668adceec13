"""The record of printings, and a new entry in it: for a person, and for scripts."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fitter.reports.terminal import new_table, shown
from fitter.trade.printing.printings import Printing


def record_json(record: list[tuple[Printing, str, bool]]) -> dict[str, Any]:
    """Every printing with its key, and whether a fingerprint of it is kept."""
    return {"printings": [_entry(*row) for row in record]}


def record_text(record: list[tuple[Printing, str, bool]]) -> str:
    """A table, 80 columns wide at most."""
    if not record:
        return "No printing is recorded yet."
    table = new_table()
    for name in ("printing", "year", "copies", "extent"):
        table.add_column(name, justify="right")
    for name in ("key", "pages kept", "what changed"):
        table.add_column(name, overflow="fold")
    for entry, key, kept in record:
        table.add_row(
            str(entry.printing),
            entry.date or str(entry.year),
            str(entry.copies or ""),
            str(entry.extent or ""),
            key,
            "yes" if kept else "no",
            entry.note,
        )
    return shown(table)


def _entry(entry: Printing, key: str, kept: bool) -> dict[str, Any]:
    said = {name: value or None for name, value in asdict(entry).items()}
    return {**said, "key": key or None, "kept": kept}
