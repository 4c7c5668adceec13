"""Runs ended at any moment: python tests/hostile/kills.py [MOMENTS] [SEED] [COMMAND...]

Ends each command that writes with SIGKILL at random moments (every second time with all that it
started), and once at every file operation; fills the disk, too. After each end the author's files
are what they were, generated files are whole or absent, and the next run makes the same PDF.
Prints a table; the exit status is 1 if anything was amiss.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}
FITTER = [sys.executable, "-m", "fitter"]
ENDED = [sys.executable, str(ROOT / "tests/hostile/ended.py")]
MOMENTS = 200
SOURCE = r"""\documentclass{book}
\usepackage{fitter}
\advance\textheight\bookset[0]{text-height}\baselineskip
\begin{document}
\frontmatter\title{The Ferry}\author{N. N.}\maketitle
\imprintkey
\fillerslot{front}
\tableofcontents
\mainmatter
\chapter{One}TEXT
\chapter{Two}TEXT
\end{document}
""".replace("TEXT", "The ferry went over at six and came back at seven. " * 150)
FILES = {
    "book.tex": SOURCE,
    "book.yaml": (
        "title: The Ferry\nsource: book.tex\nengine: pdflatex\nbinding: {gathering: 8}\n"
        "imprint: {year: 2026, key: {scheme: ascending, years: 5, printer: QX}}\n"
        "settings: {text-height: {values: [-28, -14, 0], default: 0, dislike: 1}}\n"
    ),
    "printings.yaml": "printings:\n  - {printing: 1, year: 2026, printer: QX}  # the first\n",
    "fillers/bio.tex": "\\chapter*{About the Author}\nBorn by the river.\n",
    "fillers.yaml": (
        "fillers:\n  - {id: bio, source: fillers/bio.tex, priority: 1, starts: recto}\n"
        "  - {id: notes, page: notes, pages: 1..8}\n"
    ),
}
COMMANDS = {
    "build": ["build"],
    "fit": ["fit"],
    "printing add": ["printing", "add", "--year", "2028", "--printer", "QX"],
    "tighten": ["tighten", "--try", "--apply", "--extent", "24"],
}


@dataclass(frozen=True, slots=True)
class Start:
    """A book as it is before a command, and what it comes to when nothing ends the command."""

    command: str
    folder: Path
    before: dict[str, bytes]
    record: bytes
    inserts: set[bytes]
    text: str
    seconds: float
    operations: int


def author_files(folder: Path) -> dict[str, bytes]:
    """Every file that is the author's, with its bytes."""
    return {name: (folder / name).read_bytes() for name in FILES if (folder / name).exists()}


def start(command: str, work: Path) -> Start:
    """Make the book, run the command to its end elsewhere, and remember what came of it."""
    folder = work / command.replace(" ", "-")
    for name, content in FILES.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(content, encoding="utf-8")
    if command != "build":
        _run(folder, "build")
    if command == "fit":
        (folder / "book-inserts.tex").unlink()
    whole = work / "whole"
    _fresh(folder, whole)
    began = time.monotonic()
    _run(whole, *COMMANDS[command])
    seconds = time.monotonic() - began
    inserts = _whole_inserts(folder) | _whole_inserts(whole)
    record = (whole / "printings.yaml").read_bytes()
    _run(whole, "build")
    inserts |= _whole_inserts(whole)
    text = pdf_text(whole)
    _fresh(folder, whole)
    counted = work / "counted"
    _ended_at(whole, 0, "kill", counted, command)
    operations = int(counted.read_text())
    return Start(command, folder, author_files(folder), record, inserts, text, seconds, operations)


def killed_at_random(start: Start, folder: Path, seed: int) -> list[str]:
    """End the command at a moment of its run; what is amiss afterwards."""
    chance = random.Random(seed)
    _fresh(start.folder, folder)
    process = subprocess.Popen(
        [*FITTER, *COMMANDS[start.command]],
        cwd=folder,
        env=ENVIRONMENT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    time.sleep(chance.random() * start.seconds)
    others = _started_by(process.pid) if seed % 2 else []
    for one in [process.pid, *others]:
        _kill(one)
    process.wait()
    return [f"seed {seed}: {fault}" for fault in amiss(start, folder)]


def ended_at_operation(start: Start, folder: Path, number: int, how: str = "kill") -> list[str]:
    """End the command at a file operation, or let the operation fail; what is amiss afterwards."""
    _fresh(start.folder, folder)
    done = _ended_at(folder, number, how, folder.parent / "counted", start.command)
    faults = list(amiss(start, folder))
    if how != "kill" and (done.returncode not in (0, 2, 3) or "Traceback" in done.stderr):
        faults.append(f"status {done.returncode}: {done.stderr[-600:]}")
    return [f"operation {number} ({how}): {fault}" for fault in faults]


def amiss(start: Start, folder: Path) -> Iterator[str]:
    """What is not as it must be after an end, and after the next run."""
    yield from _harm(start, folder)
    entered = author_files(folder) != start.before
    command = COMMANDS["build"] if entered else COMMANDS[start.command]
    for arguments in (command, COMMANDS["build"]):
        again = _attempt(folder, *arguments)
        if again.returncode != 0:
            yield f"the next run ends with {again.returncode}: {again.stderr[-600:]}"
            return
    if pdf_text(folder) != start.text:
        yield "the next run's PDF says something else"
    if left := [str(path) for path in folder.rglob("*.part")]:
        yield f"left over: {left}"
    yield from _harm(start, folder)


def _harm(start: Start, folder: Path) -> Iterator[str]:
    changed = author_files(folder)
    record = changed.pop("printings.yaml", b"")
    if changed != {name: start.before[name] for name in FILES if name != "printings.yaml"}:
        yield "a file of the author's has changed"
    if record not in (start.before["printings.yaml"], start.record):
        yield "the record of printings is neither the old nor the new one"
    pdf = folder / "build/book.pdf"
    check = ["qpdf", "--check", pdf]
    if pdf.exists() and subprocess.run(check, capture_output=True, check=False).returncode:
        yield "half a PDF"
    inserts = folder / "book-inserts.tex"
    if inserts.exists() and inserts.read_bytes() not in start.inserts:
        yield "half an inserts file"
    pages = folder / "build/book.pages"
    if pages.exists() and not pages.read_text().endswith("done{}\n"):
        yield "half a record of pages"
    for kept in folder.glob("printings-*.json"):
        json.loads(kept.read_bytes())


def _whole_inserts(folder: Path) -> set[bytes]:
    """What the generated file may say here: as it is, and before anything is chosen."""
    from fitter.book.loader import load_book
    from fitter.engines.engine import engine_of
    from fitter.steps.insert import inserts_of

    book = load_book(folder)
    first = engine_of(book).before_choice(inserts_of(book)).encode()
    return {first, book.inserts.read_bytes()} if book.inserts.exists() else {first}


def _fresh(source: Path, target: Path) -> None:
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(source, target)


def pdf_text(folder: Path) -> str:
    """The book's text as poppler reads it."""
    pdf = folder / "build/book.pdf"
    read = ["pdftotext", "-layout", pdf, "-"]
    return subprocess.run(read, capture_output=True, text=True, check=True).stdout


def _attempt(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*FITTER, *arguments],
        cwd=folder,
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )


def _run(folder: Path, *arguments: str) -> None:
    done = _attempt(folder, *arguments)
    if done.returncode != 0:
        raise SystemExit(f"{arguments} cannot be run at all: {done.stderr}")


def _ended_at(
    folder: Path, number: int, how: str, counted: Path, command: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*ENDED, str(number), how, str(counted), *COMMANDS[command]],
        cwd=folder,
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )


def _started_by(process: int) -> list[int]:
    """Every process below another one."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            parents[int(stat.parent.name)] = int(stat.read_text().rsplit(")", 1)[1].split()[1])
        except (OSError, ValueError, IndexError):
            continue
    found = [process]
    for one in found:
        found += [child for child, parent in parents.items() if parent == one]
    return found[1:]


def _kill(process: int) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.kill(process, signal.SIGKILL)


def on_small_disks(start: Start, kilobytes: Sequence[int]) -> list[str]:
    """Run the command on disks that are full before it ends, then give them room."""
    faults = []
    for size in kilobytes:
        with tempfile.TemporaryDirectory() as name:
            mounted = subprocess.run(
                ["mount", "-t", "tmpfs", "-o", f"size={size}k", "none", name], check=False
            )
            if mounted.returncode:
                return ["no small disk can be mounted here"]
            try:
                faults += _on_disk(start, Path(name), size)
            finally:
                subprocess.run(["umount", name], check=True)
    return faults


def _on_disk(start: Start, disk: Path, size: int) -> Iterator[str]:
    folder = disk / "book"
    shutil.copytree(start.folder, folder)
    done = _attempt(folder, *COMMANDS[start.command])
    if done.returncode not in (0, 2, 3) or "Traceback" in done.stderr:
        yield f"{size} kB: status {done.returncode}: {done.stderr[-600:]}"
    subprocess.run(["mount", "-o", "remount,size=64m", disk], check=True)
    yield from (f"{size} kB: {fault}" for fault in amiss(start, folder))


def main(moments: int = MOMENTS, seed: int = 0, *commands: str) -> int:
    """End them all and print a table."""
    named = commands or tuple(COMMANDS)
    print(f"{'command':15} {'ended at':24} {'times':>6} {'amiss':>6}", flush=True)
    amiss_in_all = 0
    for command in named:
        with tempfile.TemporaryDirectory() as name:
            work = Path(name)
            one = start(command, work)
            folder = work / "run"
            share = range(seed, seed + -(-moments // len(named)))
            steps = range(1, one.operations + 1)
            sizes = [160, 240, 320, 480, 640]
            tried = {
                "random moments": [killed_at_random(one, folder, number) for number in share],
                "every file operation": [ended_at_operation(one, folder, n) for n in steps],
                "no space, each operation": [
                    ended_at_operation(one, folder, n, "ENOSPC") for n in steps
                ],
            }
            if command == "build":
                tried["a full disk"] = [on_small_disks(one, [size]) for size in sizes]
            for what, found in tried.items():
                wrong = [fault for faults in found for fault in faults]
                amiss_in_all += len(wrong)
                print(f"{command:15} {what:24} {len(found):6} {len(wrong):6}", flush=True)
                print(*wrong, sep="\n", end="\n" if wrong else "", flush=True)
    return int(amiss_in_all > 0)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:3]), *sys.argv[3:]))
