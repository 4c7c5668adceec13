"""Paper: how thick a block of pages is and what it weighs, each figure with its formula."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from fitter.errors import BadInput
from fitter.trade.size import MM_PER_INCH
from fitter.trade.words import count

INCH_MM = Fraction(str(MM_PER_INCH))
TOLERANCE = Fraction("0.05")


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: grammage in g/m2, and its thickness said in one of three ways.

    `volume` is the bulk in cm3/g (a volume factor of 18 is 1.8), `caliper_mm` the thickness of a
    leaf, `ppi` pages per inch. `price` is for a kilogram.
    """

    id: str
    grammage: Fraction | None = None
    volume: Fraction | None = None
    caliper_mm: Fraction | None = None
    ppi: Fraction | None = None
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, and the formula and settings it comes from."""

    value: Fraction
    formula: str


def leaf_mm(paper: Paper) -> Figure:
    """The thickness of one leaf in mm. Raises BadInput where the paper does not say it.

    Sources: bulk is thickness by grammage (IGT, laboratory testing page for ISO 534); a leaf
    counts two pages of the pages per inch (PrintWiki, "Bulking Number"). Thickness depends on how
    it was measured: ISO 534 has two methods that differ, and book bulk is taken from a stack at
    250 kPa (ASTM D 2175; TAPPI T 411 om-15 summary).
    """
    if paper.caliper_mm is not None:
        return Figure(
            paper.caliper_mm,
            f"caliper {plain(paper.caliper_mm)} mm, of a stack (single sheets measure more)",
        )
    if paper.ppi is not None:
        return Figure(2 * INCH_MM / paper.ppi, f"2 x 25.4 mm / {plain(paper.ppi)} ppi")
    if paper.volume is not None and paper.grammage is not None:
        return Figure(
            paper.grammage * paper.volume / 1000,
            f"{plain(paper.grammage)} g/m2 x {plain(paper.volume)} cm3/g / 1000",
        )
    raise BadInput(
        f"paper '{paper.id}' does not say how thick it is: give it 'volume' (with 'grammage'), "
        "'caliper' or 'ppi'. Without one no width is worked out."
    )


def block_mm(paper: Paper, pages: int) -> Figure:
    """The bulk of the block in mm: the gathered leaves before sewing, no cover.

    Source: Roberts & Etherington, s.v. bulk. A block under pressure is thinner than single leaves
    would make it (PrintWiki, "Bulking Number").
    """
    leaf = leaf_mm(paper)
    return Figure(leaf.value * leaves(pages), f"{_leaves(pages)} x ({leaf.formula})")


def weight_g(paper: Paper, pages: int, area_m2: Fraction) -> Figure:
    """The weight of the trimmed block in g, no cover. Raises BadInput without a grammage.

    Source: grammage is mass by area (IGT, for ISO 536).
    """
    if paper.grammage is None:
        raise BadInput(
            f"paper '{paper.id}' does not say what it weighs: give it 'grammage', such as 80 g/m2."
        )
    return Figure(
        leaves(pages) * area_m2 * paper.grammage,
        f"{_leaves(pages)} x {plain(area_m2)} m2 x {plain(paper.grammage)} g/m2",
    )


def tolerance(figure: Figure) -> tuple[Fraction, Fraction]:
    """Between what the figure may lie, as the caliper of a paper may differ by 5 %.

    Source: Wausau Paper, "Shoptalk: Paper".
    """
    return figure.value * (1 - TOLERANCE), figure.value * (1 + TOLERANCE)


def leaves(pages: int) -> int:
    """Leaves that carry so many pages, two on each."""
    return (pages + 1) // 2


def _leaves(pages: int) -> str:
    return count(leaves(pages), "leaf", "leaves")


def plain(number: Fraction) -> str:
    """A number as people write it: `1.8`, `80`, `0.1443`."""
    return f"{float(number):.6g}"
