"""All mistakes of all files, each with its line."""

from __future__ import annotations

import pytest

from fitter.book.loader import load_book
from fitter.errors import BadInput
from tests.conftest import BookFolder


def faults(book: BookFolder) -> tuple[str, ...]:
    with pytest.raises(BadInput) as raised:
        load_book(book.folder)
    return raised.value.sentences


def test_a_good_book_is_one_value(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "").write("f.tex", "")
    book_folder.write("book.yaml", "source: book.tex\ntrim: 129 x 198 mm\nbuild: make draft\n")
    book_folder.write("fillers.yaml", "fillers:\n  - {id: f, source: f.tex, pages: 1..3}\n")
    book = load_book(book_folder.folder)
    assert book.settings.trim and book.settings.trim.width_mm == 129
    assert book.settings.build == ("make", "draft")
    assert book.catalogue[0].pages == (1, 3)
    assert book.output == book_folder.folder / "build/book.pdf"
    assert book.inserts == book_folder.folder / "book-inserts.tex"


def test_a_key_without_a_value_is_told_as_that(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write(
        "book.yaml", "title:\nsource: book.tex\nbinding:\n  gathering:\n  short: [~]\n"
    )
    assert faults(book_folder) == (
        "book.yaml:1: 'title' has no value. Write one.",
        "book.yaml:4: 'gathering' has no value. Write one.",
        "book.yaml:5: 'short, entry 1' has no value. Write one.",
    )


def test_a_number_is_no_key(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "").write("book.yaml", "source: book.tex\n")
    book_folder.write("fillers.yaml", "fillers:\n  - {1: x, id: q, page: notes}\n")
    assert faults(book_folder) == ("fillers.yaml:2: 1 is no key: a key is a word. Take it out.",)


def test_all_mistakes_are_told_at_once(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write(
        "book.yaml", "source: book.tex\nengine: latex\nbinding: {gathering: 15}\ntrim: 5 x 7\n"
    )
    book_folder.write(
        "fillers.yaml",
        "fillers:\n"
        "  - {id: a, page: notes, priotity: 3}\n"
        "  - {id: b, page: notes, pages: 0..3, priority: high}\n"
        "  - {id: c, source: ../../outside.tex}\n"
        "  - {id: d, source: nowhere.tex, needs: [aa]}\n"
        "  - {id: d, page: notes}\n"
        "  - {id: e}\n",
    )
    book_folder.write(
        "printings.yaml", "printings:\n- {printing: 1, year: 2026}\n- {printing: 3, year: 2027}\n"
    )
    told = faults(book_folder)
    for wanted in (
        "book.yaml:2: 'engine' is one of 'pdflatex', 'lualatex', 'xelatex' or 'typst'",
        "book.yaml:3: a gathering of 15 pages cannot be folded",
        "book.yaml:4: a trim reads like '129 x 198 mm'",
        "fillers.yaml:2: unknown key 'priotity'. Did you mean 'priority'?",
        "fillers.yaml:3: a range of pages goes upwards from 1",
        "fillers.yaml:3: 'priority' should be a whole number, not 'high'",
        "fillers.yaml:4: '../../outside.tex' leads out of the book's folder",
        "fillers.yaml:5: the filler's file 'nowhere.tex' is not there",
        "fillers.yaml:5: 'd' needs 'aa', and there is no such filler. Did you mean 'a'?",
        "fillers.yaml:6: the id 'd' is used twice",
        "fillers.yaml:7: 'e' needs a 'source'",
        "printings.yaml:3: printing 3 stands where printing 2 is due",
    ):
        assert any(sentence.startswith(wanted) for sentence in told), (wanted, told)
    assert len(told) == 12


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        (
            ["{id: a, page: notes}", "{id: x, page: notes, needs: [x]}"],
            "fillers.yaml:3: 'x' needs itself. Take that out.",
        ),
        (
            ["{id: a, page: notes, needs: [x], excludes: [x]}", "{id: x, page: notes}"],
            "fillers.yaml:2: 'a' both needs and excludes 'x'. Keep one of the two.",
        ),
        (
            [
                "{id: a, page: notes, required: true}",
                "{id: x, page: notes, required: true, excludes: a}",
            ],
            "fillers.yaml:3: 'x' and 'a' must both be in (required, or needed by one that is), "
            "yet 'x' excludes 'a'. Take that out, or 'required' of one of them.",
        ),
    ],
)
def test_a_catalogue_that_contradicts_itself_is_told_with_its_line(
    book_folder: BookFolder, entries: list[str], said: str
) -> None:
    book_folder.write("book.tex", "").write("book.yaml", "source: book.tex\n")
    book_folder.write("fillers.yaml", "fillers:\n" + "".join(f"  - {one}\n" for one in entries))
    assert faults(book_folder) == (said,)


def test_a_link_that_leads_out_is_refused(book_folder: BookFolder, tmp_path_factory) -> None:  # type: ignore[no-untyped-def]
    outside = tmp_path_factory.mktemp("outside") / "secret.tex"
    outside.write_text("secret")
    book_folder.write("book.tex", "").write("book.yaml", "source: book.tex\n")
    (book_folder.folder / "link.tex").symlink_to(outside)
    book_folder.write("fillers.yaml", "fillers:\n  - {id: f, source: link.tex}\n")
    assert "leads out of the book's folder" in faults(book_folder)[0]


@pytest.mark.parametrize("key", ["fillers", "printings", "printer"])
def test_a_file_that_the_book_names_and_that_is_not_there(
    book_folder: BookFolder, key: str
) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", f"source: book.tex\n{key}: nope.yaml\n")
    assert faults(book_folder) == (
        f"book.yaml:2: the file 'nope.yaml' is not there. Mend '{key}' or add the file.",
    )


def test_a_missing_file_names_the_remedy(book_folder: BookFolder) -> None:
    assert "fitter init" in faults(book_folder)[0]


def test_a_source_that_is_not_there_is_told(book_folder: BookFolder) -> None:
    book_folder.write("book.yaml", "source: bok.tex\n")
    assert faults(book_folder) == (
        "book.yaml:1: source 'bok.tex' is not there. Mend 'source' or add the file.",
    )


def test_a_rule_nobody_has_is_told(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nrules:\n  blank-unmarkd: off\n")
    assert "Did you mean 'blank-unmarked'?" in faults(book_folder)[0]


def test_a_bare_off_is_a_severity(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nrules:\n  blank-unmarked: off\n")
    assert load_book(book_folder.folder).settings.rules == {"blank-unmarked": "off"}


def test_an_order_of_lines_that_holds_a_list_is_told(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nimprint: {order: [[key], {isbn: 1}]}\n")
    assert "'['key']' is no order of lines; say" in faults(book_folder)[0]


@pytest.mark.parametrize("mark", ['""', "{openers: ' '}"])
def test_a_mark_says_something(book_folder: BookFolder, mark: str) -> None:
    book_folder.write("book.yaml", f"source: book.tex\nblanks:\n  mark: {mark}\n")
    assert any("a mark says something" in fault for fault in faults(book_folder))


def test_a_year_that_no_key_can_say_is_refused(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "").write("book.yaml", "source: book.tex\n")
    book_folder.write("printings.yaml", "printings:\n  - {printing: 1, year: 2200}\n")
    assert faults(book_folder) == ("printings.yaml:2: 'year' is 2199 or less, not 2200.",)
