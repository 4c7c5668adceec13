"""A plan as a person reads it: the choice, its fillers, and the alternatives side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.table import Table

from fitter.reports.estimate_text import estimate_text, saving_in_words
from fitter.reports.terminal import new_table, shown
from fitter.reports.words import choice_in_words, folding_in_words, plan_in_words
from fitter.trade.caution import CAUTION
from fitter.trade.fold.estimate import Estimate
from fitter.trade.fold.movable import Saving
from fitter.trade.plan import Plan
from fitter.trade.words import count

CHOSEN = "▸"


def plan_text(plan: Plan, estimate: Estimate | None = None, savings: Sequence[Saving] = ()) -> str:
    """The whole report, 80 columns wide at most."""
    return "\n".join(_parts(plan, estimate, savings))


def _parts(plan: Plan, estimate: Estimate | None, savings: Sequence[Saving]) -> Iterator[str]:
    yield f"{count(plan.text_pages, 'text page')}, {plan.left_over} left over."
    yield shown(_fillers(plan)) if plan.choice and plan.choice.placed else ""
    if estimate:
        yield from estimate_text(plan, estimate)
    else:
        yield f"Ways to fold it ({CHOSEN} the one taken):"
        yield shown(_options(plan))
        yield CAUTION
    for saving in savings:
        yield saving_in_words(saving, estimate)
    yield _closing(plan)


def _closing(plan: Plan) -> str:
    if plan.choice:
        return plan_in_words(plan.text_pages, plan.folding, plan.choice)
    return f"{folding_in_words(plan.folding)} would hold it, but nothing in the catalogue fits."


def _fillers(plan: Plan) -> Table:
    table = new_table()
    table.add_column("filler", overflow="fold")
    table.add_column("place")
    table.add_column("pages", justify="right")
    table.add_column("first page", justify="right")
    for placed in plan.chosen.placed:
        table.add_row(placed.id, placed.place, str(placed.pages), str(placed.first_page))
    return table


def _options(plan: Plan) -> Table:
    table = new_table()
    table.add_column("")
    table.add_column("size", justify="right")
    table.add_column("gatherings", overflow="fold", max_width=26)
    table.add_column("extent", justify="right")
    table.add_column("left over", justify="right")
    table.add_column("filled with", overflow="fold")
    for option in plan.options:
        taken = option.folding.is_same_as(plan.folding)
        table.add_row(
            CHOSEN if taken else "",
            str(option.folding.gathering),
            folding_in_words(option.folding),
            str(option.folding.extent),
            str(option.left_over),
            choice_in_words(option.choice) if option.choice else "cannot be filled",
            style="bold" if taken else "",
        )
    return table
