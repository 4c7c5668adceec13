"""The generated file remembers what was chosen to win pages."""

from __future__ import annotations

from fitter.inserts.chosen import Chosen, Passage, allowed_values, parse_chosen
from fitter.trade.tighten.settings import Setting

LEADING = Setting("leading", ("0.98", "0.99", "1"), default=2)
TEXT = "0123456789ABCDEF0123456789ABCDEF"


def test_choices_are_read_back() -> None:
    assert parse_chosen(
        "\\fitterMark{\\fitterSetting{x}{1}}\n"
        "\\fitterSetting{leading}{0.99}\n"
        f"\\fitterShorter{{chapters/one.tex}}{{{TEXT}}}{{2}}\n"
    ) == Chosen({"leading": "0.99"}, (Passage("chapters/one.tex", TEXT, 2),))


def test_a_value_that_is_allowed_no_more_is_left_out_and_told() -> None:
    assert allowed_values([LEADING], {"leading": "0.99"}) == ({"leading": "0.99"}, ())
    assert allowed_values([LEADING], {"leading": "1", "gone": "3"}) == ({}, ())
    kept, (told,) = allowed_values([LEADING], {"leading": "0.95"})
    assert kept == {}
    assert "0.95 of 'leading' is none of its values any more" in told
