"""`fitter plan` with a printer's prices, as a user meets it."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from tests.conftest import ROOT, BookFolder

PRINTER = (ROOT / "sample_book" / "printer.yaml").read_text(encoding="utf-8")
CATALOGUE = """fillers:
  - {id: bio, page: notes, pages: 2, priority: 1}
  - {id: notes, page: notes, pages: 1..30, priority: 5}
"""


@pytest.fixture
def book(book_folder: BookFolder) -> BookFolder:
    """A book of YAML alone, at a printer with prices."""
    book_folder.write("book.tex", "").write("printer.yaml", PRINTER)
    book_folder.write("fillers.yaml", CATALOGUE)
    return book_folder.write(
        "book.yaml",
        "source: book.tex\ntrim: 129 x 198 mm\nprinter: printer.yaml\npaper: cream-80\n"
        "binding: {gathering: 16}\n",
    )


def test_the_cheapest_for_the_number_of_copies(book: BookFolder) -> None:
    plan = book.fitter("plan", "--pages", "299", "--copies", "2000", "--format", "json")
    assert plan.status == 0
    report = plan.report
    assert report["gatherings"] == [32] * 9 + [16]
    cost = report["cost"]
    # own arithmetic on the formula of the README
    paper_kg = 2060 * 152 * 0.129 * 0.198 * 1.08 * 0.080
    assert cost == {
        "total": round(1160 + 2060 * 0.203 + paper_kg * 1.10, 2),
        "make_ready": 1160.0,
        "run": 418.18,
        "paper": round(paper_kg * 1.10, 2),
        "paper_kg": round(paper_kg, 3),
        "currency": "EUR",
    }
    totals = [option["cost"]["total"] for option in report["options"]]
    assert totals == sorted(totals)
    assert report["options"][0]["gatherings"] == report["gatherings"]
    assert all(set(option["cost"]) == set(cost) for option in report["options"])


def test_without_copies_the_smallest_extent(book: BookFolder) -> None:
    report = book.fitter("plan", "--pages", "289", "--format", "json").report
    assert report["gatherings"] == [16] * 19
    assert "cost" not in report


def test_the_copies_of_the_printing_being_made(book: BookFolder) -> None:
    book.write("printings.yaml", "printings:\n  - {printing: 1, year: 2026, copies: 2000}\n")
    report = book.fitter("plan", "--pages", "299", "--format", "json").report
    assert report["copies"] == 2000
    assert report["gatherings"] == [32] * 9 + [16]


def test_sizes_asked_for_are_the_only_ones(book: BookFolder) -> None:
    said = ("plan", "--pages", "299", "--copies", "2000", "--gathering", "16")
    assert book.fitter(*said, "--format", "json").report["gatherings"] == [16] * 19


def test_sizes_of_the_book_that_the_cheapest_is_not_of_are_told(book: BookFolder) -> None:
    said = ("plan", "--pages", "299", "--copies", "2000")
    told = "book.yaml:5: the sizes of the binding (16) are not held to"
    assert told in book.fitter(*said).err
    assert "not held to" not in book.fitter(*said, "--gathering", "16").err
    assert "not held to" not in book.fitter("plan", "--pages", "299").err
    book.write("printer.yaml", PRINTER.replace("gatherings: [32, 16]", "gatherings: [16]"))
    held = book.fitter(*said, "--format", "json")
    assert held.report["gatherings"] == [16] * 19
    assert "not held to" not in held.err


def test_the_table_has_pages_and_money_side_by_side(book: BookFolder) -> None:
    out = book.fitter("plan", "--pages", "299", "--copies", "2000").out
    assert re.search(r"9×32 \+ 1×16 +304 +5 +1,160\.00 +418\.18 +760\.10 +2,338\.28", out)
    assert re.search(r"10×32 +320 +21 ", out)
    assert "of 11 mixes" in out
    assert "last" in out
    assert max(map(len, out.splitlines())) <= 80


def test_break_evens_and_what_blanks_waste(book: BookFolder) -> None:
    book.write("printer.yaml", PRINTER.replace("8: 55}", "8: 300}").replace("8: 0.010", "8: 0.001"))
    book.write("fillers.yaml", "fillers:\n  - {id: bio, page: notes, pages: 4, priority: 1}\n")
    plan = book.fitter("plan", "--pages", "290", "--copies", "100000", "--format", "json")
    [turn] = plan.report["break_even"]
    for copies, gatherings in ((turn["copies"] - 1, "before"), (turn["copies"], "after")):
        said = ("plan", "--pages", "290", "--copies", copies, "--format", "json")
        assert book.fitter(*map(str, said)).report["gatherings"] == turn[gatherings]
    wasted = plan.report["wasted"]
    assert wasted["pages"] == plan.report["end_blanks"] == 2
    assert wasted["paper_kg"] == round(103_000 * 0.129 * 0.198 * 1.08 * 0.080, 3)
    out = book.fitter("plan", "--pages", "290", "--copies", "100000").out
    assert f"from {turn['copies']:,} copies on" in out
    assert "Blank: 2 pages" in out
    assert " ".join(out.split()).count("printer, binder and publisher have the last word.") == 1


def test_marked_blanks_waste_paper_too(book: BookFolder) -> None:
    book.write("fillers.yaml", "fillers:\n  - {id: empty, page: marked-blank, pages: 1..3}\n")
    said = ("plan", "--pages", "300", "--copies", "2000", "--format", "json")
    assert book.fitter(*said).report["wasted"]["pages"] == 4


def test_the_order_in_the_book_and_the_collation_for_the_binder(book: BookFolder) -> None:
    book.write("printer.yaml", PRINTER.replace("{32: 120", "{32: 1200"))
    said = ("plan", "--pages", "312", "--copies", "2000")
    plan = book.fitter(*said, "--format", "json").report
    assert plan["gatherings"] == [16] * 18 + [8, 16]
    assert plan["collation"] == "A-S8 T4 V8"
    out = book.fitter(*said).out
    assert "In the order of the book: 18×16 + 1×8 + 1×16. Collation: A-S8 T4 V8." in out


def test_a_book_at_a_printer_with_prices_is_built_and_passes(
    make_latex_book: Callable[..., BookFolder],
) -> None:
    settings = "binding: {gathering: 16}\nprinter: printer.yaml\n"
    book = make_latex_book(settings=settings)
    book.write(
        "printer.yaml",
        "gatherings: [16]\nshort: [8, 4]\nshort_at_most: 2\nshort_stands: before-last\n"
        "papers: [{id: white, grammage: 90 g/m2, price: 1.2}]\n"
        "prices:\n  currency: EUR\n  make_ready: {16: 80, 8: 55, 4: 40}\n"
        "  run: {16: 0.014, 8: 0.01, 4: 0.01}\n",
    )
    book.write("printings.yaml", "printings:\n  - {printing: 1, year: 2026, copies: 500}\n")
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.report["check"]["findings"]
    assert "book.yaml:4: the sizes of the binding (16) are not held to" in built.err
    plan = book.fitter("plan", "--format", "json").report
    assert built.report["plan"]["gatherings"] == plan["gatherings"]
    assert plan["extent"] < 32
    assert plan["gatherings"][-1] == 16
    assert len(built.report["check"]["pages"]) == plan["extent"]
    assert plan["cost"]["total"] > 0


def test_matter_that_could_go_elsewhere(book: BookFolder) -> None:
    book.write(
        "fillers.yaml",
        "fillers:\n  - {id: bio, page: notes, pages: 2, required: true, elsewhere: jacket}\n"
        "  - {id: notes, page: notes, pages: 1..30}\n",
    )
    with (book.folder / "book.yaml").open("a") as file:
        file.write(
            "movable:\n  - {id: half-title, pages: 2, part: prelims}\n"
            "  - {id: versos, pages: 4, part: blank-versos}\n"
        )
    said = ("plan", "--pages", "303", "--copies", "2000")
    movable = book.fitter(*said, "--format", "json").report["movable"]
    assert [saving["without"] for saving in movable] == [["bio"], ["versos"], ["half-title"]]
    assert movable[0]["saved_pages"] == 16
    assert movable[0]["saved"] > 0
    assert "With bio (2 pages) on the cover or jacket" in book.fitter(*said).out
    assert "With half-title (2 pages) left out" in book.fitter(*said).out


@pytest.mark.parametrize(
    ("settings", "arguments", "status", "said"),
    [
        ("", ("--paper", "vellum"), 2, "the printer has no paper 'vellum'"),
        ("", ("--gathering", "64"), 2, "the printer folds 32, 16, 8"),
        ("movable: [{id: half-title, pages: 1, part: prelims}]\n", (), 2, "takes 1 page: before"),
        ("", ("--printer", "none.yaml"), 2, "none.yaml: there is no such file"),
        ("", ("--short", "4"), 2, "--short: the binding has a gathering of 4, and the printer"),
    ],
)
def test_mistakes(
    book: BookFolder, settings: str, arguments: tuple[str, ...], status: int, said: str
) -> None:
    with (book.folder / "book.yaml").open("a") as file:
        file.write(settings)
    found = book.fitter("plan", "--pages", "299", "--copies", "2000", *arguments)
    assert found.status == status
    assert said in found.err
    assert "Traceback" not in found.err


def test_what_the_printer_lacks_is_told_by_its_line_with_a_remedy(book: BookFolder) -> None:
    text = (book.folder / "book.yaml").read_text()
    book.write("book.yaml", text.replace("gathering: 16", "gathering: 16, short: [4]"))
    found = book.fitter("plan", "--pages", "299")
    assert found.status == 2
    assert found.err == (
        "fitter: book.yaml:5: the binding has a gathering of 4, and the printer folds 32, 16, 8. "
        "Take a size that it folds, or ask another printer.\n"
    )


@pytest.mark.parametrize("copies", [(), ("--copies", "2000")])
def test_a_paper_that_the_printer_lacks_is_told_with_or_without_copies(
    book: BookFolder, copies: tuple[str, ...]
) -> None:
    found = book.fitter("plan", "--pages", "299", "--paper", "creme-80", *copies)
    assert (found.status, found.err) == (
        2,
        "fitter: --paper: the printer has no paper 'creme-80'. Did you mean 'cream-80'?\n",
    )
    text = (book.folder / "book.yaml").read_text()
    book.write("book.yaml", text.replace("cream-80", "vellum"))
    found = book.fitter("plan", "--pages", "299", *copies)
    assert (found.status, found.err) == (
        2,
        "fitter: book.yaml:4: the printer has no paper 'vellum'. "
        "There are: cream-80, white-90, antique-60.\n",
    )


def test_a_paper_without_a_printer(book_folder: BookFolder) -> None:
    found = book_folder.fitter("plan", "--pages", "299", "--paper", "cream-80")
    assert found.status == 2
    assert "--paper: no printer is known" in found.err


def test_what_the_printer_lacks_is_told_before_anything_is_built(
    make_latex_book: Callable[..., BookFolder],
) -> None:
    book = make_latex_book(settings="binding: {gathering: 12}\nprinter: printer.yaml\n")
    book.write("printer.yaml", "gatherings: [16]\n")
    for command in ("build", "fit"):
        found = book.fitter(command)
        assert found.status == 2
        assert "book.yaml:4: the binding has a gathering of 12" in found.err
        assert not (book.folder / "build").exists()


def test_copies_without_a_printer(book_folder: BookFolder) -> None:
    found = book_folder.fitter("plan", "--pages", "299", "--copies", "2000")
    assert found.status == 2
    assert "no printer is known" in found.err


def test_a_book_longer_than_the_printer_binds(book: BookFolder) -> None:
    found = book.fitter("plan", "--pages", "641", "--copies", "2000")
    assert found.status == 1
    assert "from 48 to 640 pages" in found.err
