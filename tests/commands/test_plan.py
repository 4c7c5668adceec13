"""`fitter plan` without any PDF, and with one."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
CATALOGUE = """fillers:
  - {id: bio, page: notes, pages: 1, priority: 1}
  - {id: titles, page: notes, pages: 2, priority: 2}
  - {id: notes, page: notes, pages: 1..8, priority: 5}
"""


@pytest.fixture
def book(book_folder: BookFolder) -> BookFolder:
    """A book of YAML alone."""
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nbinding: {gathering: 16}\n")
    return book_folder.write("fillers.yaml", CATALOGUE)


def test_299_pages_in_16s_leave_5_over(book: BookFolder) -> None:
    plan = book.fitter("plan", "--pages", "299", "--format", "json")
    assert plan.status == 0
    report = plan.report
    assert report["text_pages"] == 299
    assert report["extent"] == 304
    assert report["left_over"] == 5
    assert report["gatherings"] == [16] * 19
    assert [(f["id"], f["pages"], f["first_page"]) for f in report["fillers"]] == [
        ("bio", 1, 300),
        ("titles", 2, 301),
        ("notes", 2, 303),
    ]
    assert set(report) == {
        "text_pages",
        "extent",
        "left_over",
        "gatherings",
        "fillers",
        "end_blanks",
        "options",
    }


def test_the_alternatives_have_the_trade_s_extents(book: BookFolder) -> None:
    """Common practice, no source: 299 pages are 300 in 4s and 320 in 32s."""
    options = book.fitter("plan", "--pages", "299", "--format", "json").report["options"]
    extents = {option["gathering"]: option["extent"] for option in options}
    assert extents[4] == 300
    assert extents[32] == 320
    assert all(sum(option["gatherings"]) == option["extent"] for option in options)


def test_sizes_of_the_command_line_override_the_binding(book: BookFolder) -> None:
    plan = book.fitter(
        "plan", "--pages", "289", "--gathering", "16", "--short", "8,4", "--format", "json"
    )
    assert plan.report["gatherings"] == [16] * 18 + [4]


@pytest.mark.parametrize("pages", ["303", "304", "299"])
def test_a_blank_line_stands_before_the_ways_to_fold(book: BookFolder, pages: str) -> None:
    book.write("fillers.yaml", "fillers:\n  - {id: bio, page: notes, pages: 5}\n")
    assert "\n\nWays to fold it" in book.fitter("plan", "--pages", pages).out


def test_a_table_for_people_fits_80_columns(book: BookFolder) -> None:
    shown = book.fitter("plan", "--pages", "299").out
    assert "304 pages, 19 gatherings of 16. Filled 5 pages: bio 1, titles 2, notes 2." in shown
    assert max(map(len, shown.splitlines())) <= 80


def test_the_caution_stands_in_what_people_read(book: BookFolder) -> None:
    shown = book.fitter("plan", "--pages", "299").out
    assert shown.count("Printer, binder and publisher have the last word.") == 1


def test_what_cannot_be_filled_is_exit_1_with_the_table(book: BookFolder) -> None:
    book.write("fillers.yaml", "fillers: []\n")
    plan = book.fitter("plan", "--pages", "299")
    assert plan.status == 1
    assert "Ways to fold it" in plan.out
    assert "a 3-page filler" in plan.err


@pytest.mark.parametrize(
    ("arguments", "wanted"),
    [
        (["--gathering", "15"], "multiple of 4"),
        (["--gathering", "many"], "sizes read like 16 or 32,16"),
        (["--short", "32"], "short"),
        (["--pages", "0"], "0"),
    ],
)
def test_sizes_that_do_not_fold_are_exit_2(
    book: BookFolder, arguments: list[str], wanted: str
) -> None:
    plan = book.fitter("plan", "--pages", "299", *arguments)
    assert plan.status == 2
    assert wanted in plan.err
    assert "Traceback" not in plan.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--gathering", "6"], "--gathering: a gathering of 6 pages cannot be folded"),
        (["--gathering", "4"], "--gathering: no short gathering is smaller than"),
        (["--short", "6"], "--short: a gathering of 6 pages cannot be folded"),
    ],
)
def test_one_mistake_is_one_sentence_with_the_option_that_made_it(
    book: BookFolder, arguments: list[str], said: str
) -> None:
    book.write("book.yaml", "source: book.tex\nbinding: {gathering: 16, short: [8]}\n")
    [told] = book.fitter("plan", "--pages", "299", *arguments).err.splitlines()
    assert told.startswith(f"fitter: {said}")


def test_a_plan_writes_nothing(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    book.fitter("build")
    before = {file: file.stat().st_mtime_ns for file in book.folder.rglob("*")}
    assert book.fitter("plan").status == 0
    assert {file: file.stat().st_mtime_ns for file in book.folder.rglob("*")} == before


def test_a_plan_after_the_build_is_the_plan_of_the_build(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    built = book.fitter("build", "--format", "json").report["plan"]
    assert book.fitter("plan", "--format", "json").report == built


def test_without_a_book_the_sizes_alone_make_a_plan(book_folder: BookFolder) -> None:
    plan = book_folder.fitter("plan", "--pages", "318", "--gathering", "32", "--format", "json")
    # Source: Wikipedia, "Intentionally blank page", sect. Uses: 318 pages in 32s are 10
    # signatures, 320 pages in total.
    assert plan.report["extent"] == 320
    assert len(plan.report["gatherings"]) == 10
    assert plan.report["end_blanks"] == 2


def test_without_a_book_what_is_left_over_is_no_fault(book_folder: BookFolder) -> None:
    # Source: Wikipedia, "Even working": 258 pages in 16s are 272, 14 blanks
    said = ("plan", "--pages", "258", "--gathering", "16")
    plan = book_folder.fitter(*said)
    assert plan.status == 0
    assert "272 pages, 17 gatherings of 16. Filled 14 pages: 14 blank at the end." in plan.out
    assert "no catalogue" in plan.err
    assert book_folder.fitter(*said, "--format", "json").report["left_over"] == 14


def test_fillers_not_measured_yet_are_told(make_latex_book: MakeBook) -> None:
    plan = make_latex_book().fitter("plan", "--pages", "30", "--format", "json")
    assert "not measured yet, so left out of this plan: bio, tables" in plan.err
    assert json.loads(plan.out)["extent"] == 32


PRINTER = "gatherings: [32, 16]\nshort: [8]\n"


def test_a_required_front_filler_of_one_page_is_told_why_it_does_not_fit(book: BookFolder) -> None:
    one = "{id: praise, page: notes, pages: 1, place: front, required: true}"
    book.write("fillers.yaml", f"fillers:\n  - {one}\n")
    plan = book.fitter("plan", "--pages", "299")
    assert plan.status == 1
    assert "even number of pages in all, and those required ('praise') take 1. What" in plan.err


def test_a_front_filler_that_is_never_placed_is_told(book: BookFolder) -> None:
    one = "  - {id: praise, page: notes, pages: 1, place: front}\n"
    book.write("fillers.yaml", CATALOGUE + one)
    told = "fillers.yaml:5: 'praise' is never placed, for front fillers take an even number"
    assert told in book.fitter("plan", "--pages", "299").err
    book.write("fillers.yaml", CATALOGUE + one + one.replace("praise", "map"))
    assert "never placed" not in book.fitter("plan", "--pages", "299").err


def test_a_printer_without_prices_offers_what_it_folds_and_no_more(book: BookFolder) -> None:
    book.write("printer.yaml", PRINTER)
    said = ("plan", "--pages", "115", "--printer", "printer.yaml")
    report = book.fitter(*said, "--format", "json").report
    assert {option["gathering"] for option in report["options"]} == {32, 16}
    refused = book.fitter(*said, "--gathering", "8")
    assert refused.status == 2
    assert "only as a short one" in refused.err


def test_a_stitched_book_is_nested_of_the_sheets_that_make_it_shortest(book: BookFolder) -> None:
    book.write("printer.yaml", PRINTER)
    book.write("book.yaml", "source: book.tex\nbinding: {style: saddle}\nprinter: printer.yaml\n")
    plan = book.fitter("plan", "--pages", "50")
    sheets = "1 sheet of 32, 1 sheet of 16, 1 sheet of 8"
    assert f"56 pages, 1 gathering of 56, nested from {sheets}." in " ".join(plan.out.split())
    report = book.fitter("plan", "--pages", "50", "--format", "json").report
    assert [32, 16, 8] in [option.get("nested") for option in report["options"]]


def test_single_leaves_at_a_printer_of_gatherings(book: BookFolder) -> None:
    # common practice, no source: 51 pages on single leaves are 52
    book.write("printer.yaml", PRINTER)
    book.write("book.yaml", "source: book.tex\nbinding: {style: cut-sheet}\n")
    said = ("plan", "--pages", "51", "--printer", "printer.yaml")
    assert book.fitter(*said, "--format", "json").report["gatherings"] == [2] * 26
