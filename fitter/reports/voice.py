"""What is said to a person while the work goes on: standard error, and nothing else."""

from __future__ import annotations

import os
import shutil
import sys
from dataclasses import dataclass

PAGES_A_LINE = 100
_LINE_ABOVE = "\x1b[1A\r\x1b[K"


@dataclass(frozen=True, slots=True)
class Voice:
    """`level` 0 is silent but for faults, 1 is normal, 2 tells more."""

    level: int = 1

    def step(self, text: str) -> None:
        """A step of the work."""
        if self.level >= 1:
            _print(text)

    def detail(self, text: str) -> None:
        """Something only the curious want."""
        if self.level >= 2:
            _print(text)

    def warn(self, text: str) -> None:
        """Something to know even when all else is silent."""
        _print(f"warning: {text}")

    def progress(self, text: str, page: int = 0, of: int = 0) -> None:
        """How far a step has come: page 0 begins a line, later pages are told in the same line.

        Where nobody watches (a file, CI), one line is added each hundred pages.
        """
        if self.level < 1:
            return
        told = f"{text}, page {page}{f' of {of}' if of else ''}"
        if page == 0:
            _print(text)
        elif is_watched():
            columns = shutil.get_terminal_size().columns
            _print(_LINE_ABOVE + told[: columns - 1])
        elif page % PAGES_A_LINE == 0:
            _print(told)


@dataclass(frozen=True, slots=True)
class Progress:
    """The progress of one step, told in its name."""

    voice: Voice
    step: str

    def __call__(self, text: str, page: int = 0, /) -> None:
        """Tell how far it has come."""
        self.voice.progress(f"{self.step}: {text}", page)


def is_watched() -> bool:
    """Whether standard error is a terminal that can go back to an earlier line."""
    return sys.stderr.isatty() and not os.environ.get("CI") and os.environ.get("TERM") != "dumb"


def fault(sentences: tuple[str, ...]) -> None:
    """Tell a person what went wrong, a line a sentence."""
    for sentence in sentences:
        _print(f"fitter: {sentence}")


def _print(text: str) -> None:
    print(text, file=sys.stderr, flush=True)
