"""The facts that others need of a book: the cover designer, the printer, the metadata."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from fitter.errors import BadInput
from fitter.trade.caution import LAST_WORD
from fitter.trade.facts.extents import Extents, Parts, onix_extents
from fitter.trade.fold.collation import collation
from fitter.trade.fold.creep import creep_mm
from fitter.trade.fold.gatherings import Folding
from fitter.trade.paper import (
    Figure,
    Paper,
    block_mm,
    leaf_mm,
    leaves,
    plain,
    tolerance,
    weight_g,
)

CAUTION = f"Worked out from the settings named here; {LAST_WORD}."
NO_SPINE = "a stitched book has no spine to print on"


@dataclass(frozen=True, slots=True)
class Block:
    """What the book is made of: its paper, the trimmed page in m2, how it is bound.

    `allowance_mm` is what cover and glue add to the spine. None is not known.
    """

    style: str = "sewn"
    paper: Paper | None = None
    area_m2: Fraction | None = None
    allowance_mm: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Facts:
    """All of them; a figure is None where a setting for it is missing, and `missing` says which."""

    text_pages: int
    folding: Folding
    style: str
    spine_mm: Figure | None
    block_mm: Figure | None
    weight_g: Figure | None
    creep_mm: tuple[Fraction, ...]
    onix: Extents
    missing: tuple[str, ...]

    @property
    def extent(self) -> int:
        """All pages."""
        return self.folding.extent

    @property
    def leaves(self) -> int:
        """Leaves of the whole extent."""
        return leaves(self.extent)

    @property
    def spine_range_mm(self) -> tuple[Fraction, Fraction] | None:
        """Between what the spine may lie: the block as paper may differ, and what cover and glue
        add as it is.
        """
        if self.spine_mm is None or self.block_mm is None:
            return None
        added = self.spine_mm.value - self.block_mm.value
        least, most = tolerance(self.block_mm)
        return least + added, most + added

    @property
    def collation(self) -> str:
        """The collation formula."""
        return collation(self.folding.gatherings)


def facts(
    folding: Folding, text_pages: int, parts: Parts, block: Block, fixed_pages: int | None = None
) -> Facts:
    """Work out what the settings allow; nothing is invented where one is missing.

    `fixed_pages` counts a digital edition with fixed pages, cover first.
    """
    missing: list[str] = []
    thick = weight = None
    creep: tuple[Fraction, ...] = ()
    if parts.front is None:
        missing.append(
            "no folio tells the front matter, so ONIX 00 and 03 are left out: give --front."
        )
    if block.paper is None:
        missing.append("no paper is known, so no width and no weight: name a printer and a paper.")
    else:
        try:
            thick = block_mm(block.paper, folding.extent)
            if block.style == "saddle":
                creep = creep_mm(folding.extent, leaf_mm(block.paper).value)
        except BadInput as fault:
            missing += fault.sentences
        weight = _weight(block, folding.extent, missing)
    return Facts(
        text_pages=text_pages,
        folding=folding,
        style=block.style,
        spine_mm=_spine(block, thick, missing),
        block_mm=thick,
        weight_g=weight,
        creep_mm=creep,
        onix=onix_extents(parts, folding.extent, fixed_pages),
        missing=tuple(missing),
    )


def _weight(block: Block, extent: int, missing: list[str]) -> Figure | None:
    if block.area_m2 is None or block.paper is None:
        missing.append("the size of the page is not known, so no weight: give 'trim'.")
        return None
    try:
        return weight_g(block.paper, extent, block.area_m2)
    except BadInput as fault:
        missing += fault.sentences
        return None


def _spine(block: Block, thick: Figure | None, missing: list[str]) -> Figure | None:
    if block.style == "saddle":
        missing.append(f"{NO_SPINE}.")
        return None
    if thick is None:
        return None
    if not block.allowance_mm:
        return Figure(thick.value, f"the block: {thick.formula}")
    return Figure(
        thick.value + block.allowance_mm,
        f"the block: {thick.formula}, and {plain(block.allowance_mm)} mm spine_allowance",
    )
