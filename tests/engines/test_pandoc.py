"""Which pandoc serves, and how its failures are told."""

from __future__ import annotations

import os
import stat
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from fitter.engines import pandoc
from fitter.engines.pandoc import OLDEST, find_pandoc, version_of
from fitter.errors import ProgramFailed
from tests.conftest import BookFolder, both_pandocs, path_with

MakeBook = Callable[..., BookFolder]


def test_the_two_pandocs_are_the_two_that_are_promised() -> None:
    # Debian 12 has 2.17; pypandoc-binary brings 3.9 with its release 1.17 (read from the programs
    # themselves).
    found = {name: version_of(path) for name, path in both_pandocs().items()}
    assert OLDEST["latex"] <= found["system"] < OLDEST["typst"] <= found["packaged"]


def test_the_packaged_pandoc_can_leave_quotation_marks_to_the_author() -> None:
    listed = [both_pandocs()["packaged"], "--list-extensions=typst"]
    said = subprocess.run(listed, capture_output=True, text=True, check=True).stdout
    assert "+smart" in said


def test_the_system_pandoc_writes_latex_and_the_packaged_one_typst() -> None:
    assert find_pandoc("latex") == both_pandocs()["system"]
    assert find_pandoc("typst") == both_pandocs()["packaged"]


def test_a_new_enough_system_pandoc_serves_for_both(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    packaged = both_pandocs()["packaged"]
    monkeypatch.setenv("PATH", path_with(tmp_path / "bin", pandoc=packaged))
    assert find_pandoc("latex") == find_pandoc("typst") == str(tmp_path / "bin/pandoc")


def test_an_old_pandoc_alone_is_named_with_the_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pandoc, "find_spec", lambda name: None)
    with pytest.raises(ProgramFailed) as raised:
        find_pandoc("typst")
    said = str(raised.value)
    assert "pandoc is 2.17" in said and "3.8.2 or newer is needed" in said
    assert "pip install 'book-fitter[embedded]'" in said


def test_no_pandoc_at_all_is_told_with_the_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pandoc, "find_spec", lambda name: None)
    monkeypatch.setenv("PATH", "/nowhere")
    with pytest.raises(ProgramFailed, match=r"pandoc is not installed.*pip install") as raised:
        find_pandoc("latex")
    assert raised.value.status == 3


def test_a_program_that_only_calls_itself_pandoc_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    impostor = tmp_path / "pandoc"
    impostor.write_text("#!/bin/sh\necho something else\n")
    impostor.chmod(impostor.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    assert find_pandoc("latex") == both_pandocs()["packaged"]


@pytest.mark.parametrize("engine", ["typst", "pdflatex"])
def test_a_failing_pandoc_shows_its_own_words(make_markdown_book: MakeBook, engine: str) -> None:
    book = make_markdown_book(engine, front="---\nbibliography: no-such.bib\n---\n\n# One\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "pandoc failed" in built.err and "no-such.bib" in built.err
    assert "Traceback" not in built.err
