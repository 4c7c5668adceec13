"""Printing or edition? The verdict on a comparison, with its evidence, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fitter.trade.printing.comparison import Comparison, PageChange
from fitter.trade.printing.limits import EditionLimits
from fitter.trade.words import count, ranges

Verdict = Literal["new printing", "corrected printing", "new edition"]
CAUTION = "This is advice from the text of the pages; the publisher decides."


@dataclass(frozen=True, slots=True)
class Advice:
    """The verdict, the evidence for it as sentences, the limits used, and what follows."""

    verdict: Verdict
    evidence: tuple[str, ...]
    limits: EditionLimits
    follows: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    caution: str = CAUTION


KEY_CONTINUES = "The key continues: strike the lowest number."
KEY_ANEW = "The key is newly set, for the kept line cannot be struck for this printing."
FOLLOWS: dict[Verdict, tuple[str, ...]] = {
    "new printing": (
        "Keep the ISBN: an unchanged reprint keeps it, whatever its price.",
        "Keep the edition statement.",
        KEY_CONTINUES,
    ),
    "corrected printing": (
        "Keep the ISBN: mending misprints asks for no new one.",
        "Keep the edition statement; the record may note what was corrected.",
        KEY_CONTINUES,
    ),
    "new edition": (
        "Take a new ISBN, and print it on the imprint page.",
        "Set a new edition statement, such as 'Second edition' or 'Revised edition'.",
        "Begin a new key at 1, and a new record of printings.",
    ),
}
"""What follows. Sources: ISBN Users' Manual 5.1 (older text on isbn.org) and the International
ISBN Agency's FAQ (older) for keeping and changing the ISBN and for the statement; C. Peake's list
of UK agency rules for misprints (weak); for the key, J. Carter, ABC for Book Collectors (1952), as
given by J. Flavell, July 2014: an edition is all printings from one setting-up of type."""


def advise(
    comparison: Comparison,
    limits: EditionLimits | None = None,
    same_isbn: str = "",
    *,
    new_key: bool = False,
) -> Advice:
    """Judge whether the new pages are a printing, a corrected printing or a new edition.

    `same_isbn` is the ISBN that both carry, empty if they differ or have none. `new_key` tells that
    the key of this printing cannot be struck from the last one's.
    """
    limits = limits or EditionLimits()
    substantial = tuple(_substantial(comparison, limits))
    small = tuple(_small(comparison, limits))
    if substantial:
        verdict: Verdict = "new edition"
    elif small:
        verdict = "corrected printing"
    else:
        verdict = "new printing"
    said = (*substantial, *small) or ("All text pages are the same.",)
    warnings: tuple[str, ...] = ()
    if verdict == "new edition" and same_isbn:
        warnings = (f"Both carry the ISBN {same_isbn}; a new edition takes its own.",)
    follows = tuple(
        KEY_ANEW if new_key and sentence == KEY_CONTINUES else sentence
        for sentence in FOLLOWS[verdict]
    )
    return Advice(verdict, (*said, *_aside(comparison)), limits, follows, warnings)


def _substantial(found: Comparison, limits: EditionLimits) -> Iterator[str]:
    """What makes a new edition: another format, or a substantial change of the text.

    A re-imposed format is a new edition (Roberts & Etherington, s.v. impression).
    """
    if _trims_differ(found, limits):
        yield f"The trim was {found.old_trim} and is {found.new_trim}."
    new = found.of_kind("new")
    if len(new) > limits.new_pages or len(found.gone) > limits.new_pages:
        yield (
            f"{count(len(new), 'page')} of new text{_listed(new)}, "
            f"{count(len(found.gone), 'old page')} gone; "
            f"up to {limits.new_pages} count as correction."
        )
    share = 100 * _changed_words(found) / max(found.words, 1)
    if share > limits.changed_words:
        yield (
            f"{share:.1f} % of the words changed; "
            f"up to {limits.changed_words:g} % count as correction."
        )


def _small(found: Comparison, limits: EditionLimits) -> Iterator[str]:
    changed = found.of_kind("corrected")
    numbers = [page for page in changed if page.changed_numbers and not page.changed_words]
    corrected = [page for page in changed if page not in numbers]
    reset = found.of_kind("reset")
    if corrected:
        yield f"{count(len(corrected), 'corrected page')}{_listed(corrected)}."
    much = [page for page in corrected if page.changed_words > limits.corrected_words]
    if much:
        yield (
            f"More than {count(limits.corrected_words, 'word')} changed on "
            f"{count(len(much), 'page')}{_listed(much)}: look at them."
        )
    if numbers:
        yield (
            f"Only numbers changed on {count(len(numbers), 'page')}{_listed(numbers)}, as in "
            "contents and references when pages move."
        )
    if reset:
        yield f"Text moved between pages on {count(len(reset), 'page')}{_listed(reset)}."
    new = found.of_kind("new")
    if 0 < len(new) <= limits.new_pages:
        yield f"{count(len(new), 'page')} of new text{_listed(new)}."
    if 0 < len(found.gone) <= limits.new_pages:
        yield f"{count(len(found.gone), 'old page')} gone."


def _aside(found: Comparison) -> Iterator[str]:
    """What is worth knowing and decides nothing."""
    for moved in found.movements:
        where = f"settled at page {moved.settled}" if moved.settled else "did not settle again"
        way = "on" if moved.words > 0 else "back"
        yield (
            f"From page {moved.first} to {moved.last} the text moved {way} by up to "
            f"{count(abs(moved.words), 'word')} (about {count(moved.lines, 'line')}) "
            f"and {where}."
        )
    if found.old_extent != found.new_extent:
        yield f"The extent was {count(found.old_extent, 'page')} and is {found.new_extent}."
    for page in found.pages:
        if page.role == "imprint" and page.kind != "same":
            yield f"The imprint page (page {page.page}) changed, as every printing changes it."
    fillers = [page for page in found.pages if page.role == "filler" and page.kind != "same"]
    if fillers:
        yield f"{count(len(fillers), 'filler page')}{_listed(fillers)} changed, which is no text."


def _changed_words(found: Comparison) -> int:
    changed = (*found.of_kind("corrected"), *found.of_kind("reset"), *found.of_kind("new"))
    return sum(page.changed_words for page in changed)


def _trims_differ(found: Comparison, limits: EditionLimits) -> bool:
    old, new = found.old_trim, found.new_trim
    width, height = abs(old.width_mm - new.width_mm), abs(old.height_mm - new.height_mm)
    return max(width, height) > limits.trim_mm


def _listed(pages: Sequence[PageChange]) -> str:
    return f" ({ranges([page.page for page in pages])})" if pages else ""
