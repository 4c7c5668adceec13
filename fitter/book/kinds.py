"""What a file is by the end of its name, in capitals or not."""

from __future__ import annotations

from os import PathLike, fspath
from pathlib import PurePath

Name = str | PathLike[str]

MARKDOWN = frozenset({".md", ".markdown"})
FILLERS = frozenset({".tex", ".pdf"}) | MARKDOWN


def names_pdf(name: Name | None) -> bool:
    """Whether it is the name of a PDF."""
    return _ending(name) == ".pdf"


def names_markdown(name: Name | None) -> bool:
    """Whether it is the name of a Markdown file."""
    return _ending(name) in MARKDOWN


def names_filler(name: Name | None) -> bool:
    """Whether a file of that name can be a filler: one to typeset, or a ready PDF."""
    return _ending(name) in FILLERS


def _ending(name: Name | None) -> str:
    return PurePath(fspath(name or "")).suffix.lower()
