from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitter.errors import BadInput
from fitter.trade.key.key import LETTER_SCHEMES, SCHEMES, KeySettings, Reading, settings_faults
from fitter.trade.key.make import follow, make, words_over
from fitter.trade.key.read import read
from fitter.trade.key.strike import strike
from fitter.trade.printing.printings import Printing

CODES = st.just("") | st.from_regex(r"[A-Z][A-Z0-9]{0,5}", fullmatch=True)
SETTINGS = st.builds(
    KeySettings,
    scheme=st.sampled_from(SCHEMES),
    length=st.integers(2, 12),
    years=st.integers(0, 12),
    years_order=st.sampled_from(["ascending", "descending"]),
    digits=st.sampled_from([2, 4]),
    side=st.sampled_from(["before", "after"]),
    printer=CODES,
    separator=st.sampled_from([" ", "-", " - ", "/", "·"]),
    gap=st.sampled_from(["    ", " \n", "  --  "]),
    words=st.sampled_from(["", "First edition"]),
).filter(lambda settings: not settings_faults(settings))


def test_the_line_of_the_contract() -> None:
    """Order of the parts as in Wikipedia, "Printer's key": 3 4 5 … 10  APC  00 99 98 97 96."""
    settings = KeySettings(scheme="ascending", length=10, years=5, printer="QX")
    assert make(settings, 1, 2026) == "1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26"
    assert make(settings, 3, 2028, set_in=2026) == "3 4 5 6 7 8 9 10   QX   30 29 28"


def test_the_century_wraps() -> None:
    """Source: Wikipedia, "Printer's key"."""
    settings = KeySettings(years=5, printer="APC")
    line = make(settings, 3, 1996)
    assert line == "3 4 5 6 7 8 9 10   APC   00 99 98 97 96"


@pytest.mark.parametrize(
    ("scheme", "line"),
    [
        ("descending", "10 9 8 7 6 5 4 3 2 1"),  # Source: Wikipedia, "Printer's key"
        ("centred", "1 3 5 7 9 10 8 6 4 2"),  # Source: C. Stark, BookThink 91
        ("centred-mirrored", "2 4 6 8 10 9 7 5 3 1"),  # Source: Wikipedia, "Printer's key"
        ("letters", "A B C D E F G H I J"),  # Source: C. Stark, BookThink 91
    ],
)
def test_schemes(scheme: str, line: str) -> None:
    assert make(KeySettings(scheme=scheme), 1) == line


def test_house_rule_words_over_a_line_from_2() -> None:
    """Source: C. Stark, BookThink 91, answer 1."""
    settings = KeySettings(scheme="descending", length=9, words="First Edition")
    assert make(settings, 1) == make(settings, 2) == "9 8 7 6 5 4 3 2"
    assert [words_over(settings, n) for n in (1, 2)] == ["First Edition", ""]


def test_the_years_may_stand_before() -> None:
    """Source: Chicago Manual of Style Q&A, "Impression Line" (reprint of 22 June 2005)."""
    settings = KeySettings(length=5, years=10, side="before", gap=" ")
    assert make(settings, 1, 2005) == "14 13 12 11 10 09 08 07 06 05 1 2 3 4 5"


@given(SETTINGS, st.integers(1, 26), st.integers(1990, 2030), st.data())
def test_what_is_made_is_read_again(
    settings: KeySettings, printing: int, year: int, data: st.DataObject
) -> None:
    set_in = data.draw(st.integers(year - max(settings.years - 1, 0), year))
    line = make(settings, printing, year, set_in=set_in)
    told = year if settings.years else None
    wanted = Reading(printing, told, settings.printer, settings.scheme)
    assert wanted in read(line, words_over(settings, printing))


@given(SETTINGS, st.lists(st.integers(0, 2), min_size=1, max_size=30))
def test_next_n_times_is_made_at_n(settings: KeySettings, waits: list[int]) -> None:
    if settings.scheme in LETTER_SCHEMES:
        waits = waits[:25]
    record = [Printing(1, 1985)]
    line = make(settings, 1, 1985)
    for n, wait in enumerate(waits, 1):
        year = record[-1].year + wait
        record.append(Printing(n + 1, year))
        words = words_over(settings, n)
        struck = strike(line, year, words=words, printing=n, settings=settings)
        line = struck.line or struck.new_line
        assert line == follow(settings, record)
        assert struck.words_gone == bool(words)


@given(SETTINGS, st.integers(1, 12))
def test_made_at_n_within_one_line(settings: KeySettings, n: int) -> None:
    """As long as the plates last, the line at n is the first one less what was struck."""
    line = make(settings, 1, 2020)
    last = min(n, settings.length)
    for printing in range(1, last):
        words = words_over(settings, printing)
        line = strike(line, 2020, words=words, printing=printing).line
    assert line == make(settings, last, 2020)


def test_another_printer_needs_a_new_line() -> None:
    settings = KeySettings(printer="QX")
    record = [Printing(1, 2026), Printing(2, 2028, "RZ"), Printing(3, 2029, "RZ")]
    assert follow(settings, record) == "3 4 5 6 7 8 9 10 11   RZ"


@pytest.mark.parametrize(
    ("settings", "printing", "year", "said"),
    [
        (KeySettings(scheme="ascendng"), 1, None, "no scheme 'ascendng'"),
        (KeySettings(length=0), 1, None, "length of 0"),
        (KeySettings(length=27, scheme="letters"), 1, None, "letters tell 26 printings"),
        (KeySettings(separator=""), 1, None, "separator"),
        (KeySettings(separator=" x "), 1, None, "hold no letters"),
        (KeySettings(printer="qx!"), 1, None, "no printer's code"),
        (KeySettings(scheme="letters", printer="Q"), 1, None, "cannot be told from"),
        (KeySettings(printer="QX", gap=""), 1, None, "without a gap"),
        (KeySettings(), 0, None, "no printing 0"),
        (KeySettings(scheme="letters"), 27, None, "Letters end"),
        (KeySettings(years=5), 1, None, "in which year"),
    ],
)
def test_settings_that_give_no_line(
    settings: KeySettings, printing: int, year: int | None, said: str
) -> None:
    with pytest.raises(BadInput, match=said):
        make(settings, printing, year)


def test_a_year_the_line_never_had() -> None:
    with pytest.raises(BadInput, match="set in 2026 with 5 years and has none for 2031"):
        make(KeySettings(years=5), 2, 2031, set_in=2026)
