from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from fitter.errors import BadInput
from fitter.trade.key.strike import strike

CASES = yaml.safe_load(
    (Path(__file__).parents[2] / "cases" / "keys_strike.yaml").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("row", CASES["rows"], ids=lambda row: row["name"])
def test_the_line_of_the_next_printing(row: dict[str, Any]) -> None:
    struck = strike(row["line"], row.get("year"), row.get("printer", ""), words=row.get("words"))
    assert struck.line == row["struck"]
    assert struck.new_line == row.get("new", "")
    assert struck.words_gone == row.get("words_gone", False)
    assert bool(struck.why) == (not struck.line)


def test_what_was_struck_is_named() -> None:
    struck = strike("14 13 12 11 10 09 08 07 06 05 1 2 3 4 5", 2007)
    assert (struck.printing, set(struck.gone)) == (2, {"1", "05", "06"})


def test_a_year_that_is_already_gone_is_refused() -> None:
    with pytest.raises(BadInput, match="cannot be made in 2004: the key already says 2005"):
        strike("10 09 08 07 06 05 1 2 3 4 5", 2004)


def test_a_line_with_two_readings_asks_which_printing_it_tells() -> None:
    with pytest.raises(BadInput, match="printing 10 of 2029 or printing 29 of 2010"):
        strike("10 11 QX 30 29")
    assert strike("10 11 QX 30 29", printing=10).line == "11 QX 30 29"
    assert strike("10 11 QX 30 29", printing=29).line == "10 11 QX 30"


def test_letters_end_at_z_and_no_new_line_is_made_up() -> None:
    struck = strike("Z")
    assert (struck.line, struck.new_line) == ("", "")
    assert "used up" in struck.why
