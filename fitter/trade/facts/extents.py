"""The page counts that book metadata asks for, by the codes of ONIX List 23."""

from __future__ import annotations

from dataclasses import dataclass

MEANINGS = {
    "00": "main content: text pages - 03 - 04",
    "03": "front matter: pages with roman folios before the rest, or --front",
    "04": "back matter: --back; 0 until it is given, for no page tells",
    "05": "numbered pages: 00 + 03 + 04",
    "06": "production page count: extent + 12, blank pages at the back included",
    "07": "absolute page count, digital with fixed pages only",
    "11": "content page count: 05 + 12",
    "12": "unnumbered insert pages: --inserts",
}


@dataclass(frozen=True, slots=True)
class Parts:
    """Where the pages with content lie. Fillers and blanks at the end belong to none of them.

    `front` is None where nobody knows how many are front matter; `main` counts them too then.
    """

    main: int
    front: int | None = 0
    back: int = 0
    inserts: int = 0


Extents = dict[str, int | None]


def onix_extents(parts: Parts, extent: int, fixed_pages: int | None = None) -> Extents:
    """The counts by code, None where one is not known.

    `fixed_pages` counts a digital edition, cover first; None for print.

    Source: EDItEUR ONIX code list 23.
    """
    numbered = parts.main + (parts.front or 0) + parts.back
    found: Extents = {
        "00": None if parts.front is None else parts.main,
        "03": parts.front,
        "04": parts.back,
        "05": numbered,
        "06": extent + parts.inserts,
    }
    if fixed_pages is not None:
        found["07"] = fixed_pages
    return found | {"11": numbered + parts.inserts, "12": parts.inserts}
