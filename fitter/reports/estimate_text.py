"""Money and paper as a person reads them: the ways to fold side by side, the cheapest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from textwrap import wrap

from rich.table import Table

from fitter.reports.estimate_json import CAUTION
from fitter.reports.terminal import WIDTH, new_table, shown
from fitter.trade.fold.collation import collation
from fitter.trade.fold.estimate import MOST_COPIES, Estimate, Turn
from fitter.trade.fold.movable import Saving
from fitter.trade.plan import Plan
from fitter.trade.words import count


def estimate_text(plan: Plan, estimate: Estimate) -> Iterator[str]:
    """The order for the binder, the costs, break-evens, what blanks waste, and the caution."""
    order = estimate.job.order
    gatherings = plan.folding.gatherings
    yield f"In the order of the book: {sum_of(gatherings)}. Collation: {collation(gatherings)}."
    yield (
        f"Cost of {order.copies:,} copies on {order.paper.id} in {estimate.cost.currency}, "
        f"cheapest first, of {count(estimate.mixes, 'mix', 'mixes')}:"
    )
    yield shown(_options(plan, estimate))
    if not all(option.choice for option in plan.options):
        yield "* nothing in the catalogue fills what is left over"
    yield from (_turn(turn) for turn in estimate.turns)
    if not estimate.turns:
        yield f"The same folding is the cheapest for every number of copies up to {MOST_COPIES:,}."
    if estimate.wasted_pages:
        yield (
            f"Blank: {count(estimate.wasted_pages, 'page')}, "
            f"{float(estimate.wasted.paper_kg):,.1f} kg of paper, "
            f"{money(estimate.wasted.paper)} {estimate.cost.currency}."
        )
    yield from wrap(CAUTION, WIDTH)


def saving_in_words(saving: Saving, estimate: Estimate | None) -> str:
    """`Without half-title (2 pages): 9×32, 288 pages; saves 16 pages and 54.20 EUR.`"""
    named = " and ".join(piece.id for piece in saving.matter)
    pages = count(sum(piece.pages for piece in saving.matter), "page")
    moved = all(piece.part == "elsewhere" for piece in saving.matter)
    how = " on the cover or jacket" if moved else " left out"
    saved = count(saving.pages, "page")
    if estimate:
        job = estimate.job
        less = job.cost(saving.before).total - job.cost(saving.after).total
        saved += f" and {money(less)} {estimate.cost.currency}"
    return (
        f"With {named} ({pages}){how}: {sum_of(saving.after.gatherings)}, "
        f"{count(saving.after.extent, 'page')}; that saves {saved}."
    )


def sum_of(gatherings: Sequence[int]) -> str:
    """`9×32 + 1×8 + 1×16`, in the order of the book."""
    runs = ((size, len(list(run))) for size, run in groupby(gatherings))
    return " + ".join(f"{number}×{size}" for size, number in runs)


def money(amount: Fraction) -> str:
    """An amount with two places and thousands apart."""
    return f"{float(amount):,.2f}"


def _options(plan: Plan, estimate: Estimate) -> Table:
    table = new_table()
    table.add_column("gatherings", overflow="fold", max_width=22)
    for name in ("extent", "left over", "ready", "run", "paper", "total"):
        table.add_column(name, justify="right", overflow="fold")
    for option in plan.options:
        cost = estimate.job.cost(option.folding)
        table.add_row(
            sum_of(option.folding.sheets),
            str(option.folding.extent),
            f"{'' if option.choice else '*'}{option.left_over}",
            *map(money, (cost.make_ready, cost.run, cost.paper, cost.total)),
        )
    return table


def _turn(turn: Turn) -> str:
    return (
        f"Break-even: from {turn.copies:,} copies on "
        f"{sum_of(turn.after.sheets)} is cheaper than {sum_of(turn.before.sheets)}."
    )
