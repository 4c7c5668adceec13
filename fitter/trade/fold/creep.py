"""Creep: how far the inner sheets of a nested gathering stand out at the fore-edge."""

from __future__ import annotations

from fractions import Fraction

MODEL = (
    "A model only: sheets around it times the thickness of one. There is no agreed formula: "
    "fold, trim and measure a dummy"
)


def creep_mm(pages: int, leaf_mm: Fraction) -> tuple[Fraction, ...]:
    """For each folded leaf pair of a nested gathering, outermost first, how far it stands out.

    The pair with k pairs around it stands out k times the thickness. Own arithmetic: no published
    worked example was found.
    """
    return tuple(number * leaf_mm for number in range(pages // 4))
