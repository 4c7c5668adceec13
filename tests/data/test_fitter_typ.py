"""The package's twin for Typst: blank versos, built-in pages, slots."""

from __future__ import annotations

import json
from typing import Any

import pymupdf
import pytest
import typst

from fitter.package import data_file

PAGE = "#set page(width: 129mm, height: 198mm, margin: (inside: 20mm, outside: 15mm, y: 20mm))\n"
MARK = "This page is intentionally left blank."
WITH_MARK = (("mark", MARK), ("openers", "mark"))


def source(body: str, lines: tuple[tuple[str, ...], ...] = WITH_MARK, two: str = "true") -> bytes:
    said = "".join(f"({', '.join(map(json.dumps, line))},)," for line in lines)
    head = (
        f"#let fitter-lines = ({said})\n#let fitter-twoside = {two}\n"
        f"#let fitter-openright = {two}\n#let fitter-bodies = (:)\n"
    )
    files = (data_file(name).read_text(encoding="utf-8") for name in ("bookset.typ", "fitter.typ"))
    return f"{head}{''.join(files)}{PAGE}{body}\n#fitter-record()\n".encode()


def pages(body: str, **how: Any) -> list[str]:
    """The text of every page."""
    with pymupdf.open(stream=typst.compile(source(body, **how))) as pdf:
        return [" ".join(page.get_text().split()) for page in pdf]


def record(body: str, **how: Any) -> dict[str, Any]:
    return dict(json.loads(typst.query(source(body, **how), "<fitter-record>"))[0]["value"])


def test_typst_puts_an_empty_page_before_an_odd_one() -> None:
    # Source: Typst documentation, pagebreak, parameter `to`: "ensures that the next page will be an
    # even/odd page, with an empty page in between if necessary".
    assert pages('One #pagebreak(to: "odd") Two', lines=()) == ["One", "", "Two"]
    assert pages('One #pagebreak() x #pagebreak(to: "odd") Two', lines=()) == ["One", "x", "Two"]


def test_a_weak_break_is_skipped_on_an_empty_page() -> None:
    # Source: Typst documentation, pagebreak, parameter `weak`: "If true, the page break is skipped
    # if the current page is already empty."
    assert pages("One #pagebreak() #pagebreak(weak: true) Two", lines=()) == ["One", "Two"]
    assert pages("One #fitter-page-break() #fitter-page-break() Two") == ["One", "Two"]


def test_a_forced_break_to_a_recto_leaves_exactly_one_blank_page() -> None:
    # Source: WPT css/CSS2/pagination/forced-page-breaks-001: a div with page-break-before: right
    # after page 1 makes 3 pages: "There must be a blank page (and only one blank page) before this
    # sentence."
    body = "One #fitter-recto-break() Two"
    assert pages(body) == ["One", MARK, "Two"]
    assert record(body)["blank-versos"] == [2]


def test_only_pages_left_empty_by_a_break_are_marked() -> None:
    # Source: W3C CSS Paged Media Module Level 3, 4.2.3: :blank matches "content-empty pages that
    # appear as a result of forced page breaks"; that an author's own empty page is another case is
    # our reading of it.
    body = "One #pagebreak() #block(height: 1em)[] #pagebreak() Two #fitter-recto-break() Three"
    assert pages(body) == ["One", "", "Two", MARK, "Three"]
    assert record(body)["blank-versos"] == [4]


def test_many_openers_in_a_row_all_find_their_versos() -> None:
    body = "Front " + " ".join(
        f"#fitter-opener() Chapter {i} #lorem({90 * i})" for i in range(1, 21)
    )
    said = pages(body)
    openers = [i for i, text in enumerate(said, 1) if text.startswith("Chapter")]
    assert len(openers) == 20 and all(page % 2 == 1 for page in openers)
    blank = record(body)["blank-versos"]
    assert blank == [i for i, text in enumerate(said, 1) if text == MARK]
    assert len(blank) > 5


def test_two_openers_without_text_between_leave_no_more_pages() -> None:
    assert pages("One #fitter-opener() #fitter-opener() Two") == ["One", MARK, "Two"]


@pytest.mark.parametrize("openers", ["allow", "fail"])
def test_without_openers_mark_the_page_stays_empty_and_is_noted(openers: str) -> None:
    lines = (("mark", MARK), ("openers", openers))
    body = "One #fitter-opener() Two"
    assert pages(body, lines=lines) == ["One", "", "Two"]
    assert record(body, lines=lines)["blank-versos"] == [2]


def test_a_book_of_one_side_or_with_openany_has_no_blank_versos() -> None:
    assert pages("One #fitter-opener() Two", two="false") == ["One", "Two"]


def test_a_slot_breaks_the_page_filled_or_not() -> None:
    body = 'One #fitter-slot("front") Two #fitter-end()'
    assert pages(body) == ["One", "Two"]
    filled = (*WITH_MARK, ("place", "front", "marked-blank", "m", "2"), ("end-blanks", "1"))
    assert pages(body, lines=filled) == ["One", MARK, MARK, "Two", ""]
    told = record(body, lines=filled)
    said = {tuple(note["words"]): (note["before"], note["page"]) for note in told["notes"]}
    assert said["slot", "front"] == (1, 1)
    assert said["begin", "m"] == (1, 2)
    assert said["end", "m"] == (3, 3)
    assert said["slot", "back"] == (4, 4)
    assert said["blanks", "1"] == (4, 5)


def test_a_filler_before_an_opener_is_no_blank_verso() -> None:
    filled = (*WITH_MARK, ("place", "front", "marked-blank", "m", "1"))
    body = 'One #fitter-slot("front") #fitter-opener() Two'
    assert pages(body, lines=filled) == ["One", MARK, "Two"]
    assert record(body, lines=filled)["blank-versos"] == []


@pytest.mark.parametrize(
    ("margin", "recto", "verso"),
    [
        ("(inside: 20mm, outside: 15mm, y: 20mm)", 20, 15),
        ("(left: 20mm, right: 15mm, y: 20mm)", 20, 20),
        ("(x: 12mm, top: 20mm, bottom: 20mm)", 12, 12),
        ("18mm", 18, 18),
    ],
)
def test_in_a_trial_each_page_tells_where_its_text_stands(
    margin: str, recto: float, verso: float
) -> None:
    told = record(f"#set page(margin: {margin})\nA #pagebreak() B", lines=(("record-text",),))
    millimetre = 72 / 25.4
    lefts = [body[0] / millimetre for body in told["bodies"]]
    assert lefts == pytest.approx([recto, verso])
    assert [body[-1] for body in told["bodies"]] == [1, 1]
