"""What every command that reports does: JSON or text on standard output."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fitter.reports.harmless import as_json, harmless, harmless_but_styled
from fitter.reports.voice import is_styled


def put(form: str, report: Callable[[], dict[str, Any]], text: Callable[[], str]) -> None:
    """Print one report in the form asked for; only that form is made."""
    if form == "json":
        print(as_json(report()))
    else:
        said = text().strip("\n")
        print(harmless_but_styled(said) if is_styled() else harmless(said))
