"""Broken PDFs through the commands that read them: python tests/hostile/pdfs.py [FILES] [SEED]

Prints a table; the exit status is 1 if anything but a sentence came out of a file.
"""

from __future__ import annotations

import contextlib
import io
import multiprocessing
import os
import resource
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.hostile.mutations import mutated  # noqa: E402
from tests.hostile.originals import originals  # noqa: E402

SECONDS_AT_MOST = 10.0
SIGNS_AT_MOST = 1000  # of what is said about one file that cannot be read
FILES = 10_000


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one command took one file; `fault` is empty where all is as it should be."""

    producer: str
    command: str
    seed: int
    status: int
    seconds: float
    mb: float
    fault: str


def commands_for(original: Path, broken: Path) -> dict[str, list[str]]:
    """What reads PDFs, by name."""
    return {
        "check": ["check", str(broken), "--gathering", "8", "--format", "json"],
        "printing compare": ["printing", "compare", str(original), str(broken)],
        "dummy": ["dummy", str(broken), "--output", str(broken.with_suffix(".html")), "-q"],
    }


def outcomes(
    producer: str, original: Path, other: Path, seed: int, folder: Path
) -> Iterator[Outcome]:
    """Break a PDF and give it to each command, in this process."""
    broken = folder / f"{os.getpid()}.pdf"
    broken.write_bytes(mutated(original.read_bytes(), other.read_bytes(), seed))
    for command, arguments in commands_for(original, broken).items():
        status, out, err, seconds = ran(arguments)
        mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        fault = _fault(status, out, err, seconds)
        yield Outcome(producer, command, seed, status, seconds, mb, fault)


def ran(arguments: Sequence[str]) -> tuple[int, str, str, float]:
    """Run the command line in this process; status, output, errors, seconds of work."""
    from fitter.cli import run

    out, err = io.StringIO(), io.StringIO()
    started = _worked()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = run(arguments)
    return status, out.getvalue(), err.getvalue(), _worked() - started


def _worked() -> float:
    """Seconds of the processor so far, those of the processes apart included."""
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def _fault(status: int, out: str, err: str, seconds: float) -> str:
    if seconds > SECONDS_AT_MOST:
        return f"took {seconds:.1f} s"
    if status not in (0, 1, 2) or "Traceback" in err:
        return f"status {status}: {err[-1500:]}"
    if status == 2 and not (err.startswith("fitter: ") and len(err) < SIGNS_AT_MOST):
        return f"no clear sentence: {err[:300]!r}"
    if any(not char.isprintable() and char != "\n" for char in out + err):
        return f"control characters: {(out + err)[:300]!r}"
    return ""


def _share(job: tuple[dict[str, Path], range, Path]) -> list[Outcome]:
    made, seeds, folder = job
    names = sorted(made)
    return [
        outcome
        for seed in seeds
        for producer in [names[seed % len(names)]]
        for other in [names[(seed // len(names)) % len(names)]]
        for outcome in outcomes(producer, made[producer], made[other], seed, folder)
    ]


def table(found: Sequence[Outcome]) -> str:
    """One line for each producer and command."""
    head = f"{'producer':12} {'command':17} {'files':>6} {'read':>6} {'refused':>7}"
    lines = [f"{head} {'faults':>6} {'slowest s':>9} {'most MB':>8}"]
    for producer, command in sorted({(one.producer, one.command) for one in found}):
        rows = [one for one in found if (one.producer, one.command) == (producer, command)]
        told = Counter(one.status for one in rows)
        lines.append(
            f"{producer:12} {command:17} {len(rows):6} {told[0] + told[1]:6} {told[2]:7} "
            f"{sum(bool(one.fault) for one in rows):6} {max(one.seconds for one in rows):9.2f} "
            f"{max(one.mb for one in rows):8.0f}"
        )
    return "\n".join(lines)


def main(files: int = FILES, seed: int = 0) -> int:
    """Break so many files, tell how they were taken."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        made = originals(folder)
        steps = range(seed, seed + files, 25)
        jobs = [(made, range(at, min(at + 25, seed + files)), folder) for at in steps]
        found: list[Outcome] = []
        with multiprocessing.get_context("spawn").Pool(os.cpu_count()) as pool:
            for done, part in enumerate(pool.imap_unordered(_share, jobs), 1):
                found += part
                for one in part:
                    if one.fault:
                        print(one.producer, one.command, "seed", one.seed, one.fault, flush=True)
                if done % 20 == 0:
                    print(f"{done * 25} files", file=sys.stderr, flush=True)
    print(table(found))
    return int(any(one.fault for one in found))


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
