"""The facts as the JSON that scripts rely on."""

from __future__ import annotations

from typing import Any

from fitter.trade.facts.extents import MEANINGS
from fitter.trade.facts.facts import CAUTION, Facts
from fitter.trade.fold.formes import Sheet
from fitter.trade.paper import Figure


def facts_json(facts: Facts, sheets: list[list[Sheet]] | None = None) -> dict[str, Any]:
    """Extent, gatherings, spine, weight and ONIX extents; a figure that is not known is null."""
    report: dict[str, Any] = {
        "extent": facts.extent,
        "text_pages": facts.text_pages,
        "leaves": facts.leaves,
        "gatherings": list(facts.folding.gatherings),
        "collation": facts.collation,
        "spine_mm": _number(facts.spine_mm),
        "block_mm": _number(facts.block_mm),
        "weight_g": _number(facts.weight_g),
        "onix": facts.onix,
        "formulas": formulas(facts),
        "missing": list(facts.missing),
        "caution": CAUTION,
    }
    if facts.spine_range_mm:
        report["spine_mm_range"] = [round(float(end), 2) for end in facts.spine_range_mm]
    if facts.creep_mm:
        report["creep_mm"] = [round(float(creep), 3) for creep in facts.creep_mm]
    if sheets is not None:
        report["formes"] = [
            [{"outer": list(sheet.outer), "inner": list(sheet.inner)} for sheet in gathering]
            for gathering in sheets
        ]
    return report


def formulas(facts: Facts) -> dict[str, str]:
    """By which formula and from which settings each number comes."""
    figures = {
        "spine_mm": facts.spine_mm,
        "block_mm": facts.block_mm,
        "weight_g": facts.weight_g,
    }
    said = {name: figure.formula for name, figure in figures.items() if figure}
    told = {
        "extent": "sum of the gatherings",
        "text_pages": "pages of the draft, or --pages",
        "leaves": "extent / 2",
        "collation": "leaves of each gathering by its letter, 23 letters",
    }
    return told | said | {f"onix {code}": MEANINGS[code] for code in facts.onix}


def _number(figure: Figure | None) -> float | None:
    return round(float(figure.value), 2) if figure else None
