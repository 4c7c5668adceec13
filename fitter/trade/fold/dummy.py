"""The folding dummy: every page of a book in its gathering, as it lies in the open book."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from fitter.trade.fold.formes import Sheet, formes
from fitter.trade.fold.gatherings import Folding
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.verdicts import PageVerdict, Verdict

Kind = Literal["text", "filler", "end blank", "left over"]
Shows = Verdict | Literal["damaged", "nothing"]

LEAVES_A_ROW = 8
_OF_THE_LOOK = ("blank-unmarked", "furniture-only")  # on a damaged page they say nothing


@dataclass(frozen=True, slots=True)
class DummyPage:
    """One page: its sheet position from 1, what is on it and what it is for.

    A page `left over` lies beyond the last page of the PDF and shows `nothing`.
    """

    page: int
    folio: str | None
    shows: Shows
    kind: Kind
    filler: str | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def side(self) -> str:
        """Recto or verso."""
        return "recto" if self.page % 2 else "verso"


@dataclass(frozen=True, slots=True)
class Gathering:
    """The pages folded together, in reading order, and the sheets they are folded from.

    For single leaves it is a row of leaves and has no sheets.
    """

    number: int
    pages: tuple[DummyPage, ...]
    sheets: tuple[Sheet, ...]

    @property
    def spreads(self) -> tuple[tuple[DummyPage, ...], ...]:
        """What lies open together: the first recto, verso and recto, ... the last verso."""
        inner = (self.pages[at : at + 2] for at in range(1, len(self.pages) - 1, 2))
        return (self.pages[:1], *inner, self.pages[-1:])

    @property
    def centre(self) -> tuple[int, int]:
        """The two pages at the sewing: the only spread that is one piece of paper.

        Source for a folded 16: R. Hollick, Making Book weblog, Nov 2010.
        """
        half = self.pages[len(self.pages) // 2].page
        return half - 1, half

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found on its pages."""
        return tuple(finding for page in self.pages for finding in page.findings)


@dataclass(frozen=True, slots=True)
class Contents:
    """What a book's record and plan know about its pages; empty for any other PDF."""

    folios: Mapping[int, str] = field(default_factory=dict)
    fillers: Mapping[int, str] = field(default_factory=dict)
    end_blanks: int = 0


def make_dummy(
    verdicts: Sequence[PageVerdict],
    findings: Sequence[Finding],
    folding: Folding,
    contents: Contents = Contents(),
    damaged: Mapping[int, str] | None = None,
) -> tuple[Gathering, ...]:
    """Lay the pages out in their gatherings; `damaged` has the fault of pages by position.

    Pages of the folding beyond the last of the PDF are left over.
    """
    found = _by_page(findings, damaged or {})
    pages = [_page(verdict, len(verdicts), contents, found, damaged or {}) for verdict in verdicts]
    pages += [
        DummyPage(page, None, "nothing", "left over")
        for page in range(len(pages) + 1, folding.extent + 1)
    ]
    return tuple(_gatherings(pages, folding))


def neighbours(sheet: Sheet) -> tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]:
    """Pairs of pages side by side on the outer and the inner forme, joined at the back.

    Verso left, recto right; each pair adds up to one more than the pages of the sheet. Source: W.
    Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing.
    """
    return _pairs(sheet, sheet.outer), _pairs(sheet, sheet.inner)


def _pairs(sheet: Sheet, forme: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    total = min(sheet.outer) + max(sheet.outer)
    return tuple((page, total - page) for page in sorted(forme) if page % 2 == 0)


def _by_page(
    findings: Sequence[Finding], damaged: Mapping[int, str]
) -> Mapping[int, list[Finding]]:
    found: dict[int, list[Finding]] = defaultdict(list)
    for finding in (*findings, *map(_damage, damaged.items())):
        if finding.page:
            found[finding.page].append(finding)
    return found


def _damage(fault: tuple[int, str]) -> Finding:
    page, why = fault
    return Finding("page-damaged", "error", page, None, f"the page is damaged in the PDF ({why})")


def _page(
    verdict: PageVerdict,
    extent: int,
    contents: Contents,
    found: Mapping[int, list[Finding]],
    damaged: Mapping[int, str],
) -> DummyPage:
    page = verdict.page
    folio = verdict.folio or contents.folios.get(page)
    filler = contents.fillers.get(page)
    kind: Kind = "filler" if filler else "text"
    if page > extent - contents.end_blanks:
        kind = "end blank"
    shows: Shows = "damaged" if page in damaged else verdict.verdict
    findings = tuple(
        replace(finding, folio=folio)
        for finding in found.get(page, ())
        if page not in damaged or finding.rule not in _OF_THE_LOOK
    )
    return DummyPage(page, folio, shows, kind, filler, findings)


def _gatherings(pages: Sequence[DummyPage], folding: Folding) -> Iterator[Gathering]:
    sizes = folding.gatherings
    if set(sizes) == {2}:
        yield from _rows_of_leaves(pages)
        return
    lying = formes(sizes, folding.nested)
    first = 0
    for number, (size, sheets) in enumerate(zip(sizes, lying, strict=True), 1):
        yield Gathering(number, tuple(pages[first : first + size]), tuple(sheets))
        first += size


def _rows_of_leaves(pages: Sequence[DummyPage]) -> Iterator[Gathering]:
    step = 2 * LEAVES_A_ROW
    for number, first in enumerate(range(0, len(pages), step), 1):
        yield Gathering(number, tuple(pages[first : first + step]), ())
