"""Files are written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitter.errors import BadInput
from fitter.writing import write_whole


def test_the_same_text_is_not_written_again(tmp_path: Path) -> None:
    path = tmp_path / "a.tex"
    assert write_whole(path, "x")
    before = path.stat().st_mtime_ns
    assert not write_whole(path, "x")
    assert path.stat().st_mtime_ns == before
    assert write_whole(path, "y")
    assert [file.name for file in tmp_path.iterdir()] == ["a.tex"]


def test_a_file_written_twice_in_a_second_looks_changed_to_latexmk(tmp_path: Path) -> None:
    path = tmp_path / "a.tex"
    seconds = []
    for text in "xyz":
        write_whole(path, text)
        seconds.append(int(path.stat().st_mtime))
    assert seconds[0] < seconds[1] < seconds[2]


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "folder").write_text("a file where a folder is wanted")
    with pytest.raises(BadInput, match="cannot be written"):
        write_whole(tmp_path / "folder" / "a.tex", "x")


def test_what_a_killed_run_left_half_written_goes(tmp_path: Path) -> None:
    gone, ours = tmp_path / ".a.tex.4194304.xy.part", tmp_path / f".a.tex.{os.getpid()}.z.part"
    other = tmp_path / ".a.tex.mine.part"
    for path in (gone, ours, other):
        path.write_text("half")
    write_whole(tmp_path / "a.tex", "x")
    assert not gone.exists()
    assert ours.exists()
    assert other.exists()
