"""The embedded build of the sample book: python tests/benchmarks/embedded.py

Seconds from a clean folder to a final PDF that passed the gate, beside one run of pandoc and one of
Typst on the same book, each in a process of its own. Nothing here is asserted.
"""

from __future__ import annotations

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
ROUNDS = 7
TYPST = (
    "import sys, pathlib, typst; "
    "typst.compile(pathlib.Path('build/markdown.typ').read_bytes(), output='x.pdf', root='.')"
)


def run(folder: Path, *command: str) -> tuple[float, subprocess.CompletedProcess[str]]:
    """Seconds, and what the command said."""
    started = time.perf_counter()
    done = subprocess.run(
        command,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=True,
        capture_output=True,
        text=True,
    )
    return time.perf_counter() - started, done


def clean_build(folder: Path) -> tuple[float, dict[str, Any], int]:
    """Seconds, the report, and how often pandoc ran."""
    book = folder / "book"
    shutil.rmtree(book, ignore_errors=True)
    ignored = shutil.ignore_patterns("build", "*-inserts*")
    shutil.copytree(ROOT / "sample_book", book, ignore=ignored)
    command = (sys.executable, "-m", "fitter", "build", "markdown.yaml", "--format", "json")
    seconds, done = run(book, *command)
    return seconds, json.loads(done.stdout), done.stderr.split().count("pandoc")


def main() -> None:
    """Print the table."""
    sys.path.insert(0, str(ROOT))
    from fitter.engines.pandoc import find_pandoc

    builds, rows = [], []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for _ in range(ROUNDS):
            seconds, report, pandoc_runs = clean_build(folder)
            chapters = sorted(str(path) for path in (folder / "book/chapters").glob("*.md"))
            pandoc, _ = run(
                folder / "book", find_pandoc("typst"), "-t", "typst", "-o", "x", *chapters
            )
            typst, _ = run(folder / "book", sys.executable, "-c", TYPST)
            builds.append(seconds)
            rows.append((pandoc, typst))
    print(f"clean build: {statistics.median(builds):.2f} s (best {min(builds):.2f} s)")
    print(f"pandoc runs: {pandoc_runs}; Typst runs: {report['engine_runs']}")
    print(f"steps of the last: {report['seconds']}")
    print(f"one pandoc: {statistics.median(row[0] for row in rows):.2f} s")
    print(f"one Typst:  {statistics.median(row[1] for row in rows):.2f} s")


if __name__ == "__main__":
    main()
