import pytest

from fitter.trade.gate.blanks import look_closer_at, names_next_as_blank, verdicts
from fitter.trade.gate.marks import Marks
from fitter.trade.gate.page import Box, Line, Page
from fitter.trade.size import Size

SIZE = Size(129, 198)
MARKS = Marks(["Blank page", "Leerseite"])


def line(text: str, top: float) -> Line:
    return Line(text, Box(18, top, 18 + 2 * len(text), top + 4))


def page(number: int, *lines: Line, full: bool = False) -> Page:
    return Page(number, str(number), SIZE, full, lines)


def full(number: int, *lines: Line) -> Page:
    return page(number, *lines, full=True)


def judged(*pages: Page, closer: dict[int, Page] | None = None) -> list[tuple[str, str]]:
    return [(one.verdict, one.place) for one in verdicts(pages, closer or {}, MARKS)]


def test_blank_pages_at_front_in_the_body_and_at_the_end() -> None:
    assert judged(page(1), full(2), page(3), full(4), page(5)) == [
        ("blank", "front"),
        ("printed", "body"),
        ("blank", "body"),
        ("printed", "body"),
        ("blank", "end"),
    ]


def test_a_mark_with_and_without_furniture() -> None:
    marked = page(2, line("12", 188), line("Blank", 95), line("page", 100))
    assert judged(full(1), marked, full(3), page(4, line("LEERSEITE", 90)), full(5))[1::2] == [
        ("marked", "body"),
        ("marked", "body"),
    ]


def test_a_page_that_quotes_a_mark_is_printed() -> None:
    quoting = page(2, line("The words were: Blank page.", 90), line("He laughed.", 96))
    assert judged(quoting) == [("printed", "body")]


def test_a_running_head_alone() -> None:
    head = line("Of Boats", 10)
    pages = [full(number) for number in range(1, 10)]
    pages[4] = page(5, head, line("5", 188))
    assert look_closer_at(pages) == {3: False, 1: False, 7: False}
    closer = {n: page(n, head, line("text of the page", 30)) for n in (1, 3, 7)}
    assert judged(*pages, closer=closer)[4] == ("furniture-only", "body")


def test_the_page_before_a_blank_one_may_name_it() -> None:
    assert look_closer_at((full(1), page(2), full(3))) == {1: False}


def test_pages_with_something_in_the_middle_need_no_neighbours() -> None:
    assert look_closer_at((full(1), page(2, line("For Ada", 60)), full(3))) == {}


# Source: MIL-STD-38784A, 4.5.3, for B/(C blank); the numeric form from memory.
@pytest.mark.parametrize(
    ("folio", "counts"),
    [
        ("B/(C blank)", True),
        ("12/(13 blank)", True),
        ("2-12/(2-13 Blank)", True),
        ("12 / (13 blank)", True),
        ("12/(14 blank)", False),
        ("1-12/(2-13 blank)", False),
        ("12", False),
    ],
)
def test_a_dual_folio_marks_the_page_behind_it(folio: str, counts: bool) -> None:
    before = page(1, line("text of the page", 30), line(folio, 188))
    assert names_next_as_blank(before) is counts
    expected = "marked" if counts else "blank"
    assert judged(full(1), page(2), full(3), closer={1: before})[1] == (expected, "body")
