"""The record of printings: one entry for each, counted without gaps or repeats."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

FIRST_YEAR, LAST_YEAR = 1450, 2199
MOST_PRINTINGS = 999


@dataclass(frozen=True, slots=True)
class Printing:
    """One printing: its number from 1, its year, the printer's code (empty: as the key has it).

    `copies` and `extent` (pages in all) are 0 where the record does not say. `date` is written
    as 2026-11-25, or empty.
    """

    printing: int
    year: int
    printer: str = ""
    date: str = ""
    copies: int = 0
    extent: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class RecordFault:
    """What is wrong with an entry, counted from 0, at one of its keys."""

    entry: int
    key: str
    said: str


def record_faults(
    record: Mapping[int, Printing], published: int | None = None
) -> list[RecordFault]:
    """All that cannot be true of a record, given as entries by their place from 0.

    `published` is the copyright year, where it is known.
    """
    return sorted(
        (*_numbers(record), *_years(record, published), *_dates(record)),
        key=lambda fault: fault.entry,
    )


def is_code(text: str) -> bool:
    """A printer's code is a capital letter with up to five more capitals or digits."""
    return re.fullmatch(r"[A-Z][A-Z0-9]{0,5}", text) is not None


def code_faults(record: Mapping[int, Printing]) -> list[RecordFault]:
    """Printers that a key cannot name."""
    return [
        RecordFault(
            i,
            "printer",
            f"'{one.printer}' is no printer's code: use a capital letter and up to five more "
            "capitals or digits, and write the full name in the note.",
        )
        for i, one in record.items()
        if one.printer and not is_code(one.printer)
    ]


def _numbers(record: Mapping[int, Printing]) -> Iterator[RecordFault]:
    seen: set[int] = set()
    for i, one in record.items():
        if one.printing in seen:
            yield RecordFault(
                i, "printing", f"printing {one.printing} stands twice. Each printing has one entry."
            )
        elif one.printing != i + 1:
            yield RecordFault(
                i,
                "printing",
                f"printing {one.printing} stands where printing {i + 1} is due. "
                "The record counts 1, 2, 3 … without gaps or repeats.",
            )
        seen.add(one.printing)


def _years(record: Mapping[int, Printing], published: int | None) -> Iterator[RecordFault]:
    for (_, before), (i, one) in pairwise(record.items()):
        if one.year < before.year:
            yield RecordFault(
                i,
                "year",
                f"printing {one.printing} of {one.year} cannot come after printing "
                f"{before.printing} of {before.year}. Mend one of the years.",
            )
    if published and 0 in record and record[0].year < published:
        yield RecordFault(
            0,
            "year",
            f"the first printing of {record[0].year} lies before the copyright year {published}. "
            "Mend one of the two.",
        )


def _dates(record: Mapping[int, Printing]) -> Iterator[RecordFault]:
    for i, one in record.items():
        if one.date and one.date[:4] != f"{one.year:04}":
            yield RecordFault(
                i, "date", f"the date {one.date} is not in the year {one.year}. Mend one of them."
            )
