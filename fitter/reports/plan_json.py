"""A plan as the JSON that scripts rely on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fitter.reports.estimate_json import cost_json, estimate_json, saving_json
from fitter.trade.fold.estimate import Estimate
from fitter.trade.fold.movable import Saving
from fitter.trade.plan import Option, Plan


def plan_json(
    plan: Plan, estimate: Estimate | None = None, savings: Sequence[Saving] = ()
) -> dict[str, Any]:
    """The contract's object; where nothing fits, `fillers` is empty and `refusal` says why.

    With an estimate it says what the plan and each option cost.
    """
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
        "options": [_option(option, estimate) for option in plan.options],
    }
    if estimate:
        report |= estimate_json(estimate, plan.folding.gatherings)
    if savings:
        report["movable"] = [saving_json(saving, estimate) for saving in savings]
    return report if plan.choice else {**report, "refusal": plan.refusal}


def _option(option: Option, estimate: Estimate | None) -> dict[str, Any]:
    report: dict[str, Any] = {
        "gathering": option.folding.gathering,
        "extent": option.folding.extent,
        "left_over": option.left_over,
        "gatherings": list(option.folding.gatherings),
    }
    nested = option.folding.nested
    if nested and (estimate or set(nested) != {option.folding.gathering}):
        report["nested"] = list(nested)
    if estimate:
        report["cost"] = cost_json(estimate.job.cost(option.folding))
    return report
