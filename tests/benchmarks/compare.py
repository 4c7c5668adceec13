"""Two printings of 600 pages compared: python tests/benchmarks/compare.py

The books are typeset here from the sentences of the sample book, shuffled, so that every sentence
comes several times. Nothing is asserted; time and memory are those of the command as a whole.
"""

from __future__ import annotations

import json
import os
import random
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
SENTENCES = re.findall(
    r"[A-Z][^.?!\n]{30,200}[.?!]",
    " ".join(
        " ".join(file.read_text(encoding="utf-8").split())
        for file in sorted((ROOT / "sample_book" / "chapters").glob("*.md"))
    ),
)
PARAGRAPH = (
    "A valuer once listed the knots in a net as separate articles, and the net was knocked down "
    "to a man who wanted one of them. He cut it out, left the rest, and paid for all."
)


def book(seed: int, paragraphs: int, chapter_every: int) -> list[str]:
    """Paragraphs of eight sentences; a chapter begins every so often."""
    dice = random.Random(seed)
    text = [" ".join(dice.choices(SENTENCES, k=8)) for _ in range(paragraphs)]
    return [
        (f"\\chapter{{Crossing {n // chapter_every + 1}}}\n" if n % chapter_every == 0 else "")
        + one
        for n, one in enumerate(text)
    ]


def typeset(folder: Path, name: str, paragraphs: list[str]) -> Path:
    """The paragraphs as a book of small pages."""
    body = "\n\n".join(paragraphs).replace("&", "\\&").replace("_", "\\_").replace("#", "\\#")
    (folder / f"{name}.tex").write_text(
        "\\documentclass{book}\n\\usepackage[utf8]{inputenc}\n"
        "\\usepackage[paperwidth=110mm,paperheight=178mm,margin=14mm]{geometry}\n"
        f"\\begin{{document}}\n{body}\n\\end{{document}}\n",
        encoding="utf-8",
    )
    command = ["pdflatex", "-interaction=batchmode", f"{name}.tex"]
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)
    return folder / f"{name}.pdf"


def measured(old: Path, new: Path) -> str:
    """Verdict, kinds, seconds and memory of one comparison."""
    command = [sys.executable, "-m", "fitter", "printing", "compare", old, new, "--format", "json"]
    done = subprocess.run(
        ["/usr/bin/time", "-f", "%e %U %M", *command],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    report = json.loads(done.stdout)
    kinds = [page["kind"] for page in report["pages"]]
    counts = ", ".join(f"{kinds.count(kind)} {kind}" for kind in dict.fromkeys(kinds))
    moved = [
        f"moved by {one['words']} words from {one['first']}, settled at {one['settled']}"
        for one in report["movements"]
    ]
    elapsed, user, memory = done.stderr.split()[-3:]
    said = "; ".join([f"{len(kinds)} pages", report["verdict"], counts, *moved])
    return f"{float(elapsed):5.1f} s ({user} s of processor)  {int(memory) // 1024:4} MB  {said}"


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        chapters, flow = book(1, 1500, 30), book(1, 1600, 10_000)
        word = [
            one.replace(" the ", " a ", 1) if n == 750 else one for n, one in enumerate(chapters)
        ]
        longer = [*chapters[:21], PARAGRAPH, *chapters[21:]]
        first = typeset(folder, "chapters", chapters)
        print("the same:            ", measured(first, first))
        print("one word changed:    ", measured(first, typeset(folder, "word", word)))
        print("a paragraph, page 10:", measured(first, typeset(folder, "longer", longer)))
        whole = typeset(folder, "flow", flow)
        moved = typeset(folder, "moved", [*flow[:21], PARAGRAPH, *flow[21:]])
        print("... and no chapters: ", measured(whole, moved))
        print("another text:        ", measured(first, typeset(folder, "other", book(2, 1500, 30))))


if __name__ == "__main__":
    main()
