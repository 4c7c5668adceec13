"""A judged PDF as a person reads it: a line for each finding, and a closing sentence."""

from __future__ import annotations

from collections import Counter

from fitter.reports.terminal import styled
from fitter.reports.words import gate_in_words, place_in_words
from fitter.trade.caution import CAUTION
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.judged import Judged
from fitter.trade.words import count

SEVERITY_STYLES = {"error": "bold red", "warning": "bold yellow"}


def check_text(judged: Judged) -> str:
    """The whole report."""
    return "\n".join([*map(_line, judged.findings), _closing(judged)])


def _line(finding: Finding) -> str:
    place = place_in_words(finding)
    source = f" [{finding.file}:{finding.line}]" if finding.file else ""
    severity = styled(finding.severity, SEVERITY_STYLES.get(finding.severity, ""))
    return f"{severity}: {place}: {finding.message}. ({finding.rule}){source}"


def _closing(judged: Judged) -> str:
    told = Counter(page.verdict for page in judged.pages)
    seen = ", ".join(f"{number} {verdict}" for verdict, number in told.most_common())
    pages = count(len(judged.pages), "page")
    return f"{judged.pdf}: {pages}: {seen}. {gate_in_words(judged.passed)}. {CAUTION}"
