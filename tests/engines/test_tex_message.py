"""TeX's own complaint."""

from __future__ import annotations

from fitter.engines.tex_message import first_error

OUTPUT = """(./book.tex
LaTeX Warning: Reference `x' on page 1 undefined on input line 3.
./chapters/one.tex:12: Undefined control sequence.
l.12 Hello \\nonsense
                    there
"""


def test_file_line_and_context_are_found() -> None:
    error = first_error(OUTPUT.splitlines())
    assert error is not None
    assert str(error) == "chapters/one.tex:12: Undefined control sequence. (at: Hello \\nonsense)"


def test_an_error_without_a_file_is_found() -> None:
    error = first_error(["! LaTeX Error: File `nothere.sty' not found.", "", "l.3 \\begin"])
    assert error is not None
    assert error.file is None
    assert "nothere.sty" in error.message


def test_no_error_is_none() -> None:
    assert first_error(["This is pdfTeX", "Output written on book.pdf (3 pages)."]) is None


def test_a_line_of_megabytes_is_read_once() -> None:
    assert first_error(["x" * 5_000_000, " " * 5_000_000]) is None
