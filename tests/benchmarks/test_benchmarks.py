"""The benchmarks run, on small input; what they measure is not looked at here."""

from __future__ import annotations

import math
import re
import subprocess
import sys

import pytest

from tests.benchmarks.measure import Growth, in_turn
from tests.conftest import ROOT


def test_every_benchmark_gives_a_row() -> None:
    ran = [sys.executable, "-m", "tests.benchmarks", "--quick"]
    told = subprocess.run(ran, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    rows = [line.split(" | ") for line in told.splitlines() if re.match(r"\| .*\d", line)]
    names = " ".join(row[0] for row in rows)
    for one in ("latexmk", "pdftoppm", "inkcov", "CP-SAT", "import click", "dummy", "plan"):
        assert one in names
    assert all(math.isfinite(float(row[-1].strip(" |"))) for row in rows if row[-1][0].isdigit())
    assert re.match(r".+, \d+ cores, Python 3\.\d+\.\d+, \d{4}-\d\d-\d\d\n", told)


@pytest.mark.parametrize("power", [0, 1, 2])
def test_the_exponent_is_that_of_the_growth(power: int) -> None:
    sizes = (50, 200, 800, 3200)
    assert Growth("", "pages", {n: 0.001 * n**power for n in sizes}).exponent == pytest.approx(
        power
    )


def test_sides_are_measured_in_turn_and_what_comes_before_is_not() -> None:
    done: list[str] = []
    pair = in_turn(
        "", lambda: done.append("ours"), lambda: done.append("theirs"), 3, lambda: done.append("-")
    )
    assert done == ["-", "ours", "-", "theirs"] * 3
    assert pair.ratio.clock > 0
