from pathlib import Path

from fitter.data.known_marks import known_marks
from fitter.pdf.verdicts import read_verdicts
from tests.drawn import Draw, drawn, furnished, nothing, text, words


def verdicts(path: Path, *pages: Draw) -> list[str]:
    return [page.verdict for page in read_verdicts(drawn(path, *pages), known_marks()).verdicts]


def test_the_four_verdicts(tmp_path: Path) -> None:
    mark = words(95, "This page is intentionally left blank.")
    found = verdicts(
        tmp_path / "book.pdf",
        furnished(1, text),
        furnished(2),
        furnished(3, text),
        furnished(4, mark),
        furnished(5, text),
        mark,
        nothing,
        words(60, "For Ada"),
    )
    assert found == [
        "printed",
        "furniture-only",
        "printed",
        "marked",
        "printed",
        "marked",
        "blank",
        "printed",
    ]
