from __future__ import annotations

from fitter.reports.key_report import reading_json, readings_text, struck_text
from fitter.trade.key.key import Reading
from fitter.trade.key.strike import Struck

THIRD = Reading(3, 1996, "APC", "ascending")


def test_what_a_line_does_not_say_is_null() -> None:
    bare = Reading(2, None, "", "letters")
    assert reading_json(bare) == {
        "printing": 2,
        "year": None,
        "printer": None,
        "scheme": "letters",
    }


def test_one_reading_is_one_line() -> None:
    assert readings_text([THIRD], None, 1950).splitlines()[:2] == [
        "printing 3, 1996, printer APC (ascending)",
        "Years of two digits are read as 1950 to 2049.",
    ]


def test_schemes_of_one_meaning_stand_together() -> None:
    short = [Reading(9, None, "", scheme) for scheme in ("ascending", "centred")]
    assert readings_text(short, None, 1950).startswith("printing 9 (ascending or centred)\n")


def test_several_meanings_and_what_settles_them() -> None:
    lines = readings_text([Reading(2, None, "", "x"), Reading(1, None, "", "x")], None, 1950)
    assert "in more than one way" in lines
    assert '--words "First edition"' in lines


def test_a_year_that_goes_on_standing_is_told() -> None:
    told = list(struck_text(Struck(2, "2 3 QX 28 27 26", ("1",), year_kept=2026)))
    assert told[1:] == ["The line still says 2026: --year strikes those before another."]


def test_a_strike_and_its_limits() -> None:
    assert list(struck_text(Struck(2, "2 3", ("1",)))) == ["Printing 2: struck 1."]
    assert list(struck_text(Struck(2, "2 3", words_gone=True))) == [
        "Printing 2.",
        "The words over the line go; its numbers stay.",
    ]
    spent = Struck(11, "", why="The line is used up.", new_line="11 12\nQX")
    assert list(struck_text(spent)) == [
        "The line is used up. Printing 11 needs a newly set line.",
        "A new one would be: 11 12 / QX",
    ]
