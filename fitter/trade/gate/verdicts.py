"""What a reader of the printed and trimmed sheet sees on each page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Verdict = Literal["printed", "marked", "furniture-only", "blank"]
Place = Literal["front", "body", "end"]


@dataclass(frozen=True, slots=True)
class PageVerdict:
    """One page: its sheet position from 1, its folio where it has one, what it shows and where.

    `front` lies before the first printed page, `end` after the last one, `body` between them.
    """

    page: int
    folio: str | None
    verdict: Verdict
    place: Place


def places(verdicts: list[Verdict]) -> list[Place]:
    """Tell front, body and end apart; a book without a printed page is all body.

    >>> places(["blank", "printed", "blank", "printed", "marked"])
    ['front', 'body', 'body', 'body', 'end']
    """
    printed = [at for at, verdict in enumerate(verdicts) if verdict == "printed"]
    if not printed:
        return ["body"] * len(verdicts)
    first, last = printed[0], printed[-1]
    return [
        "front" if at < first else "end" if at > last else "body" for at in range(len(verdicts))
    ]
