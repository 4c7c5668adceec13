"""The inserts for LaTeX: what they remember of an earlier choice."""

from __future__ import annotations

from dataclasses import replace

from fitter.book.loader import load_book
from fitter.inserts import latex
from fitter.inserts.chosen import Chosen, Passage
from fitter.inserts.content import Inserts, Placement, is_ours
from fitter.trade.fill.choose import Placed
from tests.conftest import BookFolder

TEXT = "0123456789ABCDEF0123456789ABCDEF"
PASSAGE = f"\\fitterSetting{{leading}}{{7}}\n\\fitterShorter{{one.tex}}{{{TEXT}}}{{1}}"
CHOSEN = Chosen(
    {"leading": "0.99"},
    (Passage("chapters/one.tex", TEXT, 2),),
    (Passage("chapters/one.tex", TEXT, 1), Passage("two.tex", TEXT[::-1], 1)),
)


def inserts(book: BookFolder) -> Inserts:
    book.write("book.tex", "").write("fillers.yaml", "fillers:\n  - {id: notes, page: notes}\n")
    book.write(
        "book.yaml",
        "source: book.tex\nblanks: {mark: '\\fitterSetting{leading}{7}'}\n"
        "settings: {leading: {values: [1.00, 0.99]}, grid: {values: [4, 5]}}\n",
    )
    return Inserts(load_book(book.folder), "1 2 3", ("First",), "978", {}, chosen=CHOSEN)


def test_the_part_before_the_choice_is_the_beginning_of_the_whole(book_folder: BookFolder) -> None:
    made = replace(
        inserts(book_folder), placement=Placement((Placed("notes", "back", 1, 9),), end_blanks=1)
    )
    whole, before = latex.render(made), latex.before_choice(made)
    assert whole.removeprefix(before).splitlines() == [
        r"\fitterCandidate{notes}{\fitterNotes{1}{ruled}{Notes}}",
        r"\fitterPlace{back}{notes}",
        r"\fitterEndBlanks{1}",
    ]
    assert is_ours(whole)


def test_choices_are_read_back(book_folder: BookFolder) -> None:
    said = latex.parse(latex.render(inserts(book_folder)))
    assert said == replace(CHOSEN, settings={"leading": "0.99", "grid": "4"})


def test_what_a_filler_says_is_no_choice(book_folder: BookFolder) -> None:
    made = inserts(book_folder)
    book_folder.write("bio.md", "").write(
        "fillers.yaml", "fillers:\n  - {id: bio, source: bio.md}\n"
    )
    filler = replace(made, book=load_book(book_folder.folder), bodies={"bio": PASSAGE})
    assert PASSAGE in latex.render(filler)
    assert latex.parse(latex.render(filler)) == latex.parse(latex.render(made))
    assert latex.for_pandoc(latex.render(filler)) == latex.for_pandoc(latex.render(made))


def test_pandoc_is_run_for_settings_alone(book_folder: BookFolder) -> None:
    assert latex.for_pandoc(latex.render(inserts(book_folder))) == [
        r"\fitterSetting{leading}{0.99}",
        r"\fitterSetting{grid}{4}",
    ]
