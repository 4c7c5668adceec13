"""Tables as text, 80 columns at most; styled only on a terminal that wants it."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from fitter.reports.voice import is_styled

if TYPE_CHECKING:
    from rich.table import Table
    from rich.text import Text

WIDTH = 80


def new_table() -> Table:
    """The one look of our tables: a line below the headings, two spaces between columns."""
    from rich.box import SIMPLE_HEAD
    from rich.table import Table

    return Table(box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))


def shown(table: Table) -> str:
    """A table with an empty line above and below; with styles where `is_styled`."""
    return f"\n{_printed(table)}\n"


def styled(text: str, style: str) -> str:
    """Words in a style such as "bold red", where `is_styled`."""
    if not is_styled():
        return text
    from rich.text import Text

    return _printed(Text(text, style), soft_wrap=True)


def _printed(what: Table | Text, *, soft_wrap: bool = False) -> str:
    from rich.console import Console

    out = io.StringIO()
    colours = is_styled()
    Console(
        file=out,
        width=WIDTH,
        force_terminal=colours,
        color_system="standard" if colours else None,
        highlight=False,
    ).print(what, soft_wrap=soft_wrap)
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines())
