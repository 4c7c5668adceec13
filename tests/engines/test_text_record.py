"""A record of the running text that something has damaged."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.engines.text_record import read_text_record
from fitter.errors import BadInput

PARAGRAPH = "para{1}{a.tex}{4}{3}{65536}{0}{0}{65536}\n"


def test_a_whole_one_is_read(tmp_path: Path) -> None:
    (tmp_path / "book.text").write_text(PARAGRAPH)
    (tmp_path / "book.log").write_text("fitter: ends{1}{7}{0}{0}\n")
    found = read_text_record(tmp_path / "book.text", tmp_path / "book.log").paragraphs[0]
    assert (found.file, found.line, found.lines, found.page) == ("a.tex", 4, 3, 7)


@pytest.mark.parametrize(
    ("record", "log"),
    [
        (PARAGRAPH.replace("{65536}", "{" + "9" * 400 + "}"), ""),
        (PARAGRAPH.replace("{4}", "{four}"), ""),
        (PARAGRAPH.replace("{4}", ""), ""),
        ("body{1}{2}\n", ""),
        ("matter\n", ""),
        (PARAGRAPH, "fitter: ends{1}{7}\n"),
    ],
)
def test_nonsense_is_told(tmp_path: Path, record: str, log: str) -> None:
    (tmp_path / "book.text").write_text(record)
    (tmp_path / "book.log").write_text(log)
    with pytest.raises(BadInput, match=r"book\.text: this record of the text makes no sense"):
        read_text_record(tmp_path / "book.text", tmp_path / "book.log")
