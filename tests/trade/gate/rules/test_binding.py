from dataclasses import replace

from fitter.trade.gate.evidence import Evidence, FillerSeen, Sewing
from fitter.trade.gate.gate import judge
from fitter.trade.gate.verdicts import PageVerdict
from fitter.trade.size import Size

BOOK = Evidence(tuple(PageVerdict(n, str(n), "printed", "body") for n in range(1, 5)))


def messages(evidence: Evidence) -> list[tuple[str, int | None, str]]:
    return [(found.rule, found.page, found.message) for found in judge(evidence)]


def test_nothing_looked_at_is_nothing_found() -> None:
    assert messages(BOOK) == []


def test_whole_gatherings_pass() -> None:
    assert messages(replace(BOOK, sewing=Sewing(True))) == []


def test_a_gathering_that_is_not_full() -> None:
    assert messages(replace(BOOK, sewing=Sewing(False, None, 8))) == [
        (
            "gathering-not-full",
            None,
            "4 pages do not make whole gatherings; the nearest extent is 8",
        )
    ]


def test_pages_of_another_size_are_told_run_by_run() -> None:
    right, wrong = Size(129, 198), Size(148, 210)
    evidence = replace(BOOK, trim=right, page_sizes=(right, wrong, wrong, Size(129.3, 198)))
    assert messages(evidence) == [
        (
            "trim-differs",
            2,
            "pages 2 to 3 are 148 × 210 mm after trimming, not 129 × 198 mm; mend 'trim' in "
            "book.yaml, or the page in the source (with crop marks: its TrimBox)",
        )
    ]


def test_fillers_that_got_lost() -> None:
    fillers = (
        FillerSeen("notes", 2, 3, 3),
        FillerSeen("author", 3, 2, 1),
        FillerSeen("titles", 9, 1, 0),
    )
    assert messages(replace(BOOK, fillers=fillers)) == [
        (
            "filler-lost",
            None,
            "filler 'titles' was to take 1 page from page 9 and takes none; build again",
        ),
        (
            "filler-lost",
            3,
            "filler 'author' was to take 2 pages from page 3 and takes 1; build again",
        ),
    ]
