"""What a program writes to a terminal of 80 columns, and what is left on the screen of it."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
_UP_AND_CLEAR = "\x1b[1A\r\x1b[K"


def on_a_terminal(*arguments: str | Path, cwd: Path = ROOT, **environment: str) -> str:
    """Run Python with these arguments; both outputs go to the terminal."""
    ours, its = pty.openpty()
    kept = {key: value for key, value in os.environ.items() if key not in _NOT_KEPT}
    child = subprocess.Popen(
        [sys.executable, *map(str, arguments)],
        cwd=cwd,
        stdin=subprocess.DEVNULL,
        stdout=its,
        stderr=its,
        env={**kept, "PYTHONPATH": str(ROOT), "TERM": "xterm", **environment},
    )
    os.close(its)
    said = b""
    while read := _read(ours):
        said += read
    os.close(ours)
    child.wait(60)
    return said.decode().replace("\r\n", "\n")


_NOT_KEPT = {"CI", "COLUMNS", "NO_COLOR"}


def as_seen(said: str) -> list[str]:
    """The lines that stay on the screen: 'up and clear' takes the last one back."""
    lines: list[str] = []
    for line in said.rstrip("\n").split("\n"):
        if line.startswith(_UP_AND_CLEAR):
            lines.pop()
        lines.append(line.removeprefix(_UP_AND_CLEAR))
    return lines


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 4096)
    except OSError:  # the other end is closed
        return b""
