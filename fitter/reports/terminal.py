"""Tables as text, 80 columns at most; styled only on a terminal that wants it."""

from __future__ import annotations

import io

from rich.console import Console, RenderableType

from fitter.reports.voice import is_styled

WIDTH = 80


def shown(renderable: RenderableType) -> str:
    """A rich table as plain text, or with styles where standard output is a terminal."""
    styled = is_styled()
    out = io.StringIO()
    Console(
        file=out, width=WIDTH, force_terminal=styled, no_color=not styled, highlight=False
    ).print(renderable)
    return "\n".join(line.rstrip() for line in out.getvalue().strip("\n").splitlines())
