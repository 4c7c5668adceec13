"""A judged PDF as the JSON that scripts rely on."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fitter.trade.gate.judged import Judged, Refused


def check_json(judged: Judged | Refused) -> dict[str, Any]:
    """The contract's object; `unread` stands there only where not all could be read."""
    report = {
        "pdf": judged.pdf,
        "pages": [asdict(page) for page in judged.pages],
        "findings": [asdict(finding) for finding in judged.findings],
        "passed": judged.passed,
    }
    return {**report, "unread": list(judged.sentences)} if judged.sentences else report
