"""Gatherings, choices, plans and places in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from fitter.trade.fill.choose import Choice
from fitter.trade.fold.gatherings import Folding
from fitter.trade.gate.gate import Finding
from fitter.trade.words import count


def gatherings_in_words(gatherings: Sequence[int]) -> str:
    """`18 gatherings of 16, 1 of 8`; single leaves are called leaves."""
    groups = [(size, len(list(run))) for size, run in groupby(gatherings)]
    if groups and all(size == 2 for size, _ in groups):
        return count(sum(number for _, number in groups), "single leaf", "single leaves")
    first, *others = groups
    told = [f"{count(first[1], 'gathering')} of {first[0]}"]
    return ", ".join(told + [f"{number} of {size}" for size, number in others])


def folding_in_words(folding: Folding) -> str:
    """The gatherings of a book in order; of a stitched one the sheets too, where they differ."""
    differ = len(set(folding.nested)) > 1
    return folded_from(folding) if differ else gatherings_in_words(folding.gatherings)


def folded_from(folding: Folding) -> str:
    """The gatherings of a book in order; of a stitched one always the sheets too."""
    gatherings = gatherings_in_words(folding.gatherings)
    if folding.sheets == folding.gatherings:
        return gatherings
    runs = ((size, len(list(run))) for size, run in groupby(folding.sheets))
    sheets = ", ".join(f"{count(number, 'sheet')} of {size}" for size, number in runs)
    return f"{gatherings}, nested from {sheets}"


def choice_in_words(choice: Choice) -> str:
    """`about-the-author 2, notes 3, 1 blank at the end`, or `nothing to fill`."""
    told = [f"{placed.id} {placed.pages}" for placed in choice.placed]
    if choice.end_blanks:
        told.append(f"{choice.end_blanks} blank at the end")
    return ", ".join(told) or "nothing to fill"


def plan_in_words(text_pages: int, folding: Folding, choice: Choice) -> str:
    """The closing sentence: what was done."""
    filled = folding.extent - text_pages
    end = f"Filled {count(filled, 'page')}: {choice_in_words(choice)}." if filled else ""
    return f"{count(folding.extent, 'page')}, {folding_in_words(folding)}. {end}".rstrip()


def place_in_words(finding: Finding) -> str:
    """`page 12 (folio 10)`, `page 12`, or `the book`."""
    folio = f" (folio {finding.folio})" if finding.folio else ""
    return f"page {finding.page}{folio}" if finding.page else "the book"


def gate_in_words(passed: bool) -> str:
    """`The gate passed`, or that it did not."""
    return "The gate passed" if passed else "The gate did not pass"
