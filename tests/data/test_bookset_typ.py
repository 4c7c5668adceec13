"""Settings of the book in Typst: numbers, lengths and words, and a default without the tool."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest
import typst

from fitter.package import data_file
from tests.conftest import packaged_pandoc

BOOKSET = data_file("bookset.typ").read_text(encoding="utf-8")
LINES = (
    '(("setting", "leading", "0.99"), ("setting", "lines", "2"), ("setting", "tracking", "-5"),'
    '("setting", "size", "10.5pt"), ("setting", "gap", "+2mm"), ("setting", "face", "narrow"),'
    '("setting", "shape", "2up"), ("setting", "bare", ".5"),)'
)


def told(code: str, lines: str = LINES) -> Any:
    """What an expression comes to, as JSON."""
    source = f"#let fitter-lines = {lines}\n{BOOKSET}\n#metadata({code})<told>"
    return json.loads(typst.query(source.encode(), "<told>"))[0]["value"]


@pytest.mark.parametrize(
    ("code", "value"),
    [
        ('bookset("leading") * 2', 1.98),
        ('bookset("lines") + 30', 32),
        ('bookset("tracking")', -5),
        ('bookset("bare")', 0.5),
        ('(bookset("size") + 1pt).pt()', 11.5),
        ('calc.round(bookset("gap").mm(), digits: 3)', 2),
        ('bookset("face") + "er"', "narrower"),
        ('bookset("shape")', "2up"),
        ('bookset("leading", default: 1)', 0.99),
        ('bookset("nowhere", default: 7pt).pt()', 7),
        ('bookset("nowhere", default: none)', None),
    ],
)
def test_a_setting_is_what_it_looks_like(code: str, value: object) -> None:
    assert told(code) == (pytest.approx(value) if isinstance(value, float) else value)


def test_a_setting_nobody_gave_a_value_says_what_to_write() -> None:
    with pytest.raises(typst.TypstError) as stopped:
        typst.compile(f'#let fitter-lines = ()\n{BOOKSET}\n#bookset("nowhere")'.encode())
    assert "No value for the setting 'nowhere'" in str(stopped.value.message)


def test_without_the_tool_the_default_in_the_authors_header_holds(tmp_path: Path) -> None:
    (tmp_path / "book.md").write_text(
        "---\ntitle: A Small Book\nheader-includes: "
        "'`#let seen = 2 * bookset(\"leading\", default: 0.9)`{=typst}'\n---\n\n"
        "# One\n\n`#metadata(seen)<told>`{=typst}\n"
    )
    subprocess.run(
        [packaged_pandoc(), f"--lua-filter={data_file('fitter.lua')}", "--standalone",
         f"--template={data_file('book.typ')}", "--to=typst", "--output=book.typ", "book.md"],
        cwd=tmp_path, check=True,
    )  # fmt: skip
    made = (tmp_path / "book.typ").read_bytes()
    assert json.loads(typst.query(made, "<told>"))[0]["value"] == pytest.approx(1.8)
