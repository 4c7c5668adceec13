"""Tables fit 80 columns and their numbers stand below each other; colours only where wanted."""

from __future__ import annotations

import pytest

from fitter.reports.terminal import new_table, shown
from tests.conftest import BookFolder
from tests.reports.terminal_seen import on_a_terminal

PLAN = ("-m", "fitter", "plan", "--pages", "299", "--gathering", "32,16")


def test_numbers_stand_below_each_other() -> None:
    table = new_table()
    table.add_column("way")
    table.add_column("extent", justify="right")
    for way, extent in (("few", 8), ("many", 12_000)):
        table.add_row(way, str(extent))
    lines = shown(table).splitlines()
    assert lines == ["", "way   extent", "────────────", "few        8", "many   12000"]


@pytest.mark.parametrize("command", [["plan"], ["facts", "--formes"], ["printing", "list"]])
def test_tables_fit_80_columns_whatever_they_hold(
    book_folder: BookFolder, command: list[str]
) -> None:
    long = "-".join(["a-very-long-name"] * 4)[:64]
    book_folder.write("book.tex", "").write(
        "book.yaml",
        "title: A Book\nsource: book.tex\nbinding: {gathering: 16}\n"
        "imprint: {year: 2026, key: {length: 30, years: 20, printer: QX}}\n",
    )
    book_folder.write(
        "fillers.yaml", f"fillers:\n  - {{id: {long}, page: notes, pages: 1..30, priority: 1}}\n"
    )
    book_folder.write(
        "printings.yaml", f"printings:\n  - {{printing: 1, year: 2026, note: {long * 3}}}\n"
    )
    pages = [] if command[0] == "printing" else ["--pages", "283"]
    said = book_folder.fitter(*command, *pages)
    assert said.status == 0, said.err
    table = said.out.split("───\n", 1)[1].split("\n\n")[0]
    assert table
    assert max(map(len, table.splitlines())) <= 80


def test_styles_on_a_terminal_and_none_with_no_color() -> None:
    assert "\x1b[1m" in on_a_terminal(*PLAN)
    assert "\x1b" not in on_a_terminal(*PLAN, NO_COLOR="1")


def test_the_way_taken_is_told_without_colours_too(book_folder: BookFolder) -> None:
    said = book_folder.fitter(*PLAN[2:]).out
    assert "\x1b" not in said
    [taken] = [line for line in said.splitlines() if line.startswith("▸")]
    assert "304" in taken


def test_the_closing_sentence_comes_last(book_folder: BookFolder) -> None:
    said = book_folder.fitter("plan", "--pages", "288").out
    assert said.splitlines()[-1] == "288 pages, 18 gatherings of 16."
