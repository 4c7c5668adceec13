"""What is said to a person while the work goes on: standard error, and nothing else."""

from __future__ import annotations

import sys
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Voice:
    """`level` 0 is silent but for faults, 1 is normal, 2 tells more."""

    level: int = 1

    def step(self, text: str) -> None:
        """A step of the work."""
        if self.level >= 1:
            print(text, file=sys.stderr, flush=True)

    def detail(self, text: str) -> None:
        """Something only the curious want."""
        if self.level >= 2:
            print(text, file=sys.stderr, flush=True)

    def warn(self, text: str) -> None:
        """Something to know even when all else is silent."""
        print(f"warning: {text}", file=sys.stderr, flush=True)


def fault(sentences: tuple[str, ...]) -> None:
    """Tell a person what went wrong, a line a sentence."""
    for sentence in sentences:
        print(f"fitter: {sentence}", file=sys.stderr, flush=True)
