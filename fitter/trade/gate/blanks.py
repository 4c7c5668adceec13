"""The verdict on every page, from what the eye meets on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from fitter.trade.gate.furniture import MARGIN, Furniture, is_rule, learn
from fitter.trade.gate.marks import Marks
from fitter.trade.gate.page import OUTER, Box, Line, Page, in_outer
from fitter.trade.gate.verdicts import PageVerdict, Verdict, places

LEARN_FROM = (-2, -4, 2, -1, 1, 4, -3, 3, -6, 6)  # pages away; rectos and versos may differ
LEARN_ENOUGH = 3
_DUAL_FOLIO = re.compile(
    r"(\S*?)(\d+|[a-z])\s*/\s*\(\s*(\S*?)(\d+|[a-z])\s+blank\s*\)", re.IGNORECASE
)


def verdicts(
    pages: Sequence[Page], closer: Mapping[int, Page], marks: Marks
) -> tuple[PageVerdict, ...]:
    """Judge every page of a book; `closer` holds those of `look_closer_at`, with their words."""
    furniture = learn([*closer.values(), *(page for page in pages if not _is_doubtful(page))])
    found = [_verdict(page, furniture, marks) for page in pages]
    for at in range(1, len(found)):
        before = closer.get(at, pages[at - 1])
        if found[at] == "blank" and names_next_as_blank(before):
            found[at] = "marked"
    where = places(found)
    return tuple(
        PageVerdict(page.page, page.folio, verdict, place)
        for page, verdict, place in zip(pages, found, where, strict=True)
    )


def look_closer_at(pages: Sequence[Page]) -> dict[int, bool]:
    """The full pages whose furniture is needed to judge others: neighbours of doubtful pages.

    True where their ink is needed too and not their words alone.
    """
    wanted: dict[int, bool] = {}
    full = {page.page for page in pages if page.full}
    for page in pages:
        if _is_doubtful(page):
            inked = any(not is_rule(box) for box in page.ink)
            steps = LEARN_FROM if page.lines or page.ink else (-1,)
            near = [page.page + step for step in steps if page.page + step in full]
            for number in near[:LEARN_ENOUGH]:
                wanted[number] = wanted.get(number, False) or inked
    return wanted


def names_next_as_blank(page: Page) -> bool:
    """Whether the folio also counts the page behind it as a blank one: 12/(13 blank), B/(C blank).

    MIL-STD-38784A, 4.5.3; the numeric form from memory.
    """
    return any(
        _follows(*dual.groups())
        for line in page.lines
        if (dual := _DUAL_FOLIO.search(line.text)) and in_outer(line.box, page, OUTER)
    )


def _follows(part: str, folio: str, next_part: str, next_folio: str) -> bool:
    if part != next_part:
        return False
    if folio.isdigit() and next_folio.isdigit():
        return int(next_folio) == int(folio) + 1
    return len(folio) == len(next_folio) == 1 and ord(next_folio) == ord(folio) + 1


def _is_doubtful(page: Page) -> bool:
    """Whether the rest of the book could make it furniture, or a blank that is marked elsewhere."""
    return not page.full and all(in_outer(box, page, OUTER) for box in _boxes(page))


def _boxes(page: Page) -> Iterable[Box]:
    yield from (line.box for line in page.lines)
    yield from page.ink


def _verdict(page: Page, furniture: Furniture, marks: Marks) -> Verdict:
    if page.full:
        return "printed"
    if not page.lines and not page.ink:
        return "blank"
    lines, ink = furniture.without(page)
    if any(marks.recognises(_text(part)) for part in (page.lines, lines, _inner(lines, page))):
        return "marked"
    return "printed" if lines or ink else "furniture-only"


def _text(lines: Iterable[Line]) -> str:
    return " ".join(line.text for line in lines)


def _inner(lines: Iterable[Line], page: Page) -> list[Line]:
    return [line for line in lines if not in_outer(line.box, page, MARGIN)]
