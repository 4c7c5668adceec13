"""Arcs over a gathering: each joins the two leaves that are one piece of paper."""

from __future__ import annotations

from dataclasses import dataclass

HEIGHT = 24
GAP = 0.15  # between two spreads, in widths of a page
MOST_PAGES = 16  # more do not stand in one row


@dataclass(frozen=True, slots=True)
class Arcs:
    """Paths in a drawing `width` page widths wide and HEIGHT units high."""

    width: float
    paths: tuple[str, ...]


def arcs_over(pages: int) -> Arcs | None:
    """The arcs of a gathering in one row, leaf k joined with leaf n + 1 - k; None for more rows.

    A leaf is where a spread is turned over to the next. Source: Roberts & Etherington, s.v.
    conjugate leaves (its leaves, not its page count).
    """
    if pages > MOST_PAGES or pages % 4:
        return None
    leaves = pages // 2
    turns = [round(1 + GAP / 2 + leaf * (2 + GAP), 3) for leaf in range(leaves)]
    pairs = list(zip(turns[: leaves // 2], reversed(turns), strict=False))
    paths = (_arc(left, right, n, len(pairs)) for n, (left, right) in enumerate(pairs))
    return Arcs(pages + leaves * GAP, tuple(paths))


def _arc(left: float, right: float, number: int, pairs: int) -> str:
    """The outermost arc is the highest; a cubic curve reaches three quarters of its handles."""
    top = round(HEIGHT - (HEIGHT - 2) * (pairs - number) / pairs / 0.75, 2)
    return f"M{left} {HEIGHT}C{left} {top} {right} {top} {right} {HEIGHT}"
