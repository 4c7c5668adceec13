"""The running text of a Typst draft: marked without moving anything, its lines counted rightly."""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from fitter.book.loader import Book, load_book
from fitter.engines.engine import engine_of
from fitter.engines.text_record import TextRecord
from fitter.errors import BadInput
from fitter.inserts.chosen import Chosen
from fitter.inserts.content import Trial
from fitter.pdf.lines import read_lines
from fitter.steps.draft import read_draft
from fitter.steps.insert import write_for_draft, write_trial
from fitter.steps.text import read_text
from fitter.trade.tighten.blemishes import blemishes
from fitter.trade.tighten.lines import Line, Sheet
from fitter.trade.tighten.text import Text
from tests.conftest import BookFolder, paragraph
from tests.poppler import lines_by_poppler

MakeBook = Callable[..., BookFolder]
MIXED = rf"""# Mixed {{#mixed}}

- a loose item that is long enough to be broken over more than one line of the page, {paragraph(1)}

- another one

1. tight, {paragraph(2)}
2. tight too

> {paragraph(3)}
>
> {paragraph(4)}

\- a paragraph that begins like an item, with a note[^n] and *emphasis* and `code` in it.

(A paragraph in brackets.) {paragraph(5)}

\#panic("no") and \[brackets\], $x^2 + 1$, a [link](#mixed) and **{paragraph(6)}**

{paragraph(7)}[^m]

Yes.

Term
:   {paragraph(8)}

| a | b |
|---|---|
| c | d |

[^n]: A note that is long enough for two lines at the foot of the page: {paragraph(9)}

[^m]: {paragraph(10)}

    {paragraph(11)}
"""


@dataclass(frozen=True, slots=True)
class Draft:
    """What a draft left: the engine's record of its text, and the text as the tool reads it."""

    book: Book
    seen: TextRecord
    text: Text

    @property
    def pdf(self) -> Path:
        return self.book.output


def draft(folder: BookFolder, cuts: Mapping[int, float] | None = None) -> Draft:
    book = load_book(folder.folder)
    engine = engine_of(book)
    write_trial(book, engine, Chosen(), Trial(cuts or {}))
    engine.build(book, lambda text, page=0: None)
    record = read_draft(book, engine).record
    seen = engine.text(book, read_lines(book.output))
    return Draft(book, seen, read_text(book, engine, record))


def layout(pdf: Path) -> bytes:
    """Every word and its place, as poppler reads them."""
    return subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, check=True
    ).stdout


def prose(make: MakeBook) -> BookFolder:
    return make(lengths=(30, 8, 1, 40), front="# Preface {.unnumbered}\n\nWhy.\n")


@pytest.mark.parametrize(
    "record",
    [
        "body{1}{60}{60}{300}{one}{1}",
        "body{1}{60}{1}",
        "body{1}{60}{60}{300}{400}{1}\ntext{1}{a.md}{1}{1}{60}",
        "body{1}{60}{60}{300}{400}{1}\ntext{1}{a.md}{1}{-9}{60}{70}{1}{99}{70}",
        "body{1}{60}{60}{300}{400}{1}\nopens{main}{a.md}{first}{1}{One}",
        "body{1}{60}{60}{300}{400}{1}\nfoot{1}",
    ],
)
def test_nonsense_in_the_record_is_told(make_markdown_book: MakeBook, record: str) -> None:
    book = load_book(make_markdown_book().folder)
    book.record.parent.mkdir(exist_ok=True)
    book.record.write_text(record)
    page = Sheet((Line(72.0, 60.0, 99.0, 10.0, "Words"),), empty=False)
    with pytest.raises(BadInput, match=r"book\.pages: this record of the text makes no sense"):
        engine_of(book).text(book, [page])


def test_the_marks_move_nothing(make_markdown_book: MakeBook) -> None:
    folder = make_markdown_book(lengths=(9, 4)).write("chapters/3.md", MIXED)
    marked = draft(folder)
    assert len(marked.seen.paragraphs) > 20
    before = layout(marked.pdf)
    engine = engine_of(marked.book)
    write_for_draft(marked.book, engine)
    engine.build(marked.book, lambda text, page=0: None)
    assert (
        "fitter-paragraph("
        not in marked.book.output.with_suffix(".typ").read_text().split("#show: fitter-draft")[1]
    )
    assert layout(marked.pdf) == before


def test_every_line_of_the_text_belongs_to_one_paragraph(make_markdown_book: MakeBook) -> None:
    made = draft(prose(make_markdown_book))
    by_poppler = lines_by_poppler(made.pdf)
    bodies = made.seen.bodies
    chapters = [each for each in made.text.chapters if each.matter == "main"]
    assert [len(list(made.text.paragraphs_in(each))) for each in chapters] == [30, 8, 1, 40]
    for chapter in chapters:
        counted = sum(
            sum(
                bodies[page].top < foot <= bodies[page].top + bodies[page].height + 3
                for foot in feet
            )
            for page, feet in enumerate(by_poppler, 1)
            if chapter.first <= page <= chapter.last
        )
        inside = list(made.text.paragraphs_in(chapter))
        heading = 2  # its number and its title
        assert sum(each.lines for each in inside) == counted - heading, chapter


def test_the_last_page_of_a_chapter_holds_what_poppler_sees(make_markdown_book: MakeBook) -> None:
    made = draft(prose(make_markdown_book))
    by_poppler = lines_by_poppler(made.pdf)
    long = [each for each in made.text.chapters if each.pages > 1]
    assert len(long) == 3
    for chapter in long:
        body = made.seen.bodies[chapter.last]
        feet = [foot for foot in by_poppler[chapter.last - 1] if foot > body.top]
        assert chapter.lines == sum(foot <= body.top + body.height + 3 for foot in feet)
        assert chapter.full == pytest.approx(body.height / 13, abs=0.5)


def test_chapters_and_contents_open_where_they_do(make_markdown_book: MakeBook) -> None:
    made = draft(prose(make_markdown_book))
    assert [(each.title, each.matter, each.file, each.line) for each in made.text.chapters] == [
        ("Preface", "front", "front.md", 1),
        ("Contents", "front", "", 0),
        ("Crossing 1", "main", "chapters/1.md", 1),
        ("Crossing 2", "main", "chapters/2.md", 1),
        ("Crossing 3", "main", "chapters/3.md", 1),
        ("Crossing 4", "main", "chapters/4.md", 1),
    ]
    told = subprocess.run(["pdftotext", made.pdf, "-"], capture_output=True, check=True, text=True)
    pages = told.stdout.split("\f")
    for chapter in made.text.chapters:
        assert chapter.title in pages[chapter.first - 1]


def beginnings(folder: Path, text: Text) -> Iterator[tuple[str, str]]:
    for each in text.paragraphs:
        line = (folder / each.file).read_text().splitlines()[each.line - 1]
        yield line, each.ending


def test_every_paragraph_leads_to_its_line(make_markdown_book: MakeBook) -> None:
    folder = make_markdown_book(lengths=(9, 4)).write("chapters/3.md", MIXED)
    made = draft(folder)
    assert all(each.file for each in made.text.paragraphs)
    for line, ending in beginnings(folder.folder, made.text):
        words = ending.rstrip(".0123456789").split()
        assert words[-1] in line, "each paragraph of these files is one line"


def test_notes_at_the_foot_are_no_lines_of_the_text(make_markdown_book: MakeBook) -> None:
    made = draft(make_markdown_book(lengths=(9,)).write("chapters/2.md", MIXED))
    by_line = {each.line: each for each in made.text.paragraphs if each.file == "chapters/2.md"}
    lines = (made.book.home / "chapters/2.md").read_text().splitlines()
    yes = by_line[lines.index("Yes.") + 1]
    assert yes.lines == 1
    quoted = by_line[next(i for i, line in enumerate(lines, 1) if line.startswith("> "))]
    assert quoted.lines in (4, 5)
    assert quoted.measure < made.seen.bodies[quoted.page].width - 20


@pytest.mark.parametrize("times", [1.4, 2.0, 5.0])
def test_a_paragraph_set_narrower_takes_fewer_lines(
    make_markdown_book: MakeBook, times: float
) -> None:
    folder = prose(make_markdown_book)
    before = draft(folder)
    cut = {each.number: times for each in before.text.paragraphs if each.number % 3 == 0}
    after = draft(folder, cut)
    for was, now in zip(before.text.paragraphs, after.text.paragraphs, strict=True):
        if was.number not in cut:
            assert now.lines == was.lines
        elif was.lines > 1:
            wanted = (was.lines - 1 + was.fill) / times
            assert now.lines == pytest.approx(wanted + 0.5, abs=1.0)
            assert now.lines < was.lines


def test_lines_side_by_side_are_refused(make_markdown_book: MakeBook) -> None:
    folder = make_markdown_book(lengths=(3,))
    folder.write(
        "chapters/1.md", "`#set page(columns: 2)`{=typst}\n\n# Crossing 1\n\nTwo columns.\n"
    )
    ran = folder.fitter("tighten", "--quick")
    assert ran.status == 2
    assert "several columns" in ran.err


def test_widows_and_orphans_are_where_poppler_sees_them(make_markdown_book: MakeBook) -> None:
    # Source: Typst documentation, text, parameter `costs`: widow and orphan are 100% by default,
    # and at 0% nothing keeps such a line from standing alone.
    front = (
        "---\nheader-includes: '`#set text(costs: (widow: 0%, orphan: 0%))`{=typst}'\n---\n\n"
        "# Preface {.unnumbered}\n\nWhy.\n"
    )
    made = draft(make_markdown_book(lengths=(31, 32, 33, 34), front=front))
    told = subprocess.run(
        ["pdftotext", "-layout", made.pdf, "-"], capture_output=True, check=True, text=True
    )
    pages = [
        [line for line in text.splitlines() if line.strip()] for text in told.stdout.split("\f")
    ]
    faults = [each for each in blemishes(made.text) if each.kind in ("widow", "orphan")]
    assert {each.kind for each in faults} == {"widow", "orphan"}
    for each in faults:
        lines = pages[each.page - 1]
        if each.kind == "widow":
            assert lines[1].strip() == each.words, "the first line under the running head"
        else:
            assert lines[-1].startswith("   "), "an indented last line"
    tops = {i for i, lines in enumerate(pages, 1) if len(lines) > 9 and lines[2].startswith("   ")}
    assert tops == {each.page for each in faults if each.kind == "widow"}
