"""Judged books as JSON lines, one a book as it is judged: a report that can be taken up again."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fitter.errors import BadInput
from fitter.reports.check_json import check_json
from fitter.reports.harmless import harmless_json
from fitter.trade.gate.judged import Judged


def line_of(book: Path, state: str, judged: Judged) -> str:
    """The line of a book that could be judged; `state` tells whether it changes later."""
    return _line({"book": str(book), "state": state, **check_json(judged)})


def line_of_refused(book: Path, state: str, sentences: Iterable[str], status: int) -> str:
    """The line of a book that could not."""
    refused = {"refused": list(sentences), "status": status, "passed": False}
    return _line({"book": str(book), "state": state, **refused})


def known_lines(report: Path) -> dict[str, dict[str, Any]]:
    """The lines of an earlier run by book, the last of each; half a line at the end is taken away.

    Raises BadInput for a file that is no such report, and leaves it as it is.
    """
    if not report.exists():
        return {}
    content = report.read_bytes()
    whole = content[: content.rfind(b"\n") + 1]
    try:
        lines = [json.loads(line) for line in whole.splitlines() if line.strip()]
        known = {str(line["book"]): {**line, "state": str(line["state"])} for line in lines}
    except (ValueError, KeyError, TypeError, RecursionError):
        known = None
    if known is None or (content and not whole):
        raise BadInput(
            f"{report}: this is no report of JSON lines by fitter, so nothing is added to it. "
            "Name another file."
        )
    if whole != content:
        os.truncate(report, len(whole))
    return known


def _line(values: dict[str, Any]) -> str:
    return harmless_json(json.dumps(values, ensure_ascii=False))
