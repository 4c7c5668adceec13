"""The register of the gate's rules: a stable name, a function, a severity to start from.

The docstring of the function is what the user reads. To add a rule, write one function in
`fitter/trade/gate/rules/` under `@rule("its-name")` and one test.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from inspect import cleandoc
from typing import Literal

from fitter.trade.gate.evidence import Evidence, Source

Severity = Literal["error", "warning", "off"]


@dataclass(frozen=True, slots=True)
class Remark:
    """What a rule has to say, about a page (sheet position from 1) or about the whole book.

    `source` is where it is to be mended, if that is not where the page comes from.
    """

    page: int | None
    message: str
    source: Source | None = None


Judge = Callable[[Evidence], Iterator[Remark]]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the gate: `severity` holds where book.yaml says nothing else."""

    name: str
    judge: Judge
    severity: Severity

    @property
    def explanation(self) -> str:
        """What the user reads about the rule."""
        return cleandoc(self.judge.__doc__ or "")


RULES: dict[str, Rule] = {}


def rule(name: str, severity: Severity = "error") -> Callable[[Judge], Judge]:
    """Enter a function into the register under its stable name."""

    def enter(judge: Judge) -> Judge:
        RULES[name] = Rule(name, judge, severity)
        return judge

    return enter
