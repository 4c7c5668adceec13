"""`fitter facts` as a user meets it."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest

from tests.conftest import ROOT, BookFolder

MakeBook = Callable[..., BookFolder]
PRINTER = ROOT / "sample_book" / "printer.yaml"
ORDER = ("--printer", PRINTER, "--paper", "cream-80", "--trim", "129 x 198 mm")


def test_facts_without_a_pdf_or_a_book(book_folder: BookFolder) -> None:
    found = book_folder.fitter("facts", "--pages", "299", *ORDER, "--format", "json")
    assert found.status == 0
    report = found.report
    assert {
        "extent",
        "text_pages",
        "leaves",
        "gatherings",
        "collation",
        "spine_mm",
        "block_mm",
        "weight_g",
        "onix",
    } <= set(report)
    assert (report["extent"], report["text_pages"], report["leaves"]) == (304, 299, 152)
    assert sum(report["gatherings"]) == 304
    assert report["block_mm"] == 21.89  # own arithmetic: 152 leaves of 0.144 mm
    assert report["spine_mm"] == 22.19  # and 0.3 mm of cover and glue
    assert report["spine_mm_range"] == [21.09, 23.28]  # 5 % of the block, not of the cover
    assert report["weight_g"] == 310.59  # 152 x 0.129 x 0.198 x 80
    assert report["onix"]["06"] == 304
    assert "1.8 cm3/g" in report["formulas"]["block_mm"]
    assert "last word" in report["caution"]


def test_without_a_printer_nothing_is_invented(book_folder: BookFolder) -> None:
    found = book_folder.fitter("facts", "--pages", "299", "--gathering", "16", "--format", "json")
    assert found.status == 0
    assert found.report["spine_mm"] is None
    assert found.report["collation"] == "A-T8"
    assert "no paper is known" in found.err


def test_the_text_has_a_formula_for_each_number(book_folder: BookFolder) -> None:
    found = book_folder.fitter("facts", "--pages", "299", *ORDER)
    assert "152 leaves x (80 g/m2 x 1.8" in found.out
    assert "printer, binder and publisher have the" in found.out
    assert max(map(len, found.out.splitlines())) <= 80


def test_formes_show_where_colour_may_go(book_folder: BookFolder) -> None:
    # from memory: Gaskell, A New Introduction to Bibliography (1972), imposition diagrams
    said = ("facts", "--pages", "30", "--gathering", "16", "--formes")
    found = book_folder.fitter(*said, "--format", "json")
    assert found.report["formes"][0] == [
        {"outer": [1, 4, 5, 8, 9, 12, 13, 16], "inner": [2, 3, 6, 7, 10, 11, 14, 15]}
    ]
    assert found.report["formes"][1][0]["outer"][0] == 17
    assert "17 20 21 24 25 28 29 32" in book_folder.fitter(*said).out


def test_a_stitched_book_is_quired(book_folder: BookFolder) -> None:
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nbinding: {style: saddle}\n")
    said = ("facts", "--pages", "7", "--printer", PRINTER, "--paper", "white-90", "--formes")
    found = book_folder.fitter(*said, "--gathering", "4", "--trim", "148 x 210 mm")
    assert found.status == 2
    assert "the binding has a gathering of 4, and the printer folds 32, 16, 8" in found.err
    book_folder.write("stitcher.yaml", "gatherings: [4]\npapers: [{id: a, caliper: 0.1 mm}]\n")
    found = book_folder.fitter(
        "facts", "--pages", "7", "--printer", "stitcher.yaml", "--formes", "--format", "json"
    )
    assert found.report["gatherings"] == [8]
    assert found.report["formes"] == [
        [{"outer": [1, 8], "inner": [2, 7]}, {"outer": [3, 6], "inner": [4, 5]}]
    ]
    assert found.report["creep_mm"] == [0.0, 0.1]
    assert found.report["spine_mm"] is None


def test_the_onix_fragment_is_well_formed(book_folder: BookFolder) -> None:
    said = ("--front", "12", "--back", "7", "--inserts", "8")
    found = book_folder.fitter("facts", "--pages", "299", *said, "--format", "onix")
    values = [element.text for element in ET.fromstring(found.out).iter() if element.text]
    assert {"280", "12", "7", "299", "312", "307", "8"} <= set(values)


def test_with_pages_alone_no_front_matter_is_invented(book_folder: BookFolder) -> None:
    said = ("facts", "--pages", "299")
    found = book_folder.fitter(*said, "--format", "json")
    assert (found.report["onix"]["00"], found.report["onix"]["03"]) == (None, None)
    assert found.report["onix"]["05"] == 299
    assert "ONIX 00 and 03 are left out: give --front." in found.err
    onix = book_folder.fitter(*said, "--format", "onix")
    codes = [e.text for e in ET.fromstring(onix.out).iter() if e.tag.endswith("ExtentType")]
    assert codes == ["05", "06", "11"]
    assert "have the last word" in onix.err
    given = book_folder.fitter(*said, "--front", "0", "--format", "json")
    assert (given.report["onix"]["00"], given.report["onix"]["03"]) == (299, 0)
    assert "--front" not in given.err
    assert "ONIX 03 not known" in " ".join(book_folder.fitter(*said).out.split())


def test_a_stitched_book_has_no_spine(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nbinding: {style: saddle}\n")
    assert "spine, mm none" in " ".join(book_folder.fitter("facts", "--pages", "7").out.split())


def test_the_specification_has_the_isbn_hyphenated(book_folder: BookFolder) -> None:
    # Source: python-stdnum, stdnum/isbn.py: format('9780471117094') is 978-0-471-11709-4
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nimprint: {isbn: 9780471117094}\n")
    found = book_folder.fitter("facts", "--pages", "299", "--format", "markdown")
    assert "- **ISBN:** 978-0-471-11709-4\n" in found.out


def test_the_specification_is_markdown(book_folder: BookFolder) -> None:
    found = book_folder.fitter("facts", "--pages", "299", *ORDER, "--format", "markdown")
    assert found.out.startswith("# Specification\n\n- **Trimmed page:** 129 × 198 mm")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--front", "200", "--back", "100"), "more than the 299 text pages"),
        (("--trim", "129"), "--trim: a trim reads like"),
        (("--printer", "nobody.yaml"), "nobody.yaml: there is no such file"),
        (("--printer", PRINTER, "--paper", "creme-80"), "Did you mean 'cream-80'?"),
        (("--gathering", "18"), "a gathering of 18 pages cannot be folded"),
    ],
)
def test_mistakes(book_folder: BookFolder, arguments: tuple[str, ...], said: str) -> None:
    found = book_folder.fitter("facts", "--pages", "299", *arguments)
    assert found.status == 2
    assert said in found.err
    assert "Traceback" not in found.err


def test_front_matter_is_known_by_its_roman_folios(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert book.fitter("build", "-q").status == 0
    report = book.fitter("facts", "--format", "json").report
    onix = report["onix"]
    assert onix["03"] > 0
    assert onix["00"] + onix["03"] == report["text_pages"] == onix["05"]
    assert onix["06"] == report["extent"]
    given = book.fitter("facts", "--front", "2", "--format", "json").report["onix"]
    assert given["03"] == 2


def test_absolute_pages_of_a_digital_edition(book_folder: BookFolder) -> None:
    # Source: EDItEUR ONIX code list 23, code 07: only for fixed pages
    said = ("facts", "--pages", "299", "--format", "json")
    assert "07" not in book_folder.fitter(*said).report["onix"]
    assert book_folder.fitter(*said, "--fixed-pages", "303").report["onix"]["07"] == 303
