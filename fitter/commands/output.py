"""What every command that reports does: JSON or text on standard output."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any


def put(form: str, report: Callable[[], dict[str, Any]], text: Callable[[], str]) -> None:
    """Print one report in the form asked for; only that form is made."""
    if form == "json":
        print(json.dumps(report(), indent=2, ensure_ascii=False))
    else:
        print(text())
