"""A PDF that has been judged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fitter.trade.gate.gate import Finding, passed
from fitter.trade.gate.verdicts import PageVerdict


@dataclass(frozen=True, slots=True)
class Judged:
    """A PDF, the verdict on each of its pages, and what the gate found.

    `unread` has a sentence for each page that could not be read; with any, nothing can pass.
    """

    pdf: str
    pages: tuple[PageVerdict, ...]
    findings: tuple[Finding, ...]
    unread: Mapping[int, str] = field(default_factory=dict)

    @property
    def passed(self) -> bool:
        """Whether the gate lets the book through."""
        return not self.unread and passed(self.findings)
