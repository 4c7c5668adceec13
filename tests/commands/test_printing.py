"""The record of printings and the comparison of two, as a user meets them, in real TeX."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pymupdf
import pytest
import yaml

from tests.conftest import ROOT, BookFolder, latex_source


@pytest.fixture(scope="module")
def built_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A built book with a record that a person has commented."""
    book = BookFolder(tmp_path_factory.mktemp("book"))
    book.write("book.tex", latex_source(lengths=(30, 8, 20)))
    book.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\nbinding: {gathering: 8}\n"
        "imprint: {year: 2026, key: {years: 5, printer: QX}}\n",
    )
    book.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..8}\n")
    book.write(
        "printings.yaml",
        "# by hand\nprintings:\n  - {printing: 1, year: 2026}   # the first\n# more to come\n",
    )
    ran = book.fitter("build")
    assert ran.status == 0, ran.err
    return book.folder


@pytest.fixture
def built(built_once: Path, tmp_path: Path) -> BookFolder:
    """The built book, to be changed at will."""
    shutil.copytree(built_once, tmp_path / "book")
    return BookFolder(tmp_path / "book")


def record_of(book: BookFolder) -> list[dict[str, object]]:
    text = (book.folder / "printings.yaml").read_text(encoding="utf-8")
    entries: list[dict[str, object]] = yaml.safe_load(text)["printings"]
    return entries


def test_fillers_are_known_however_the_pdf_is_named(built: BookFolder) -> None:
    pdf = built.folder / "build/book.pdf"
    assert built.fitter("printing", "add", "--year", "2027", "--pdf", pdf.resolve()).status == 0
    kept = (built.folder / "printings-2.json").read_text()
    assert '"role": "filler"' in kept


def test_a_printing_is_entered_kept_and_its_key_follows(built: BookFolder) -> None:
    added = built.fitter("printing", "add", "--year", "2028", "--copies", "900", "--note", "a: b")
    assert added.status == 0, added.err
    assert "Its key: 2 3 4 5 6 7 8 9 10   QX   30 29 28" in added.out
    assert "Nothing is kept of printing 1" in added.out
    text = (built.folder / "printings.yaml").read_text(encoding="utf-8")
    assert text.startswith("# by hand\nprintings:\n  - {printing: 1, year: 2026}   # the first\n")
    assert text.endswith("# more to come\n")
    extent = len(pymupdf.open(built.folder / "build/book.pdf"))
    assert record_of(built)[1] == {
        "printing": 2,
        "year": 2028,
        "copies": 900,
        "extent": extent,
        "note": "a: b",
    }
    assert (built.folder / "printings-2.json").is_file()


def test_the_first_printing_of_the_record_is_kept_when_it_is_named(built: BookFolder) -> None:
    record = (built.folder / "printings.yaml").read_bytes()
    kept = built.fitter("printing", "add", "--printing", "1")
    assert kept.status == 0, kept.err
    assert "The pages of printing 1 of 2026 are kept in printings-1.json." in kept.out
    assert (built.folder / "printings.yaml").read_bytes() == record
    added = built.fitter("printing", "add", "--year", "2027", "--format", "json")
    assert added.report["comparison"]["verdict"] == "new printing"
    assert built.fitter("printing", "add", "--printing", "2").status == 2, "it is kept already"
    again = built.fitter("printing", "add", "--printing", "2", "--copies", "500")
    assert again.status == 2
    assert "stands" in again.err


def test_a_file_of_the_author_s_under_the_name_stays(built: BookFolder) -> None:
    built.write("printings-2.json", '{"my": "own"}')
    record = (built.folder / "printings.yaml").read_bytes()
    added = built.fitter("printing", "add", "--year", "2027")
    assert added.status == 2
    assert "printings-2.json: this is no fingerprint of a printing" in added.err
    assert (built.folder / "printings-2.json").read_text() == '{"my": "own"}'
    assert (built.folder / "printings.yaml").read_bytes() == record


def test_the_extent_is_the_one_that_is_built_then(built: BookFolder) -> None:
    printer = (ROOT / "sample_book/printer.yaml").read_text(encoding="utf-8")
    book_yaml = (built.folder / "book.yaml").read_text().replace("binding: {gathering: 8}\n", "")
    built.write("printer.yaml", printer)
    built.write("book.tex", latex_source(lengths=(80, 150, 165)))
    built.write("book.yaml", f"{book_yaml}printer: printer.yaml\npaper: cream-80\n")
    built.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..40}\n")
    assert built.fitter("build").status == 0
    pages = len(built.fitter("check", "--format", "json").report["pages"])
    added = built.fitter("printing", "add", "--year", "2028", "--copies", "100")
    assert added.status == 0, added.err
    extent = record_of(built)[-1]["extent"]
    assert extent != pages, "for few copies three large sheets are cheaper than four of three sizes"
    assert built.fitter("build").status == 0
    checked = built.fitter("check", "--format", "json")
    assert len(checked.report["pages"]) == extent
    assert "is said to have" not in checked.err
    again = built.fitter("printing", "add", "--year", "2029", "--copies", "100")
    assert "The extent was" not in again.out


def test_a_new_edition_is_entered_with_the_way_back(built: BookFolder) -> None:
    built.fitter("printing", "add", "--printing", "1")
    built.write("book.tex", latex_source(lengths=(3, 90, 40)).replace("river", "harbour wall"))
    built.write("book.yaml", (built.folder / "book.yaml").read_text() + "compare: {new_pages: 0}\n")
    assert built.fitter("build").status == 0
    added = built.fitter("printing", "add", "--year", "2027", "--format", "json")
    assert added.report["comparison"]["verdict"] == "new edition"
    assert "take the last entry out of printings.yaml, delete printings-2.json" in added.err


def test_a_record_with_another_extent_is_told(built: BookFolder) -> None:
    pages = len(built.fitter("check", "--format", "json").report["pages"])
    built.write("printings.yaml", "printings:\n  - {printing: 1, year: 2026, extent: 7}\n")
    checked = built.fitter("check")
    assert f"printings.yaml:2: printing 1 is said to have 7 pages, and the PDF has {pages}." in (
        checked.err
    )


def test_the_key_is_told_in_one_way(built: BookFolder) -> None:
    built.fitter("printing", "add", "--printing", "1")
    added = built.fitter("printing", "add", "--year", "2027", "--printer", "ZZ")
    assert "newly set" in added.out
    assert "The key continues" not in added.out


def test_the_year_left_out_is_the_one_that_builds_repeat(built: BookFolder) -> None:
    added = built.fitter("printing", "add", SOURCE_DATE_EPOCH="1830297600")
    assert added.status == 0, added.err
    record = (built.folder / "printings.yaml").read_text()
    assert "printing: 2, year: 2028" in record
    before = record
    refused = built.fitter("printing", "add", SOURCE_DATE_EPOCH="abc")
    assert refused.status == 2
    assert "SOURCE_DATE_EPOCH: 'abc' is no moment" in refused.err
    assert (built.folder / "printings.yaml").read_text() == before


def test_the_gate_asks_for_the_new_key_until_the_book_is_built_again(built: BookFolder) -> None:
    built.fitter("printing", "add", "--year", "2028")
    stale = built.fitter("check")
    assert stale.status == 1
    assert "says printing 1, and the record printing 2" in stale.out
    assert built.fitter("build").status == 0


def test_the_same_text_is_a_new_printing_without_the_old_pdf(built: BookFolder) -> None:
    """Source: ISBN Users' Manual 5.1 (older): not "to an unchanged impression"."""
    built.fitter("printing", "add", "--year", "2028")
    built.fitter("build")
    again = built.fitter("printing", "add", "--year", "2029", "--format", "json").report
    assert again["printing"] == 3
    assert again["comparison"]["verdict"] == "new printing"
    assert {page["kind"] for page in again["comparison"]["pages"] if page["role"] == "text"} == {
        "same"
    }


def test_a_corrected_misprint_is_found_against_the_record(built: BookFolder) -> None:
    built.fitter("printing", "add", "--year", "2028")
    source = built.folder / "book.tex"
    changed = source.read_text(encoding="utf-8").replace("who had been", "who ad been", 1)
    source.write_text(changed, encoding="utf-8")
    built.fitter("build")
    report = built.fitter("printing", "add", "--year", "2029", "--format", "json").report
    found = report["comparison"]
    assert found["verdict"] == "corrected printing"
    changed_pages = [p for p in found["pages"] if p["kind"] != "same" and p["role"] == "text"]
    assert [(p["kind"], p["changed_words"]) for p in changed_pages] == [("corrected", 1)]


def test_the_old_pdf_serves_where_nothing_is_kept(built: BookFolder) -> None:
    shutil.copy(built.folder / "build/book.pdf", built.folder / "first.pdf")
    added = built.fitter("printing", "add", "--year", "2028", "--was", "first.pdf")
    assert "New printing." in added.out
    assert (built.folder / "printings-1.json").is_file()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--printing", "1"], "printing 1 stands twice"),
        (["--printing", "5"], "printing 5 stands where printing 2 is due"),
        (["--year", "2025"], "printing 2 of 2025 cannot come after printing 1 of 2026"),
        (["--year", "2027", "--date", "2028-01-01"], "is not in the year 2027"),
        (["--date", "soon"], "'soon' is no date"),
        (["--pdf", "missing.pdf"], "missing.pdf"),
        (["--printer", "q x"], "no printer's code"),
    ],
)
def test_what_cannot_be_true_is_refused_and_nothing_written(
    built: BookFolder, options: list[str], said: str
) -> None:
    before = (built.folder / "printings.yaml").read_bytes()
    added = built.fitter("printing", "add", "--year", "2028", *options)
    assert added.status == 2
    assert said in added.err
    assert "Traceback" not in added.err
    assert (built.folder / "printings.yaml").read_bytes() == before
    assert not list(built.folder.glob("printings-*.json"))


def test_a_record_edited_into_nonsense_has_its_lines_told(built: BookFolder) -> None:
    built.write(
        "printings.yaml",
        "printings:\n  - {printing: 1, year: 2026}\n  - {printing: 3, year: 2020}\n"
        "  - {printing: 2, year: soon}\n  - {printing: 4, year: 2030, date: 2031-01-01}\n",
    )
    listed = built.fitter("printing", "list")
    assert listed.status == 2
    for said in (
        "printings.yaml:3: printing 3 stands where printing 2 is due",
        "printings.yaml:3: printing 3 of 2020 cannot come after printing 1 of 2026",
        "printings.yaml:4: 'year' should be",
        "printings.yaml:5: the date 2031-01-01 is not in the year 2030",
    ):
        assert said in listed.err


def test_two_at_the_same_moment_lose_nothing(built: BookFolder) -> None:
    command = [sys.executable, "-m", "fitter", "printing", "add", "--year", "2028"]
    environment = {"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"}
    runs = [
        subprocess.Popen(
            command,
            cwd=built.folder,
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        for _ in range(3)
    ]
    assert [run.wait() for run in runs] == [0, 0, 0], [run.communicate()[1] for run in runs]
    assert [entry["printing"] for entry in record_of(built)] == [1, 2, 3, 4]
    assert len(list(built.folder.glob("printings-*.json"))) == 3


def test_the_list_shows_the_key_of_each_printing(built: BookFolder) -> None:
    built.fitter("printing", "add", "--year", "2028", "--without-pdf", "--printer", "RZ")
    report = built.fitter("printing", "list", "--format", "json").report
    assert [(entry["key"], entry["kept"]) for entry in report["printings"]] == [
        ("1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26", False),
        ("2 3 4 5 6 7 8 9 10 11   RZ   32 31 30 29 28", False),
    ]
    table = built.fitter("printing", "list").out
    assert "printing" in table
    assert max(map(len, table.splitlines())) <= 80


def test_a_record_outside_the_folder_is_not_written(built: BookFolder) -> None:
    outside = built.folder.parent / f"{built.folder.name}-outside.yaml"
    outside.write_text("printings: []\n")
    settings = (built.folder / "book.yaml").read_text()
    built.write("book.yaml", f"{settings}printings: ../{outside.name}\n")
    added = built.fitter("printing", "add", "--year", "2028")
    assert added.status == 2
    assert "leads out of the book's folder" in added.err
    assert outside.read_text() == "printings: []\n"


def scan(path: Path) -> Path:
    """A PDF whose pages are pictures of pages."""
    typed = pymupdf.open()
    scanned = pymupdf.open()
    for number in range(4):
        page = typed.new_page(width=300, height=420)
        page.insert_text((40, 60 + 20 * number), f"It rained on the {number}th day.")
        picture = page.get_pixmap(dpi=72)
        scanned.new_page(width=300, height=420).insert_image((0, 0, 300, 420), pixmap=picture)
    scanned.save(path)
    return path


def test_a_scan_is_refused_with_the_reason(built: BookFolder) -> None:
    old = scan(built.folder / "old.pdf")
    ran = built.fitter("printing", "compare", old, "build/book.pdf")
    assert ran.status == 2
    assert "4 of 4 pages are pictures without text, as in a scan" in ran.err


def test_another_trim_is_another_edition(built: BookFolder) -> None:
    """Source: Roberts & Etherington, s.v. impression: "the resultant impression is a different
    edition"."""
    larger = pymupdf.open(built.folder / "build/book.pdf")
    for page in larger:
        page.set_mediabox(pymupdf.Rect(0, 0, page.rect.width + 40, page.rect.height + 40))
    larger.save(built.folder / "larger.pdf")
    report = built.fitter(
        "printing", "compare", "build/book.pdf", "larger.pdf", "--format", "json"
    ).report
    assert report["verdict"] == "new edition"
    assert report["evidence"][0].startswith("The trim was")


def test_limits_come_from_the_book(built: BookFolder) -> None:
    settings = (built.folder / "book.yaml").read_text()
    built.write("book.yaml", f"{settings}compare: {{corrected_words: 3, changed_words: 0.5}}\n")
    report = built.fitter(
        *("printing", "compare", "build/book.pdf", "build/book.pdf", "--book", "."),
        *("--format", "json"),
    ).report
    assert report["limits"]["corrected_words"] == 3
    assert report["limits"]["changed_words"] == 0.5


@pytest.mark.parametrize("name", ["missing.pdf", "book.tex", "empty.pdf"])
def test_what_is_no_pdf_is_told(built: BookFolder, name: str) -> None:
    (built.folder / "empty.pdf").touch()
    ran = built.fitter("printing", "compare", name, "build/book.pdf")
    assert ran.status == 2
    assert name in ran.err
    assert "Traceback" not in ran.err


def imprint_pdf(path: Path, text: str) -> Path:
    document = pymupdf.open()
    page = document.new_page(width=366, height=561)
    page.insert_text((40, 60), "First edition 2026\nISBN 978-1-234-56789-7", fontsize=9)
    for number in range(12):
        page = document.new_page(width=366, height=561)
        for line in range(10):
            words = " ".join(f"{text}{number}x{line}x{n}" for n in range(5))
            page.insert_text((40, 60 + 14 * line), words, fontsize=9)
    document.save(path)
    return path


def test_a_new_edition_under_the_old_isbn_is_warned_of(book_folder: BookFolder) -> None:
    """Source: ISBN Users' Manual 5.1 (older): "Revised editions require a new ISBN"."""
    old = imprint_pdf(book_folder.folder / "old.pdf", "a")
    new = imprint_pdf(book_folder.folder / "new.pdf", "b")
    report = book_folder.fitter("printing", "compare", old, new, "--format", "json").report
    assert report["verdict"] == "new edition"
    assert report["warnings"] == [
        "Both carry the ISBN 978-1-234-56789-7; a new edition takes its own."
    ]


def test_a_new_statement_over_the_old_isbn_is_warned_of_by_the_gate(
    book_folder: BookFolder,
) -> None:
    book_folder.write("book.tex", "")
    imprint_pdf(book_folder.folder / "book.pdf", "a")
    settings = (
        "source: book.tex\noutput: book.pdf\nbinding: {style: cut-sheet}\n"
        "imprint: {year: 2026, edition: %s, isbn: 978-1-234-56789-7}\n"
    )
    book_folder.write("book.yaml", settings % "First edition")
    assert book_folder.fitter("printing", "add", "--year", "2026").status == 0

    def rules() -> list[str]:
        report = book_folder.fitter("check", "--format", "json").report
        return [finding["rule"] for finding in report["findings"]]

    assert "isbn-old" not in rules()
    book_folder.write("book.yaml", settings % "Second edition")
    assert "isbn-old" in rules()
