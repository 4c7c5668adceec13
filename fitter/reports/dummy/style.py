"""The style sheet of the dummy: the one that always holds, and the sizes of this book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fitter.package import data_file
from fitter.pdf.thumbnails import Drawn, Thumbnail
from fitter.reports.dummy.arcs import GAP

USUAL_SHAPE = 0.66
MOST_ACROSS = 16


@dataclass(frozen=True, slots=True)
class Sizes:
    """The usual page in pixels, and a class for each other size that is not nearly the same.

    A smaller page is shown smaller; a larger one fills the width of a usual one and says its size.
    """

    usual: tuple[int, int]
    others: dict[tuple[float, float], str]

    def class_of(self, picture: Thumbnail | None) -> str:
        """The style class of a page; empty for the usual size."""
        return self.others.get(_relative(picture, self.usual), "") if picture else ""


def sizes_of(drawn: Sequence[Drawn]) -> Sizes:
    """Which sizes of page there are; the most frequent one is the usual."""
    pictures = [one.picture for one in drawn if one.picture]
    counted = Counter((picture.width, picture.height) for picture in pictures)
    usual = counted.most_common(1)[0][0] if counted else (round(100 * USUAL_SHAPE), 100)
    relative = dict.fromkeys(_relative(picture, usual) for picture in pictures)
    others = [size for size in relative if size != (1.0, 1.0)]
    return Sizes(usual, {size: f"s{number}" for number, size in enumerate(others, 1)})


def row_width(largest: int) -> float:
    """How wide a row is, in widths of a page, gaps included: what sets the width of a page.

    A gathering of 10 to 16, or two of 8, or four of 4. A larger gathering takes several rows: it
    opens with a single recto, so a row of 17 pages ends with a whole spread.
    """
    if largest > MOST_ACROSS:
        return MOST_ACROSS + 1 + MOST_ACROSS / 2 * GAP
    beside = MOST_ACROSS // largest
    between = 2 * GAP if beside > 1 else 0
    return beside * (largest * (1 + GAP / 2) + between)


def style_sheet(sizes: Sizes, gatherings: Iterable[int]) -> str:
    """The whole style sheet."""
    gatherings = sorted({*gatherings})
    across = round(row_width(gatherings[-1]), 2)
    shape = round(sizes.usual[0] / sizes.usual[1], 4)
    lines = [f":root {{ --across: {across}; --shape: {shape}; }}"]
    lines += [f".p{pages} {{ --n: {pages}; }}" for pages in gatherings]
    for (width, height), name in sizes.others.items():
        lines.append(f".page.{name} {{ width: calc(var(--w) * {min(width, 1)}); }}")
        lines.append(f".page.{name} .paper {{ aspect-ratio: {round(shape * width / height, 4)}; }}")
    return data_file("dummy/dummy.css").read_text(encoding="utf-8") + "\n".join(lines) + "\n"


def _relative(picture: Thumbnail, usual: tuple[int, int]) -> tuple[float, float]:
    """Width and height in terms of the usual page, to a twentieth, and no less than one."""
    width, height = picture.width / usual[0], picture.height / usual[1]
    return max(1, round(width * 20)) / 20, max(1, round(height * 20)) / 20
