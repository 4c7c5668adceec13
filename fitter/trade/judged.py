"""A PDF that has been judged."""

from __future__ import annotations

from dataclasses import dataclass

from fitter.trade.gate import Finding, passed
from fitter.trade.verdicts import PageVerdict


@dataclass(frozen=True, slots=True)
class Judged:
    """A PDF, the verdict on each of its pages, and what the gate found.

    `unread` are sentences about pages that could not be read; with any, nothing can pass.
    """

    pdf: str
    pages: tuple[PageVerdict, ...]
    findings: tuple[Finding, ...]
    unread: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether the gate lets the book through."""
        return not self.unread and passed(self.findings)
