import pytest

from fitter.trade.gate.furniture import is_folio, learn
from fitter.trade.gate.page import Box, Line, Page
from fitter.trade.size import Size

SIZE = Size(129, 198)
HEADS = ("Of Ropes", "Of Sails", "Of Boats", "Of Oars")


def line(text: str, top: float, left: float = 18) -> Line:
    return Line(text, Box(left, top, left + 2 * len(text), top + 4))


def page(number: int, *lines: Line, ink: tuple[Box, ...] = ()) -> Page:
    return Page(number, None, SIZE, lines=lines, ink=ink)


def book() -> list[Page]:
    """Twelve pages: heads that change with the chapter, folios, and a first line of text each."""
    return [
        page(
            number,
            line(HEADS[number // 4], 10),
            line(f"text of page {'abcdefghijklm'[number]}", 20),
            line(str(number), 188),
            ink=(Box(18, 15, 111, 15.2),),
        )
        for number in range(1, 13)
    ]


def left_on(candidate: Page) -> list[str]:
    lines, ink = learn(book()).without(candidate)
    return [line.text for line in lines] + [f"ink at {box.top:g}" for box in ink]


def test_head_folio_and_rule_are_furniture() -> None:
    rule = Box(18, 15, 111, 15.2)
    assert left_on(page(13, line("Of Boats", 10), line("13", 188), ink=(rule,))) == []


def test_a_head_said_nowhere_else_is_known_by_its_height() -> None:
    assert left_on(page(13, line("Epilogue", 10))) == []


def test_a_head_with_a_folio_is_known_by_its_height() -> None:
    heads = [page(n, line(f"Of {'abcdefgh'[n]}oats {n}", 10)) for n in range(1, 8)]
    new = page(9, line("9 Of Oars", 10))
    assert learn(heads).without(new) == ((), ())


def test_the_title_of_several_pages_makes_no_furniture_of_what_stands_at_its_height() -> None:
    notes = [page(n, line("Notes", 20)) for n in range(1, 8)]
    key = page(9, line("1 3 5 7 9 8 6 4 2", 20))
    assert learn(notes).without(key)[0] == key.lines


def test_the_last_line_of_a_chapter_is_no_furniture() -> None:
    last = page(13, line("Of Oars", 10), line("and so they went home.", 20))
    assert left_on(last) == ["and so they went home."]


def test_an_ornament_is_no_furniture() -> None:
    assert left_on(page(13, line("13", 188), ink=(Box(60, 90, 70, 96),))) == ["ink at 90"]


def test_a_folio_is_furniture_even_where_nothing_could_be_learned() -> None:
    lone = page(1, line("– xii –", 185))
    assert learn([]).without(lone) == ((), ())
    assert learn([]).without(page(1, line("12", 90)))[0] != ()


@pytest.mark.parametrize(
    "text", ["12", "xii", "XIV", "– 12 –", "[7]", "A-3", "3/12", "Page 3 of 12", "2.14", "Seite 9"]
)
def test_folios(text: str) -> None:
    assert is_folio(text)


@pytest.mark.parametrize("text", ["", "mild", "civil", "12 boats", "a", "The", "mix", "…"])
def test_what_is_no_folio(text: str) -> None:
    assert not is_folio(text)
