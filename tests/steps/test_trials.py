"""Drafts tried several at once, each in a copy of the book."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from fitter.book.loader import load_book
from fitter.engines import latex
from fitter.engines.engine import engine_of
from fitter.steps.trials import Bench, Wish, bench
from tests.conftest import ROOT, BookFolder

MakeBook = Callable[..., BookFolder]
END = "\\end{document}"
PAGE = "\\clearpage More.\n"
AT_EACH_FORK = """
import os, sys, threading
from fitter.cli import run

def told():
    print(threading.active_count(), file=sys.stderr)

os.register_at_fork(before=told)
sys.exit(run(["tighten", "-q"]))
"""
DAMAGE = """
import pymupdf

with pymupdf.open("build/book.pdf") as pdf:
    (content, *_) = pdf[4].get_contents()
    pdf.update_stream(content, b"[" * 200_000)
    pdf.saveIncr()
"""


@pytest.fixture
def source(make_latex_book: MakeBook) -> Path:
    """The source of a small book."""
    return make_latex_book(lengths=(8, 3)).folder / "book.tex"


def longer(source: Path, pages: int) -> Wish:
    text = source.read_text().replace(END, PAGE * pages + END)
    return Wish(edits={"book.tex": text.encode()})


def tried(source: Path, wishes: list[Wish], at_once: int) -> tuple[Bench, list[int]]:
    """The text pages beyond those of the book as it is, 0 for a draft that failed."""
    book = load_book(source.parent)
    with bench(book, engine_of(book), lambda _: None, at_once) as drafts:
        first = drafts.first(Wish()).counts.text_pages
        found = [each.counts.text_pages - first for each in drafts.try_all(wishes)]
        assert [copy.source.read_text() for copy in drafts.copies] == [source.read_text()] * at_once
    return drafts, found


@pytest.mark.parametrize("at_once", [1, 2, 3])
def test_answers_come_in_the_order_of_the_wishes(source: Path, at_once: int) -> None:
    more = [3, 0, 5, 1]
    drafts, found = tried(source, [longer(source, pages) for pages in more], at_once)
    assert found == more
    assert drafts.drafts == 1 + len(more)


def test_a_draft_that_fails_stops_no_other(source: Path) -> None:
    book = load_book(source.parent)
    wrong = Wish(edits={"book.tex": source.read_bytes().replace(b"\\maketitle", b"\\nonsense")})
    with bench(book, engine_of(book), lambda _: None, 2) as drafts:
        first = drafts.first(Wish())
        bad, good = drafts.try_all([wrong, longer(source, 2)])
    assert bad.failed and "Undefined control sequence" in str(bad.failed)
    assert good.failed is None
    assert good.counts.text_pages == first.counts.text_pages + 2


def test_no_process_is_forked_beside_a_thread(source: Path) -> None:
    # Source: the Python documentation, os.fork(): "you should be aware that … forking from a
    # thread may lead to deadlocks"; from 3.12 on Python warns of it.
    done = subprocess.run(
        [sys.executable, "-c", AT_EACH_FORK],
        cwd=source.parent,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    threads = done.stderr.split()
    assert len(threads) > 2
    assert set(threads) == {"1"}


def test_a_damaged_pdf_of_ones_own_build_is_told(source: Path) -> None:
    folder = BookFolder(source.parent)
    folder.write("damage.py", DAMAGE)
    folder.write("own.sh", f"latexmk -pdf -outdir=build book.tex && {sys.executable} damage.py")
    yaml = (folder.folder / "book.yaml").read_text() + "build: [sh, own.sh]\n"
    ran = folder.write("book.yaml", yaml).fitter("tighten")
    assert ran.status == 2, ran.err
    assert "book.pdf: the PDF is damaged" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize("latexmk", [True, False])
def test_a_draft_after_one_with_cuts_is_itself_again(
    source: Path, monkeypatch: pytest.MonkeyPatch, latexmk: bool
) -> None:
    monkeypatch.setattr(latex, "has_latexmk", lambda: latexmk)
    book = load_book(source.parent)
    with bench(book, engine_of(book), lambda _: None, 1) as drafts:
        first = drafts.first(Wish())
        longest = max(first.text.paragraphs, key=lambda each: each.lines)
        cut = drafts.try_one(Wish(cuts={longest.number: 1.5}))
        assert cut.text.shape != first.text.shape
        assert drafts.try_one(Wish()) == first
