"""Which names a YAML file may give."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.book.paths import path_fault


@pytest.mark.parametrize("name", ["book.tex", "front/1.md", "übung.md", "n" * 255])
def test_names_of_files_are_fine(tmp_path: Path, name: str) -> None:
    assert path_fault(tmp_path, name) == ""


@pytest.mark.parametrize("name", ["n" * 256, "ü" * 128, "n/" * 600 + "book.tex"])
def test_a_name_that_no_file_can_have_is_told(tmp_path: Path, name: str) -> None:
    """Source: limits.h(0p): NAME_MAX, 255 bytes on Linux's file systems."""
    fault = path_fault(tmp_path, name)
    assert "is longer than a name of a file may be" in fault
    assert len(fault) < 120
