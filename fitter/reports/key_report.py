"""The readings of a key, and a struck key, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from itertools import groupby
from typing import Any

from fitter.trade.key.key import Reading
from fitter.trade.key.read import says_first
from fitter.trade.key.strike import Struck

CAUTION = (
    "A key tells nothing of states or issues within a printing, nor which edition it counts: "
    "the words on the page say that."
)


def reading_json(reading: Reading) -> dict[str, Any]:
    """The contract's object; what a line does not say is null."""
    return {**asdict(reading), "printer": reading.printer or None}


def readings_text(readings: Sequence[Reading], words: str | None, since: int) -> str:
    """Every reading on a line of its own, and what to beware of."""
    lines = [
        f"{_told(group[0])} ({' or '.join(reading.scheme for reading in group)})"
        for _, same in groupby(readings, key=_told)
        for group in [list(same)]
    ]
    if len(lines) > 1:
        lines = ["The line can be read in more than one way:", *(f"  {line}" for line in lines)]
    if {reading.printing for reading in readings} == {1, 2} and words is None:
        lines.append('Words over the line settle it: --words "First edition", or --words "".')
    if words and says_first(words) and readings[0].printing > 1:
        lines.append(f"The words '{words}' say otherwise; the key outranks them.")
    if any(reading.year for reading in readings):
        lines.append(f"Years of two digits are read as {since} to {since + 99}.")
    return "\n".join([*lines, CAUTION])


def struck_text(struck: Struck) -> Iterator[str]:
    """What was struck, or why nothing could be."""
    if struck.line:
        gone = ", ".join(struck.gone)
        yield f"Printing {struck.printing}" + (f": struck {gone}." if gone else ".")
        if struck.words_gone:
            yield "The words over the line go; its numbers stay."
        if struck.year_kept:
            yield f"The line still says {struck.year_kept}: --year strikes those before another."
        return
    yield f"{struck.why} Printing {struck.printing} needs a newly set line."
    if struck.new_line:
        yield f"A new one would be: {' / '.join(struck.new_line.splitlines())}"
    if struck.words_gone:
        yield "The words over the line go too."


def _told(reading: Reading) -> str:
    year = f", {reading.year}" if reading.year else ""
    printer = f", printer {reading.printer}" if reading.printer else ""
    return f"printing {reading.printing}{year}{printer}"
