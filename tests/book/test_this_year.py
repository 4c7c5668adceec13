"""Source: the SOURCE_DATE_EPOCH specification, reproducible-builds.org, version 1.1: an ASCII
representation of an integer, seconds since the Unix epoch; who gets another value should stop."""

from __future__ import annotations

import datetime as dt

import pytest

from fitter.book.this_year import this_year
from fitter.errors import BadInput


@pytest.mark.parametrize(
    ("epoch", "year"),
    [("0", 1970), ("1767225599", 2025), ("1767225600", 2026), ("99999999999", 5138)],
)
def test_the_year_that_the_variable_gives(
    monkeypatch: pytest.MonkeyPatch, epoch: str, year: int
) -> None:
    # Source: date --utc --date=@1767225600 (GNU coreutils) is 1 January 2026, midnight.
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    assert this_year() == year


def test_without_it_the_year_is_this_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    before = dt.date.today().year
    assert before <= this_year() <= dt.date.today().year


@pytest.mark.parametrize("epoch", ["abc", "-1", "1.5", " 1", "²", "9" * 20, "9" * 9999])
def test_nonsense_is_told_with_a_remedy(monkeypatch: pytest.MonkeyPatch, epoch: str) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    with pytest.raises(BadInput, match=r"SOURCE_DATE_EPOCH: .* Set it to such a number") as told:
        this_year()
    assert len(str(told.value)) < 200
