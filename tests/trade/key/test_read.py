from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from fitter.errors import BadInput
from fitter.trade.key.key import Reading
from fitter.trade.key.read import read

CASES = yaml.safe_load(
    (Path(__file__).parents[2] / "cases" / "keys_read.yaml").read_text(encoding="utf-8")
)
PUZZLES = [line for row in CASES["parses"] for line in row["lines"]]


@pytest.mark.parametrize("row", CASES["rows"], ids=lambda row: row["name"])
def test_every_reading_of_a_line(row: dict[str, Any]) -> None:
    wanted = [Reading(*reading) for reading in row["readings"]]
    assert list(read(row["line"], row.get("words"))) == wanted


@pytest.mark.parametrize("line", PUZZLES)
def test_a_puzzle_is_read_or_refused(line: str) -> None:
    """Source: C. Stark, BookThink 91, questions 3 to 10; the answers were not seen."""
    try:
        assert read(line)
    except BadInput as fault:
        assert "is no printer's key" in str(fault)


@pytest.mark.parametrize("row", CASES["refused"], ids=lambda row: row["name"])
def test_what_is_no_key_is_refused_with_the_reason(row: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as fault:
        read(row["line"])
    assert str(row["reason"]) in str(fault.value)


def test_the_window_says_in_which_century_a_year_lies() -> None:
    assert read("3 4 5 30 29 28")[0].year == 2028
    assert read("3 4 5 30 29 28", since=1900)[0].year == 1928


def test_years_may_run_over_the_end_of_the_window() -> None:
    """Only the earliest year is read in the window (1950 to 2049); the rest follow it."""
    assert read("3 4 5 51 50 49 48")[0].year == 2048


def test_a_year_before_the_copyright_year_is_refused() -> None:
    with pytest.raises(BadInput, match="1996, before the copyright year 2001"):
        read("3 4 5 QX 98 97 96", published=2001)


def test_the_copyright_year_settles_a_line_with_two_readings() -> None:
    assert {r.printing for r in read("10 11 12 QX 30 29", published=2026)} == {10}


def test_a_message_shows_no_control_characters_and_stays_short() -> None:
    with pytest.raises(BadInput) as fault:
        read("1 2 \x1b[31m " + "x" * 5000)
    assert "\x1b" not in str(fault.value)
    assert len(str(fault.value)) < 400


@given(st.text(max_size=60) | st.text("0123456789 AQX-", max_size=60))
def test_any_text_is_read_or_refused(line: str) -> None:
    with suppress(BadInput):
        assert read(line)
