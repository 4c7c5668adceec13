"""Leaving: with the exit status, whenever an interruption comes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import ROOT

LOADING = """
import os, signal, sys

class Interrupting:
    def find_spec(self, name, path, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.{told})

sys.meta_path.insert(0, Interrupting())
sys.argv = ["fitter", "--version"]
from fitter.__main__ import main
main()
"""


@pytest.mark.parametrize("told", ["SIGINT", "SIGTERM", "SIGHUP"])
@pytest.mark.parametrize("module", ["fitter.cli", "click", "fitter.reports.voice"])
def test_an_interruption_while_modules_are_loaded(module: str, told: str) -> None:
    left = subprocess.run(
        [sys.executable, "-c", LOADING.format(module=module, told=told)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert left.returncode == 130, left.stderr
    assert left.stderr == "fitter: interrupted. Your files are as they were.\n"


PLAN = "book.yaml", "source: book.tex\ntitle: Größe\n"


def shell(folder: Path, line: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    (folder / "book.tex").write_text("")
    (folder / PLAN[0]).write_text(PLAN[1], encoding="utf-8")
    return subprocess.run(
        ["sh", "-c", line.format(f"{sys.executable} -m fitter plan --pages 16")],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        check=False,
    )


@pytest.mark.parametrize("closed", ["{} >&-", "{} 2>&-", "{} >&- 2>&-"])
def test_where_nobody_listens_the_work_is_done_all_the_same(tmp_path: Path, closed: str) -> None:
    done = shell(tmp_path, closed)
    assert (done.returncode, done.stderr.count(b"Traceback")) == (0, 0)


@pytest.mark.parametrize("encoding", ["latin-1", "ascii"])
def test_what_a_terminal_cannot_show_is_spelt_out(tmp_path: Path, encoding: str) -> None:
    done = shell(tmp_path, "{}", PYTHONIOENCODING=encoding)
    assert (done.returncode, done.stderr.count(b"Traceback")) == (0, 0)
    assert b"\\u2500" in done.stdout
