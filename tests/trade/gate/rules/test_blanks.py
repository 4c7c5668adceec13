import pytest

from fitter.trade.gate.evidence import Evidence, Limits, Openers
from fitter.trade.gate.gate import judge
from fitter.trade.gate.verdicts import PageVerdict, Verdict, places

LETTERS: dict[str, Verdict] = {"p": "printed", "m": "marked", "f": "furniture-only", "b": "blank"}


def book(letters: str, openers: Openers = "mark", at: tuple[int, ...] = ()) -> Evidence:
    """A book from one letter a page: p(rinted), m(arked), f(urniture-only), b(lank)."""
    verdicts = [LETTERS[letter] for letter in letters]
    pages = zip(verdicts, places(verdicts), strict=True)
    return Evidence(
        tuple(PageVerdict(n, str(n), *page) for n, page in enumerate(pages, 1)),
        Limits(openers),
        openers=frozenset(at),
    )


def found(evidence: Evidence) -> list[tuple[str, int | None]]:
    return [(finding.rule, finding.page) for finding in judge(evidence)]


@pytest.mark.parametrize(
    ("letters", "expected"),
    [
        ("ppp", []),
        ("pbp", [("blank-unmarked", 2)]),
        ("pmp", []),
        ("pfp", [("furniture-only", 2)]),
        ("bbpbb", []),  # two at the end: U.S. GPO Style Manual 2008, rule 1.15
        ("pbbb", [("blanks-at-end", 2)]),
        ("bbbp", [("blanks-at-front", 1)]),
        ("pbbbm", [("blanks-at-end", 2)]),
        ("pmmm", []),
        ("pf", [("furniture-only", 2)]),
        ("b", [("blank-unmarked", 1)]),  # a book without a printed page
    ],
)
def test_what_each_row_of_pages_leads_to(letters: str, expected: list[tuple[str, int]]) -> None:
    assert found(book(letters)) == expected


@pytest.mark.parametrize(
    ("letters", "openers", "expected"),
    [
        ("pbp", "mark", [("blank-unmarked", 2)]),
        ("pmp", "mark", []),
        ("pbp", "allow", []),
        ("pmp", "allow", []),
        ("pfp", "allow", []),
        ("pbp", "fail", [("blank-unmarked", 2)]),
        ("pmp", "fail", [("blank-unmarked", 2)]),
    ],
)
def test_the_verso_before_an_opener(
    letters: str, openers: Openers, expected: list[tuple[str, int]]
) -> None:
    assert found(book(letters, openers, at=(2,))) == expected


def test_allowing_openers_allows_no_other_blank() -> None:
    assert found(book("pbpbp", "allow", at=(2,))) == [("blank-unmarked", 4)]
