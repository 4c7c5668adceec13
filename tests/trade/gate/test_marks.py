import pytest

from fitter.trade.gate.marks import Marks, letters

MARKS = Marks(["This page is intentionally left blank.", "Página en blanco", "此页有意留空"])


@pytest.mark.parametrize(
    "text",
    [
        "This page is intentionally left blank.",
        "THIS PAGE IS INTENTIONALLY LEFT BLANK",
        "This page\nis inten-\ntionally left\nblank",
        "[ this page is intentionally left blank ]",
        "pagina en blanco",
        "P´agina en blanco",  # an accent set as a sign of its own
        "此页有意\n留空。",
        "Página en blanco / This page is intentionally left blank",
    ],
)
def test_marks_are_known_in_any_case_and_breaking(text: str) -> None:
    assert MARKS.recognises(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "12",
        "“This page is intentionally left blank,” she read.",
        "This page is blank.",
        "This page is intentionally left blank. " * 20,
    ],
)
def test_what_says_more_or_less_is_no_mark(text: str) -> None:
    assert not MARKS.recognises(text)


def test_without_phrases_nothing_is_a_mark() -> None:
    assert not Marks([]).recognises("Blank page")


def test_letters_alone() -> None:
    assert letters("Tę stronę, łódź – 12") == "testronelodz12"
