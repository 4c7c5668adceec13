"""The record the LaTeX package writes."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.engines.record import Origin, Span, parse_record, read_record, record_line, split_words
from fitter.errors import BadInput

TEXT = r"""record{1}
page{1}{i}{/}{7}
slot{front}{1}
begin{praise}{2}
page{2}{ii}{/}{8}
page{3}{\textbf {iii}}{chapters/one.tex}{2}
end{praise}{3}
opener{4}
page{4}{1}{./chapters/one.tex}{9}
slot{back}{4}
begin{bio}{5}
page{5}{2}{/}{20}
end{bio}{5}
blanks{6}{1}
page{6}{3}{/}{20}
shipped{6}
takes{bio}{1}
later{words}{of}{another}{version}
done{}
"""


def test_text_pages_are_what_is_not_filler_or_end_blank() -> None:
    record = parse_record(TEXT)
    assert record.extent == 6
    assert record.text_pages == 2
    assert record.fillers == (Span("praise", 2, 3), Span("bio", 5, 5))
    assert record.takes == {"bio": 1}
    assert record.openers == {4}
    assert record.finished


def test_slots_are_told_as_if_no_filler_stood() -> None:
    record = parse_record(TEXT)
    assert record.slot_at("front") == 2
    assert record.slot_at("back") == 3
    assert record.slot_at("middle") is None


def test_pages_know_file_and_line() -> None:
    record = parse_record(TEXT)
    assert record.pages[0] == Origin("i", "", 7)
    assert record.pages[2] == Origin(r"\textbf {iii}", "chapters/one.tex", 2)


def test_a_run_that_died_left_an_unfinished_record() -> None:
    assert not parse_record("").finished


def test_no_file_is_no_record(tmp_path: Path) -> None:
    assert read_record(tmp_path / "none.pages") is None


@pytest.mark.parametrize("line", ["shipped{many}", "end{bio}{3}", "page{1}", "takes{bio}{}"])
def test_nonsense_is_told_with_its_line(line: str) -> None:
    with pytest.raises(BadInput, match=r"record:2: .* makes no sense"):
        parse_record(f"record{{1}}\n{line}\n")


def test_a_line_is_taken_apart_as_it_was_put_together() -> None:
    assert split_words(record_line("page", 3, "iii", "", 1.5)) == (
        "page",
        ["3", "iii", "", "1.500"],
    )
    assert split_words(record_line("done", "")) == ("done", [""])
