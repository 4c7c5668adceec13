"""The gate: judges the evidence by every rule that is not switched off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fitter.trade.gate import rules as _rules  # noqa: F401  (enters the rules into the register)
from fitter.trade.gate.evidence import Evidence
from fitter.trade.gate.rule import RULES, Remark, Rule, Severity


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule found: the page by sheet position from 1, the source where it is known."""

    rule: str
    severity: Severity
    page: int | None
    folio: str | None
    message: str
    file: str | None = None
    line: int | None = None


def judge(evidence: Evidence, severities: Mapping[str, Severity] | None = None) -> list[Finding]:
    """Findings in the order of the pages; those about the whole book come first."""
    findings = list(_findings(evidence, severities or {}))
    return sorted(findings, key=lambda finding: (finding.page or 0, finding.rule))


def rule_names() -> list[str]:
    """The names of all rules."""
    return list(RULES)


def passed(findings: Iterable[Finding]) -> bool:
    """Whether the gate lets the book through: no finding is an error."""
    return not any(finding.severity == "error" for finding in findings)


def _findings(evidence: Evidence, severities: Mapping[str, Severity]) -> Iterator[Finding]:
    for rule in RULES.values():
        severity = severities.get(rule.name, rule.severity)
        if severity != "off":
            for remark in rule.judge(evidence):
                yield _finding(rule, severity, remark, evidence)


def _finding(rule: Rule, severity: Severity, remark: Remark, evidence: Evidence) -> Finding:
    page = remark.page
    source = remark.source or (evidence.sources.get(page) if page else None)
    return Finding(
        rule=rule.name,
        severity=severity,
        page=page,
        folio=evidence.verdicts[page - 1].folio if page else None,
        message=remark.message,
        file=source.file if source else None,
        line=source.line if source else None,
    )
