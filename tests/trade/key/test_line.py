from __future__ import annotations

from fitter.trade.key.line import marks_of, numbers_run, years_run


def test_marks_know_where_they_stand() -> None:
    line = "  1-2 · QX"
    marks = marks_of(line)
    assert [mark.text for mark in marks] == ["1", "2", "QX"]
    assert all(line[mark.start : mark.end] == mark.text for mark in marks)


def test_a_run_of_one_number_has_every_order() -> None:
    run = numbers_run(marks_of("7"))
    assert run is not None
    assert run.schemes == ("ascending", "descending", "centred", "centred-mirrored")


def test_letters_set_close_are_taken_apart() -> None:
    run = numbers_run(marks_of("CDEF"))
    assert run is not None
    assert (run.values, run.schemes) == ((3, 4, 5, 6), ("letters",))


def test_years_wrap_at_the_century() -> None:
    """Source: Wikipedia, "Printer's key" (00 99 98 97 96 is 2000 down to 1996)."""
    run = years_run(marks_of("00 99 98 97 96"), since=1950)
    assert run is not None
    assert (run.lowest, max(run.values)) == (1996, 2000)


def test_numbers_of_one_digit_are_no_years() -> None:
    assert years_run(marks_of("1 2 3"), since=1950) is None
