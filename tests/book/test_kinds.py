from pathlib import Path

import pytest

from fitter.book.kinds import names_filler, names_markdown, names_pdf


@pytest.mark.parametrize("name", ["a.md", "A.MD", "b/c.markdown", Path("d.Md")])
def test_markdown(name: str | Path) -> None:
    assert names_markdown(name)
    assert names_filler(name)
    assert not names_pdf(name)


@pytest.mark.parametrize("name", ["a.pdf", "A.PDF", Path("b/c.Pdf")])
def test_pdf(name: str | Path) -> None:
    assert names_pdf(name)
    assert names_filler(name)
    assert not names_markdown(name)


@pytest.mark.parametrize("name", [None, "", ".pdf", ".md", "pdf", "a.tex", "a.pdf.tex", "a.txt"])
def test_neither(name: str | None) -> None:
    assert not names_pdf(name)
    assert not names_markdown(name)


def test_fillers_are_tex_too() -> None:
    assert names_filler("A.TEX")
    assert not names_filler("a.txt")
