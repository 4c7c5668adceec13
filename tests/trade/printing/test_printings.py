from __future__ import annotations

import pytest

from fitter.trade.printing.printings import Printing, code_faults, record_faults

GOOD = (Printing(1, 2026), Printing(2, 2028, "QX", "2028-03-01"), Printing(3, 2028))


def test_a_good_record() -> None:
    assert record_faults(dict(enumerate(GOOD)), published=2026) == []


@pytest.mark.parametrize(
    ("record", "entry", "key", "said"),
    [
        ([Printing(2, 2026)], 0, "printing", "printing 2 stands where printing 1 is due"),
        ([*GOOD, Printing(5, 2030)], 3, "printing", "where printing 4 is due"),
        ([*GOOD, Printing(3, 2030)], 3, "printing", "printing 3 stands twice"),
        ([*GOOD, Printing(4, 2027)], 3, "year", "of 2027 cannot come after printing 3 of 2028"),
        ([Printing(1, 2025)], 0, "year", "before the copyright year 2026"),
        ([Printing(1, 2026, "", "2027-01-01")], 0, "date", "is not in the year 2026"),
    ],
)
def test_what_cannot_be_true(record: list[Printing], entry: int, key: str, said: str) -> None:
    (fault,) = record_faults(dict(enumerate(record)), published=2026)
    assert (fault.entry, fault.key) == (entry, key)
    assert said in fault.said


def test_a_name_is_no_code() -> None:
    record = {0: Printing(1, 2026, "QX"), 1: Printing(2, 2028, "Quist & Xander")}
    (fault,) = code_faults(record)
    assert (fault.entry, fault.key) == (1, "printer")
    assert "'Quist & Xander' is no printer's code" in fault.said


def test_an_entry_is_one_impression_of_one_edition() -> None:
    """Source: G. T. Tanselle, "Notes on Recent Work in Descriptive Bibliography", Studies in
    Bibliography 60: "impression (or printing) denotes all copies of an edition printed in one
    continuous (even if multi-day) operation"; an issue is a group of copies within one, so it has
    no entry of its own and no number."""
    assert [one.printing for one in GOOD] == list(range(1, len(GOOD) + 1))
    same_number = {0: GOOD[0], 1: Printing(1, 2026, note="a second issue")}
    assert [fault.key for fault in record_faults(same_number)] == ["printing"]
