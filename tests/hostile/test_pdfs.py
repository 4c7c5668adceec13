"""A share of the broken PDFs: each gets a sentence, soon, and never a traceback."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.originals import originals
from tests.hostile.pdfs import outcomes

FILES = 60


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A small PDF of each producer."""
    return originals(tmp_path_factory.mktemp("originals"))


def test_every_producer_is_there(made: dict[str, Path]) -> None:
    assert set(made) >= {"pdflatex", "lualatex", "xelatex", "typst", "pymupdf", "ghostscript"}


def test_broken_pdfs_get_a_sentence_each(made: dict[str, Path], tmp_path: Path) -> None:
    names = sorted(made)
    found = [
        outcome
        for seed in range(FILES)
        for name, other in [(names[seed % len(names)], names[(seed * 7 + 3) % len(names)])]
        for outcome in outcomes(name, made[name], made[other], seed, tmp_path)
    ]
    assert [one for one in found if one.fault] == []
    assert {one.status for one in found} >= {0, 2}
