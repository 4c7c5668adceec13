"""Patterns in reading order."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.book.matching import matching


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("ch/10.md", "ch/2.md", "ch/1.md", "ch/.1.md.swp", "ch/.hidden.md", "front.md"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("")
    return tmp_path


def names(folder: Path, pattern: str) -> list[str]:
    return [path.relative_to(folder).as_posix() for path in matching(folder, pattern)]


def test_two_comes_before_ten(folder: Path) -> None:
    assert names(folder, "ch/*.md") == ["ch/1.md", "ch/2.md", "ch/10.md"]


def test_a_name_is_itself(folder: Path) -> None:
    assert names(folder, "front.md") == ["front.md"]


def test_a_file_with_a_star_in_its_name_is_no_pattern(folder: Path) -> None:
    (folder / "a*.md").write_text("")
    assert names(folder, "a*.md") == ["a*.md"]


@pytest.mark.parametrize("pattern", ["ch/*.tex", "missing.md", "../*.md", "/*.md", "ch", "**.tex"])
def test_what_is_not_there_or_outside_matches_nothing(folder: Path, pattern: str) -> None:
    assert names(folder, pattern) == []
