"""What the dummy says about a page, in the words that stand below it and in its description."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from fitter.reports.words import choice_in_words, folded_from, place_in_words
from fitter.trade.fold.dummy import DummyPage, Gathering
from fitter.trade.fold.formes import Sheet
from fitter.trade.gate.gate import Finding
from fitter.trade.plan import Option
from fitter.trade.words import count, ranges

WORDS = {
    "marked": "marked blank",
    "furniture-only": "furniture only",
    "blank": "blank",
    "damaged": "damaged",
    "nothing": "left over",
}
MEANINGS = {
    "filler": "placed to fill the gathering",
    "marked": "empty, and words on it say so",
    "furniture-only": "running head or folio on an otherwise empty page",
    "blank": "nothing printed",
    "damaged": "the PDF cannot be drawn here",
    "nothing": "beyond the last page of the PDF",
}


@dataclass(frozen=True, slots=True)
class Sample:
    """A sign and what it means."""

    sign: str
    word: str
    meaning: str


SIGNS = tuple(Sample(sign, WORDS.get(sign, sign), meaning) for sign, meaning in MEANINGS.items())


def signs_of(page: DummyPage) -> tuple[str, ...]:
    """The signs drawn over a page: what it is for, and what is wrong or missing on it."""
    filler = ("filler-recto" if page.side == "recto" else "filler",) if page.filler else ()
    return filler + ((page.shows,) if page.shows != "printed" else ())


def word_of(page: DummyPage) -> str:
    """The word below a page; none for a printed page of the text."""
    told = ["filler"] if page.filler else []
    if page.shows != "printed":
        told.append(WORDS[page.shows])
    return ", ".join(told)


def label_of(page: DummyPage) -> str:
    """The whole page in a sentence or two, for those who do not see it."""
    folio = f", folio {page.folio}" if page.folio else ", no folio"
    kind = f"filler {page.filler}" if page.filler else page.kind
    shows = "" if page.shows == "nothing" else f", {WORDS.get(page.shows, page.shows)}"
    found = " ".join(
        f"{finding.severity.capitalize()}: {finding.message}." for finding in page.findings
    )
    return f"Page {page.page}, {page.side}{folio}: {kind}{shows}. {found}".strip()


def on_the_sheet(page: int, gathering: Gathering) -> str:
    """On which forme a page is printed, and which page lies beside it, joined at the back."""
    for number, sheet in enumerate(gathering.sheets, 1):
        side = side_of(page, sheet)
        if side:
            which = f" of sheet {number}" if len(gathering.sheets) > 1 else ""
            beside = min(sheet.outer) + max(sheet.outer) - page
            return (
                f"Gathering {gathering.number}, {side} forme{which}, beside page {beside} "
                "on the sheet."
            )
    return ""


def side_of(page: int, sheet: Sheet) -> str:
    """`outer`, `inner`, or nothing for a page of another sheet."""
    return "outer" if page in sheet.outer else "inner" if page in sheet.inner else ""


def holds(gathering: Gathering) -> str:
    """What else than text a gathering holds: `about-the-author 297, notes 300–303`."""
    spans: dict[str, list[int]] = {}
    for page in gathering.pages:
        name = page.filler or ("" if page.kind == "text" else page.kind)
        if name:
            spans.setdefault(name, []).append(page.page)
    return ", ".join(f"{name} {ranges(found)}" for name, found in spans.items())


def range_of(gathering: Gathering) -> str:
    """`pages 33–48`; rows of single leaves have their leaves told too."""
    pages = [page.page for page in gathering.pages]
    leaves = "" if gathering.sheets else f"leaves {pages[0] // 2 + 1}–{pages[-1] // 2}, "
    return f"{leaves}pages {ranges(pages)}"


def source_of(finding: Finding) -> str:
    """The file and the line that made the page, where they are known."""
    return f"{finding.file}:{finding.line}" if finding.file else ""


def filled_with(option: Option) -> str:
    """What an alternative would be filled with."""
    return choice_in_words(option.choice) if option.choice else "cannot be filled"


FILTERS: dict[str, Callable[..., Any]] = {
    "signs": signs_of,
    "word": word_of,
    "label": label_of,
    "place": place_in_words,
    "source": source_of,
    "on_the_sheet": on_the_sheet,
    "holds": holds,
    "range": range_of,
    "filled": filled_with,
    "folded": folded_from,
    "count": count,
}
