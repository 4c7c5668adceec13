"""The README's recipes as they stand there."""

from __future__ import annotations

import re

from tests.conftest import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def section(heading: str) -> str:
    """What stands under a heading."""
    return README.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]


def recipe(heading: str, language: str, number: int = 1) -> str:
    """A block of a language under a heading, counted from 1."""
    found = re.findall(rf"^```{language}\n(.*?)^```", section(heading), re.DOTALL | re.MULTILINE)
    return str(found[number - 1])
