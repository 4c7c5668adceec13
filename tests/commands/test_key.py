"""Keys as a user reads, strikes and composes them."""

from __future__ import annotations

import pytest

from tests.conftest import BookFolder


def test_read_tells_printing_year_and_printer(book_folder: BookFolder) -> None:
    """Source: Wikipedia, "Printer's key": 3rd printing, 1996, Acme Printing Corporation."""
    line = "3 4 5 6 7 8 9 10   APC   00 99 98 97 96"
    report = book_folder.fitter("key", "read", line, "--format", "json").report
    reading = {"printing": 3, "year": 1996, "printer": "APC", "scheme": "ascending"}
    assert report == {**reading, "readings": [reading]}
    said = book_folder.fitter("key", "read", *line.split()).out
    assert "printing 3, 1996, printer APC" in said
    assert "Years of two digits are read as 1950 to 2049." in said


def test_words_settle_a_line_from_2(book_folder: BookFolder) -> None:
    """Source: C. Stark, BookThink 91, answer 1."""

    def printings(*words: str) -> list[int]:
        ran = book_folder.fitter("key", "read", "9 8 7 6 5 4 3 2", *words, "--format", "json")
        return [reading["printing"] for reading in ran.report["readings"]]

    assert printings() == [2, 1]
    assert printings("--words", "First Edition") == [1]
    assert printings("--words", "") == [2]


def test_a_key_outranks_the_words_over_it(book_folder: BookFolder) -> None:
    """Source: Biblio, Book Collecting Terminology, "number line"."""
    ran = book_folder.fitter("key", "read", "4 5 6 7 8 9 10", "--words", "First printing 1997")
    assert "printing 4" in ran.out
    assert "the key outranks them" in ran.out


def test_a_key_does_not_tell_states_or_issues(book_folder: BookFolder) -> None:
    """Source: C. Stark, BookThink 91: "In these cases, a number line is powerless to assist"."""
    assert "nothing of states or issues" in book_folder.fitter("key", "read", "1 2 3 4 5").out


def test_what_is_no_key_is_refused(book_folder: BookFolder) -> None:
    ran = book_folder.fitter("key", "read", "call me tomorrow")
    assert ran.status == 2
    assert "'call' is neither a number nor a printer's code" in ran.err
    assert "Traceback" not in ran.err


def test_next_gives_the_line_alone_on_standard_output(book_folder: BookFolder) -> None:
    """Source: Chicago Manual of Style Q&A, "Impression Line" (reprint of 22 June 2005)."""
    line = "14 13 12 11 10 09 08 07 06 05 1 2 3 4 5"
    ran = book_folder.fitter("key", "next", line, "--year", "2007")
    assert (ran.status, ran.out) == (0, "14 13 12 11 10 09 08 07 2 3 4 5\n")
    assert "Printing 2: struck 1, 06, 05." in ran.err


def test_a_year_left_standing_is_told(book_folder: BookFolder) -> None:
    ran = book_folder.fitter("key", "next", "1 2 3 QX 28 27 26")
    assert ran.out == "2 3 QX 28 27 26\n"
    assert "The line still says 2026" in ran.err
    given = book_folder.fitter("key", "next", "1 2 3 QX 28 27 26", "--year", "2027")
    assert given.out == "2 3 QX 28 27\n"
    assert "still says" not in given.err


@pytest.mark.parametrize("line", [("next", "1 2 3 4 5"), ("make",)])
def test_the_caution_is_told_beside_a_line(book_folder: BookFolder, line: tuple[str, ...]) -> None:
    caution = "Printer, binder and publisher have the last word.\n"
    assert book_folder.fitter("key", *line).err.endswith(caution)
    assert caution not in book_folder.fitter("key", *line).out
    assert caution not in book_folder.fitter("key", *line, "-q").err


def test_a_line_that_is_used_up_ends_with_1_and_what_to_set(book_folder: BookFolder) -> None:
    ran = book_folder.fitter("key", "next", "10")
    assert (ran.status, ran.out) == (1, "")
    assert "used up" in ran.err
    assert "11 12 13 14 15 16 17 18 19 20" in ran.err
    report = book_folder.fitter("key", "next", "10", "--format", "json").report
    assert report["new_line"] == "11 12 13 14 15 16 17 18 19 20"


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (["--scheme", "centred"], "1 3 5 7 9 10 8 6 4 2"),  # Source: C. Stark, BookThink 91
        (["--scheme", "letters", "--length", "11"], "A B C D E F G H I J K"),
        (
            ["--years", "5", "--printer", "APC", "--printing", "3", "--year", "1996"],
            "3 4 5 6 7 8 9 10   APC   00 99 98 97 96",  # Source: Wikipedia, "Printer's key"
        ),
        (
            [
                "--years",
                "10",
                "--side",
                "before",
                "--length",
                "5",
                "--year",
                "2005",
                "--separator",
                "-",
                "--gap",
                "/",
            ],
            "14-13-12-11-10-09-08-07-06-05/1-2-3-4-5",
        ),
        (["--words", "First edition", "--length", "4"], "First edition\n2 3 4"),
    ],
)
def test_make(book_folder: BookFolder, options: list[str], line: str) -> None:
    assert book_folder.fitter("key", "make", *options).out == f"{line}\n"


def test_make_from_a_book(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nimprint: {year: 2026, key: {years: 3}}\n")
    entries = "- {printing: 1, year: 2026}\n- {printing: 2, year: 2027}\n"
    book_folder.write("printings.yaml", f"printings:\n{entries}")
    ran = book_folder.fitter("key", "make", "--book", ".")
    assert ran.out == "2 3 4 5 6 7 8 9 10   28 27\n"


def test_settings_that_give_no_line(book_folder: BookFolder) -> None:
    ran = book_folder.fitter("key", "make", "--years", "5")
    assert ran.status == 2
    assert "in which year" in ran.err


def test_faults_in_the_settings_of_a_key_have_their_line(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nimprint:\n  key: {printer: q!}\n")
    ran = book_folder.fitter("key", "make", "--book", ".")
    assert ran.status == 2
    assert "book.yaml:3: 'q!' is no printer's code" in ran.err
