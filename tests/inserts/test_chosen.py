"""The generated file remembers what was chosen to win pages."""

from __future__ import annotations

from fitter.inserts.chosen import allowed_values
from fitter.trade.tighten.settings import Setting

LEADING = Setting("leading", ("0.98", "0.99", "1"), default=2)


def test_a_value_that_is_allowed_no_more_is_left_out_and_told() -> None:
    assert allowed_values([LEADING], {"leading": "0.99"}) == ({"leading": "0.99"}, ())
    assert allowed_values([LEADING], {"leading": "1", "gone": "3"}) == ({}, ())
    kept, (told,) = allowed_values([LEADING], {"leading": "0.95"})
    assert kept == {}
    assert "0.95 of 'leading' is none of its values any more" in told
