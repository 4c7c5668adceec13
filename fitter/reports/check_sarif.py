"""Judged PDFs as SARIF 2.1.0, the exchange format of static analysis (OASIS)."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from urllib.parse import quote

from fitter import __version__
from fitter.reports.words import place_in_words
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.judged import Judged, Refused, sentences_named
from fitter.trade.gate.rule import RULES, Rule

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"
_NUMBERS = {name: number for number, name in enumerate(RULES)}


def check_sarif(judged: Sequence[Judged | Refused]) -> str:
    """One run with all the results; a result points at the source, else at the PDF.

    What could not be read is told by the run's invocation.
    """
    results = [_result(one, finding) for one in judged for finding in one.findings]
    driver = {
        "name": "fitter",
        "version": __version__,
        "rules": [_rule(rule) for rule in RULES.values()],
    }
    unread = [_notification(one, sentence) for one in judged for sentence in sentences_named(one)]
    run = {
        "tool": {"driver": driver},
        "invocations": [{"executionSuccessful": not unread, "toolExecutionNotifications": unread}],
        "columnKind": "unicodeCodePoints",
        "results": results,
    }
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(log, indent=2, ensure_ascii=False)


def _rule(rule: Rule) -> dict[str, Any]:
    first, _, _ = rule.explanation.partition("\n\n")
    return {
        "id": rule.name,
        "shortDescription": {"text": " ".join(first.split())},
        "fullDescription": {"text": rule.explanation},
        "defaultConfiguration": {"level": _level(rule.severity)},
    }


def _notification(judged: Judged | Refused, sentence: str) -> dict[str, Any]:
    place = {"physicalLocation": {"artifactLocation": {"uri": _uri(judged.pdf)}}}
    return {"level": "error", "message": {"text": sentence}, "locations": [place]}


def _result(judged: Judged | Refused, finding: Finding) -> dict[str, Any]:
    return {
        "ruleId": finding.rule,
        "ruleIndex": _NUMBERS[finding.rule],
        "level": _level(finding.severity),
        "message": {"text": f"{judged.pdf}, {place_in_words(finding)}: {finding.message}."},
        "locations": [_location(judged, finding)],
        "partialFingerprints": {"finding/v1": _fingerprint(judged, finding)},
        "properties": {"pdf": judged.pdf, "page": finding.page, "folio": finding.folio},
    }


def _location(judged: Judged | Refused, finding: Finding) -> dict[str, Any]:
    place: dict[str, Any] = {"artifactLocation": {"uri": _uri(finding.file or judged.pdf)}}
    if finding.file:
        place["region"] = {"startLine": finding.line}
    return {"physicalLocation": place}


def _fingerprint(judged: Judged | Refused, finding: Finding) -> str:
    """The same for a finding from build to build, as long as its folio stays."""
    return "/".join([Path(judged.pdf).name, finding.rule, finding.folio or str(finding.page)])


def _uri(file: str) -> str:
    path = Path(file)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())


def _level(severity: str) -> str:
    return "none" if severity == "off" else severity
