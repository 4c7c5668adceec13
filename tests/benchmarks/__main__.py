"""All benchmarks as tables of Markdown: python -m tests.benchmarks [--quick]

Nothing here is asserted. Seconds are those of the processor, all programs started counted in, and
depend on the machine; the ratios hardly do. `--quick` takes small input, to see that all runs.
"""

from __future__ import annotations

import datetime
import os
import platform
import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path

from tests.benchmarks.growth import growths
from tests.benchmarks.measure import Growth, Pair
from tests.benchmarks.pairs import pairs
from tests.benchmarks.settings import HEAD, book_with_settings, every_draft, rows


def machine() -> str:
    """The processor, its cores, the Python and the day."""
    told = Path("/proc/cpuinfo")
    known = told.read_text() if told.exists() else ""
    names = re.findall(r"^model name\s*: (.+)$", known, re.MULTILINE)
    processor = names[0] if names else platform.processor() or platform.machine()
    day = datetime.datetime.now(datetime.UTC).date()
    return f"{processor}, {os.cpu_count()} cores, Python {platform.python_version()}, {day}"


def pair_table(found: Iterable[Pair]) -> Iterable[str]:
    """A row for each pair."""
    yield "| pair | first, s | second, s | ratio | ratio by the clock |"
    yield "|---|--:|--:|--:|--:|"
    for pair in found:
        ours, theirs, ratio = pair.ours.processor, pair.theirs.processor, pair.ratio
        numbers = f"{ours:.3f} | {theirs:.3f} | {ratio.processor:.2f} | {ratio.clock:.2f}"
        yield f"| {pair.what} | {numbers} |"


def growth_table(found: Iterable[Growth], head: str) -> Iterable[str]:
    """A row for each, with the sizes of the first as columns."""
    rows = list(found)
    sizes = list(rows[0].seconds)
    yield f"| {head} | {' | '.join(f'{size:,}' for size in sizes)} | exponent |"
    yield f"|---|{'--:|' * (len(sizes) + 1)}"
    for row in rows:
        seconds = " | ".join(f"{one:.3f}" for one in row.seconds.values())
        yield f"| {row.what} | {seconds} | {row.exponent:.2f} |"


def main(*, quick: bool) -> None:
    """Print the tables, each row as it is known."""
    with tempfile.TemporaryDirectory() as name:
        beside, alone, varied = (Path(name) / part for part in ("pairs", "growth", "settings"))
        for folder in (beside, alone, varied):
            folder.mkdir()
        print(f"{machine()}\n", flush=True)
        for line in pair_table(pairs(beside, quick=quick)):
            print(line, flush=True)
        grown = list(growths(alone, quick=quick))
        for head in ("pages", "entries"):
            print("", *growth_table([g for g in grown if g.of == head], head), sep="\n", flush=True)
        if not quick:  # 256 drafts of the sample book
            print("", *HEAD, *rows(*every_draft(book_with_settings(varied))), sep="\n")


if __name__ == "__main__":
    main(quick="--quick" in sys.argv[1:])
