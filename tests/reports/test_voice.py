"""Progress: one line that moves on a terminal, plain lines elsewhere."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from fitter.reports.voice import Progress, Voice

ROOT = Path(__file__).parent.parent.parent
SCRIPT = """
from fitter.reports.voice import Progress, Voice
say = Progress(Voice(), "draft")
say("pdflatex, run 1")
for page in range(1, 251):
    say("pdflatex, run 1", page)
Voice().warn("the end")
"""


def on_a_terminal(**environment: str) -> str:
    """What the script writes to a terminal of 80 columns."""
    ours, its = pty.openpty()
    kept = {key: value for key, value in os.environ.items() if key not in {"CI", "COLUMNS"}}
    child = subprocess.Popen(
        [sys.executable, "-c", SCRIPT],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=its,
        env={**kept, "PYTHONPATH": str(ROOT), "TERM": "xterm", **environment},
    )
    os.close(its)
    said = b""
    while True:
        try:
            read = os.read(ours, 4096)
        except OSError:  # the other end is closed
            read = b""
        if not read:
            break
        said += read
    os.close(ours)
    assert child.wait(60) == 0
    return said.decode()


def as_seen(said: str) -> list[str]:
    """The lines that stay on the screen: 'up and clear' takes the last one back."""
    lines: list[str] = []
    for line in said.replace("\r\n", "\n").rstrip("\n").split("\n"):
        if "\x1b[1A\r\x1b[K" in line:
            lines.pop()
        lines.append(line.removeprefix("\x1b[1A\r\x1b[K"))
    return lines


def test_on_a_terminal_one_line_shows_the_run_and_the_page() -> None:
    said = on_a_terminal()
    assert "run 1, page 17\r\n" in said
    assert as_seen(said) == ["draft: pdflatex, run 1, page 250", "warning: the end"]


@pytest.mark.parametrize("environment", [{"CI": "true"}, {"TERM": "dumb"}])
def test_in_ci_and_on_a_dumb_terminal_the_lines_are_plain(environment: dict[str, str]) -> None:
    said = on_a_terminal(**environment)
    assert "\x1b" not in said
    assert said.split("\r\n") == [
        "draft: pdflatex, run 1",
        "draft: pdflatex, run 1, page 100",
        "draft: pdflatex, run 1, page 200",
        "warning: the end",
        "",
    ]


def test_a_line_never_wraps_on_a_narrow_terminal() -> None:
    lines = on_a_terminal(COLUMNS="20").split("\r\n")
    assert max(len(line.removeprefix("\x1b[1A\r\x1b[K")) for line in lines[1:-2]) == 19


def test_quiet_tells_faults_and_warnings_only(capsys: pytest.CaptureFixture[str]) -> None:
    voice = Voice(0)
    Progress(voice, "draft")("pdflatex, run 1")
    voice.step("a step")
    voice.warn("a warning")
    assert capsys.readouterr().err == "warning: a warning\n"
