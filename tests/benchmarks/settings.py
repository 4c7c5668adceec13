"""The search for settings against building every combination: python -m tests.benchmarks.settings

The sample book gets four settings of four values; all 256 drafts are built once, and then the
search is asked for every number of pages to be saved that any of them reaches, from that table.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from fitter.book.loader import load_book
from fitter.engines.engine import engine_of
from fitter.inserts.chosen import Chosen
from fitter.steps.trials import Wish, bench
from fitter.trade.tighten.forecast import Extent, extent_of
from fitter.trade.tighten.search import Search
from fitter.trade.tighten.settings import Combination, Setting, combinations, cost, named
from tests.benchmarks.job import fresh_book

SETTINGS = """
settings:
  leading:      {values: [1.1, 1.09, 1.08, 1.07], default: 1.1, dislike: 3}
  text-height:  {values: [0, 1, 2, 3], unit: lines, dislike: 2}
  text-width:   {values: [0, 0.5, 1, 1.5], unit: mm, dislike: 1}
  heading-drop: {values: [14, 12, 10, 8], unit: mm, default: 14, dislike: 1}
"""
USE = r"""
\linespread{\bookset{leading}}
\addtolength\textheight{\bookset{text-height}\baselineskip}
\addtolength\textwidth{\bookset{text-width}mm}
"""
DISLIKES = ((3, 2, 1, 1), (1, 1, 1, 1), (1, 2, 4, 8), (8, 4, 2, 1))
HEAD = (
    "| dislikes | pages | dislike of the best | drafts | same as all 256 |",
    "|---|--:|--:|--:|---|",
)
Table = Mapping[Combination, Extent]


def book_with_settings(folder: Path) -> Path:
    """A copy of the sample book whose source uses four settings."""
    book = fresh_book(folder)
    yaml, tex, design = book / "book.yaml", book / "book.tex", book / "design.sty"
    yaml.write_text(yaml.read_text() + SETTINGS)
    tex.write_text(
        tex.read_text().replace("\\usepackage{fitter}\n", f"\\usepackage{{fitter}}{USE}")
    )
    drop = design.read_text().replace("\\vspace*{14mm}", "\\vspace*{\\bookset{heading-drop}mm}")
    design.write_text(drop)
    return book


def every_draft(place: Path) -> tuple[tuple[Setting, ...], Table]:
    """Build all combinations."""
    book = load_book(place)
    settings = tuple(book.settings.allowed)
    every = combinations(settings)
    with bench(book, engine_of(book), lambda _: None) as drafts:
        drafts.first(Wish())
        wishes = [Wish(Chosen(named(settings, each))) for each in every]
        tried = drafts.try_all(wishes)
    return settings, {
        each: extent_of(one.text, False)
        for each, one in zip(every, tried, strict=True)
        if not one.failed
    }


def searched(settings: tuple[Setting, ...], table: Table, most: int) -> Search:
    """Search until it is over, each draft taken from the table."""
    known: dict[Combination, Extent | None] = {}
    while wanted := Search(settings, known, lambda pages: pages <= most).next_drafts(2):
        for each in wanted:
            one = table[each]
            known[each] = replace(one, reached=one.pages <= most)
    return Search(settings, known, lambda pages: pages <= most)


def rows(settings: tuple[Setting, ...], table: Table) -> Iterator[str]:
    """One for each set of dislikes and number of pages that any combination reaches."""
    for dislikes in DISLIKES:
        disliked = tuple(
            Setting(each.name, each.values, each.default, dislike, each.unit)
            for each, dislike in zip(settings, dislikes, strict=True)
        )
        for most in sorted({each.pages for each in table.values()}, reverse=True):
            found = searched(disliked, table, most)
            best = next(each for each in combinations(disliked) if table[each].pages <= most)
            same = "yes" if found.best == best else f"NO: {found.best}"
            yield (
                f"| {dislikes} | {most} | {cost(disliked, best):g} | {len(found.known)} | {same} |"
            )


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as name:
        settings, table = every_draft(book_with_settings(Path(name)))
    print(f"{len(table)} drafts built", file=sys.stderr)
    print("\n".join([*HEAD, *rows(settings, table)]))


if __name__ == "__main__":
    main()
