"""Judged PDFs as workflow commands, which GitHub shows as annotations at the line of source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fitter.reports.words import place_in_words
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.judged import UNREAD, Judged, Refused, sentences_named


def check_github(judged: Iterable[Judged | Refused]) -> str:
    """A line for each finding, and for what could not be read, escaped as the runner wants it."""
    return "\n".join(line for one in judged for line in _lines(one))


def _lines(judged: Judged | Refused) -> Iterator[str]:
    yield from (_command(judged, finding) for finding in judged.findings)
    for sentence in sentences_named(judged):
        yield f"::error title={UNREAD}::{_data(sentence)}"


def _command(judged: Judged | Refused, finding: Finding) -> str:
    properties = {"title": finding.rule}
    if finding.file:
        properties = {"file": finding.file, "line": str(finding.line), **properties}
    said = ",".join(f"{key}={_property(value)}" for key, value in properties.items())
    message = f"{judged.pdf}, {place_in_words(finding)}: {finding.message}"
    return f"::{finding.severity} {said}::{_data(message)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
