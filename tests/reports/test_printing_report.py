from __future__ import annotations

from fitter.reports.printing_report import record_json, record_text
from fitter.trade.printing.printings import Printing

RECORD = [
    (Printing(1, 2026, "QX", copies=2000), "1 2 3", False),
    (Printing(2, 2028, date="2028-03-01", extent=304, note="two misprints"), "2 3", True),
]


def test_what_is_not_known_is_null() -> None:
    first, second = record_json(RECORD)["printings"]
    assert (first["extent"], first["note"], first["kept"]) == (None, None, False)
    assert (second["printer"], second["date"], second["key"]) == (None, "2028-03-01", "2 3")


def test_the_table_has_a_row_for_each_and_80_columns() -> None:
    table = record_text(RECORD)
    assert "2028-03-01" in table
    assert "two misprints" in " ".join(table.split())
    assert max(map(len, table.splitlines())) <= 80


def test_an_empty_record() -> None:
    assert record_text([]) == "No printing is recorded yet."
