"""A plan as the JSON that scripts rely on."""

from __future__ import annotations

from typing import Any

from fitter.trade.plan import Option, Plan


def plan_json(plan: Plan) -> dict[str, Any]:
    """The contract's object; where nothing fits, `fillers` is empty and `refusal` says why."""
    placed = plan.choice.placed if plan.choice else ()
    report: dict[str, Any] = {
        "text_pages": plan.text_pages,
        "extent": plan.extent,
        "left_over": plan.left_over,
        "gatherings": list(plan.folding.gatherings),
        "fillers": [
            {"id": p.id, "place": p.place, "pages": p.pages, "first_page": p.first_page}
            for p in placed
        ],
        "end_blanks": plan.choice.end_blanks if plan.choice else 0,
        "options": [_option(option) for option in plan.options],
    }
    return report if plan.choice else {**report, "refusal": plan.refusal}


def _option(option: Option) -> dict[str, Any]:
    return {
        "gathering": option.folding.gathering,
        "extent": option.folding.extent,
        "left_over": option.left_over,
        "gatherings": list(option.folding.gatherings),
    }
