"""Money and paper as the JSON that scripts rely on; money to a hundredth, paper to a gram."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fitter.trade.caution import LAST_WORD
from fitter.trade.fold.collation import collation
from fitter.trade.fold.cost import Cost
from fitter.trade.fold.estimate import Estimate, Turn
from fitter.trade.fold.movable import Saving

CAUTION = f"Reckoned from the prices in the printer's file; {LAST_WORD}."


def estimate_json(estimate: Estimate, gatherings: Sequence[int]) -> dict[str, Any]:
    """The cost of the plan, what its blank pages waste, and from when on another is cheaper."""
    return {
        "collation": collation(gatherings),
        "cost": cost_json(estimate.cost),
        "copies": estimate.job.order.copies,
        "paper": estimate.job.order.paper.id,
        "mixes": estimate.mixes,
        "break_even": [_turn(turn) for turn in estimate.turns],
        "wasted": {
            "pages": estimate.wasted_pages,
            "paper_kg": round(float(estimate.wasted.paper_kg), 3),
            "cost": round(float(estimate.wasted.paper), 2),
        },
        "caution": CAUTION,
    }


def cost_json(cost: Cost) -> dict[str, Any]:
    """One cost and its parts."""
    return {
        "total": round(float(cost.total), 2),
        "make_ready": round(float(cost.make_ready), 2),
        "run": round(float(cost.run), 2),
        "paper": round(float(cost.paper), 2),
        "paper_kg": round(float(cost.paper_kg), 3),
        "currency": cost.currency,
    }


def saving_json(saving: Saving, estimate: Estimate | None) -> dict[str, Any]:
    """What leaving some matter out would save."""
    report: dict[str, Any] = {
        "without": [piece.id for piece in saving.matter],
        "part": [piece.part for piece in saving.matter],
        "pages": sum(piece.pages for piece in saving.matter),
        "extent": saving.after.extent,
        "saved_pages": saving.pages,
        "gatherings": list(saving.after.gatherings),
    }
    if estimate:
        job = estimate.job
        saved = job.cost(saving.before).total - job.cost(saving.after).total
        report["saved"] = round(float(saved), 2)
    return report


def _turn(turn: Turn) -> dict[str, Any]:
    return {
        "copies": turn.copies,
        "before": list(turn.before.gatherings),
        "after": list(turn.after.gatherings),
    }
