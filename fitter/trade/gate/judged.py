"""A PDF that has been judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from fitter.trade.gate.gate import Finding, passed
from fitter.trade.gate.verdicts import PageVerdict

UNREAD = "unread"  # stands where a rule's name stands, for what could not be judged


@dataclass(frozen=True, slots=True)
class Judged:
    """A PDF, the verdict on each of its pages, and what the gate found.

    `unread` has a sentence for each page that could not be read; with any, nothing can pass.
    `notes` say what was not looked at.
    """

    pdf: str
    pages: tuple[PageVerdict, ...]
    findings: tuple[Finding, ...]
    unread: Mapping[int, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether the gate lets the book through."""
        return not self.unread and passed(self.findings)

    @property
    def sentences(self) -> tuple[str, ...]:
        """Why the whole of it could not be judged."""
        return tuple(self.unread.values())


@dataclass(frozen=True, slots=True)
class Refused:
    """A book or PDF that could not be judged at all, why, and the exit status that follows."""

    pdf: str
    sentences: tuple[str, ...]
    status: int

    pages: ClassVar[tuple[PageVerdict, ...]] = ()
    findings: ClassVar[tuple[Finding, ...]] = ()
    notes: ClassVar[tuple[str, ...]] = ()
    passed: ClassVar[bool] = False


def sentences_named(judged: Judged | Refused) -> Iterator[str]:
    """Why it could not be judged, each sentence beginning with the book or PDF it is about."""
    for sentence in judged.sentences:
        named = sentence.startswith((f"{judged.pdf}:", f"{judged.pdf}/"))
        yield sentence if named else f"{judged.pdf}: {sentence}"
