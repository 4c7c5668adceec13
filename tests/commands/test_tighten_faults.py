"""Widows, orphans and short last pages of the sample book, found again by poppler and its source.

Here the book may have them: its own settings against them are turned off.
"""

from __future__ import annotations

import re
import shutil
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT, BookFolder
from tests.poppler import words_by_poppler

WANTED = ("widow", "orphan")


@pytest.fixture(scope="module")
def loose_sample(tmp_path_factory: pytest.TempPathFactory) -> BookFolder:
    folder = tmp_path_factory.mktemp("sample") / "book"
    shutil.copytree(
        ROOT / "sample_book", folder, ignore=shutil.ignore_patterns("build", "*-inserts*")
    )
    design = folder / "design.sty"
    design.write_text(re.sub(r"(?m)^(\\\w+penalty)=10000$", r"\1=0", design.read_text()))
    return BookFolder(folder)


def letters(text: str) -> str:
    plain = unicodedata.normalize("NFKC", text).casefold()
    return "".join(char for char in plain if char.isalnum())


def paragraphs(folder: Path) -> list[str]:
    """The letters of every paragraph of the running text."""
    files = [*folder.glob("front/*.md"), *folder.glob("chapters/*.md")]
    texts = [path.read_text("utf-8") for path in files]
    blocks = [block for text in texts for block in re.split(r"\n\s*\n", text)]
    return [letters(block) for block in blocks if block.strip() and not block.startswith("#")]


def seen_by_poppler(folder: Path) -> Iterator[tuple[str, int]]:
    """A line alone at the head of a page ends a paragraph; alone at the foot it begins one."""
    known = paragraphs(folder)

    def ends(line: str) -> bool:
        return any(one.endswith(line) and one != line for one in known)

    def begins(line: str) -> bool:
        return any(one.startswith(line) and one != line for one in known)

    for number, lines in enumerate(words_by_poppler(folder / "build/book.pdf"), 1):
        opener = lines[0][1].isdecimal() if lines else True  # the chapter's number
        body = [letters(words) for _, words in lines[1:] if not words.isdecimal()]
        if len(body) < 2:
            continue
        if not opener and ends(body[0]) and (begins(body[1]) or body[1] in known):
            yield "widow", number
        if begins(body[-1]) and (ends(body[-2]) or body[-2] in known):
            yield "orphan", number


def test_widows_and_orphans_are_those_that_poppler_shows(loose_sample: BookFolder) -> None:
    report: Any = loose_sample.fitter("tighten", "--quick", "--format", "json").report
    assert loose_sample.fitter("build").status == 0
    told = {(each["kind"], each["page"]) for each in report["faults"] if each["kind"] in WANTED}
    assert told == set(seen_by_poppler(loose_sample.folder))
    assert {kind for kind, _ in told} == set(WANTED), "both occur"
