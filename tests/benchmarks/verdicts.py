"""Verdicts beside poppler: python tests/benchmarks/verdicts.py [speed|corpus] [PDF or FOLDER ...]

speed   pages a second, one process each, side by side with `pdftoppm -r 36 -gray` in one run, and
        the most memory on 2,000 pages. Without PDFs a novel of some 2,000 pages is typeset here.
corpus  every page of real books: which pages are blank for us, and which for a rendering by
        poppler; each disagreement is named. Without PDFs: those of Debian's documentation
        packages that are installed, such as texlive-latex-recommended-doc; the exit status is 1
        if a page is blank for us and not for poppler.
"""

from __future__ import annotations

import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from fitter.data.known_marks import known_marks  # noqa: E402
from fitter.errors import BadInput  # noqa: E402
from fitter.pdf.verdicts import read_verdicts  # noqa: E402

DOCUMENTATION = Path("/usr/share/doc")
SAME = 3  # grey levels of 255: a page of one colour for poppler
PARAGRAPH = (
    "The harbour lay quiet that morning, and {0} of the boats had not come home. Somebody at the "
    "quay said that the wind had gone round in the night; somebody else said nothing at all, and "
    "looked at the water as though it could be asked. A lamp was burning in the \\emph{{Three "
    "Herrings}}, where the clock had stopped at twenty to {0}, and nobody set it going again."
)


def novel(folder: Path) -> Path:
    """A book of about 2,000 pages of plain text, with chapters that open recto."""
    chapters = "\n".join(
        f"\\chapter{{Of Boats {chapter}}}\n"
        + "\n\n".join(PARAGRAPH.format(chapter * 100 + number) for number in range(160))
        for chapter in range(50)
    )
    (folder / "novel.tex").write_text(
        "\\documentclass[11pt]{book}\n"
        "\\usepackage[paperwidth=129mm,paperheight=198mm,margin=18mm]{geometry}\n"
        f"\\begin{{document}}\n{chapters}\n\\end{{document}}\n"
    )
    command = ["pdflatex", "-interaction=batchmode", "novel.tex"]
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)
    return folder / "novel.pdf"


def ours(pdf: Path) -> tuple[int, float, float]:
    """Pages, seconds of the processor, and the most memory in MB, in a process of its own."""
    program = (
        "import sys, time, resource; from fitter.pdf.verdicts import read_verdicts\n"
        "from fitter.pdf import apart; apart._inside = True; import pymupdf\n"
        "from fitter.data.known_marks import known_marks; marks = known_marks()\n"
        "started = time.process_time(); reading = read_verdicts(sys.argv[1], marks)\n"
        "print(len(reading.verdicts), time.process_time() - started,\n"
        "      resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", program, str(pdf)]
    done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True)
    pages, seconds, mb = done.stdout.split()
    return int(pages), float(seconds), float(mb)


def poppler(pdf: Path, folder: Path) -> float:
    """Seconds of the processor for `pdftoppm -r 36 -gray`."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = ["pdftoppm", "-r", "36", "-gray", str(pdf), str(folder / "page")]
    subprocess.run(command, check=True, stderr=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    for page in folder.glob("page*.pgm"):
        page.unlink()
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def speed(pdfs: list[Path]) -> int:
    """Print the table; the better of three runs of each counts."""
    print(f"{'PDF':32} {'pages':>6} {'ours p/s':>9} {'pdftoppm p/s':>13} {'ratio':>6} {'MB':>5}")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for pdf in pdfs or [novel(folder)]:
            runs = [(ours(pdf), poppler(pdf, folder)) for _ in range(3)]
            pages, mb = runs[0][0][0], max(mb for (_, _, mb), _ in runs)
            our, their = min(seconds for (_, seconds, _), _ in runs), min(its for _, its in runs)
            print(
                f"{pdf.name[:32]:32} {pages:6} {pages / our:9.0f} {pages / their:13.0f} "
                f"{their / our:6.1f} {mb:5.0f}"
            )
    return 0


def blank_for_poppler(pdf: Path) -> set[int]:
    """The pages that poppler renders in one colour, by sheet position from 1."""
    with tempfile.TemporaryDirectory() as name:
        stem = Path(name) / "page"
        command = ["pdftoppm", "-r", "50", "-gray", "-cropbox", str(pdf), str(stem)]
        subprocess.run(command, check=False, stderr=subprocess.DEVNULL)
        return {
            int(found[1])
            for page in stem.parent.glob("page*.pgm")
            if (found := re.search(r"-(\d+)\.pgm$", page.name)) and one_colour(page)
        }


def one_colour(page: Path) -> bool:
    """Whether a grey map shows nothing."""
    _, _, _, samples = page.read_bytes().split(b"\n", 3)
    return max(samples) - min(samples) <= SAME


def compared(pdf: Path) -> tuple[Path, Counter[str], set[int], set[int]]:
    """The verdicts on a PDF; the pages blank only for us, and only for poppler."""
    try:
        reading = read_verdicts(pdf, known_marks())
    except BadInput as fault:
        print(f"  {fault}")
        return pdf, Counter(), set(), set()
    blank = {page.page for page in reading.verdicts if page.verdict == "blank"}
    theirs = blank_for_poppler(pdf)
    return pdf, Counter(page.verdict for page in reading.verdicts), blank - theirs, theirs - blank


def corpus(pdfs: list[Path]) -> int:
    """Compare all of them and print what differs."""
    started, told, pages, missed = time.monotonic(), Counter[str](), 0, 0
    with ProcessPoolExecutor() as pool:
        for pdf, verdicts, only_ours, only_theirs in pool.map(compared, pdfs):
            told += verdicts
            pages += sum(verdicts.values())
            missed += len(only_ours)
            for whose, odd in (("us", only_ours), ("poppler", only_theirs)):
                if odd:
                    print(f"  {pdf}: blank only for {whose}: {sorted(odd)[:20]}", flush=True)
    seconds = time.monotonic() - started
    print(
        f"{len(pdfs)} PDFs, {pages} pages, {dict(told)}, {seconds:.0f} s; wrongly blank: {missed}"
    )
    return int(missed > 0)


def found(named: list[str]) -> Iterator[Path]:
    """The PDFs named, and those in the folders named."""
    for path in map(Path, named):
        yield from sorted(path.rglob("*.pdf")) if path.is_dir() else [path]


if __name__ == "__main__":
    what, *named = sys.argv[1:] or ["speed"]
    if what == "corpus":
        sys.exit(corpus(list(found(named or [str(DOCUMENTATION)]))))
    sys.exit(speed(list(found(named))))
