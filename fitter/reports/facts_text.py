"""The facts as a person reads them: each number with the formula it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from rich.table import Table

from fitter.reports.facts_json import facts_json, formulas
from fitter.reports.terminal import WIDTH, new_table, shown
from fitter.reports.words import folding_in_words
from fitter.trade.facts.facts import CAUTION, NO_SPINE, Facts
from fitter.trade.fold.creep import MODEL
from fitter.trade.fold.formes import CAUTION as FORMES_CAUTION
from fitter.trade.fold.formes import Sheet

LABELS = {
    "extent": "extent",
    "text_pages": "text pages",
    "leaves": "leaves",
    "gatherings": "gatherings",
    "collation": "collation",
    "spine_mm": "spine, mm",
    "block_mm": "block, mm",
    "weight_g": "weight, g",
}


def facts_text(facts: Facts, sheets: list[list[Sheet]] | None = None) -> str:
    """The whole report, 80 columns wide at most."""
    return "\n".join(_parts(facts, sheets))


def _parts(facts: Facts, sheets: list[list[Sheet]] | None) -> Iterator[str]:
    yield shown(_table(facts))
    if facts.creep_mm:
        each = ", ".join(f"{float(creep):.2f}" for creep in facts.creep_mm)
        yield from wrap(f"Creep of each leaf pair, outermost first, mm: {each}. {MODEL}.", WIDTH)
    if sheets is not None:
        yield shown(_formes(sheets))
        yield from wrap(f"Formes {FORMES_CAUTION}.", WIDTH)
    if facts.spine_range_mm:
        low, high = facts.spine_range_mm
        yield (
            f"The spine may come out from {float(low):.1f} to {float(high):.1f} mm, as paper may "
            "differ by 5 %."
        )
    yield from wrap(CAUTION, WIDTH)


def _table(facts: Facts) -> Table:
    values, how = facts_json(facts), formulas(facts)
    table = new_table()
    table.add_column("fact")
    table.add_column("value", overflow="fold", max_width=34)
    table.add_column("from", overflow="fold")
    for key, label in LABELS.items():
        value = folding_in_words(facts.folding) if key == "gatherings" else values[key]
        if key == "spine_mm" and facts.style == "saddle":
            table.add_row(label, "none", NO_SPINE)
        else:
            table.add_row(label, _known(value), how.get(key, ""))
    for code, pages in facts.onix.items():
        table.add_row(f"ONIX {code}", _known(pages), how[f"onix {code}"])
    return table


def _known(value: object) -> str:
    return "not known" if value is None else str(value)


def _formes(sheets: list[list[Sheet]]) -> Table:
    table = new_table()
    table.add_column("gathering", justify="right")
    table.add_column("outer forme", overflow="fold")
    table.add_column("inner forme", overflow="fold")
    for number, gathering in enumerate(sheets, 1):
        for sheet in gathering:
            table.add_row(str(number), _pages(sheet.outer), _pages(sheet.inner))
    return table


def _pages(pages: tuple[int, ...]) -> str:
    return " ".join(map(str, pages))
