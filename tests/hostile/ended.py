"""The command line, ended or refused at its n-th file operation.

python tests/hostile/ended.py N HOW COUNT ARGUMENTS...: HOW is `kill`, or the name of an error that
the operation then meets, like ENOSPC. The number of operations is written to the file COUNT.

Counted is what changes a file below the current folder, and each program that is started.
"""

from __future__ import annotations

import errno
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

CHANGES = {
    "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "os.utime", "os.link",
    "os.symlink", "os.truncate", "subprocess.Popen",
}  # fmt: skip
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class Ender:
    """Counts the operations and ends at one of them."""

    def __init__(self, at: int, how: str, below: Path) -> None:
        self.at, self.how, self.below, self.count = at, how, str(below), 0

    def hook(self, event: str, arguments: tuple[Any, ...]) -> None:
        """See an operation that is about to be done."""
        if event == "open":
            path, _, flags = arguments
            if isinstance(path, (str, bytes)) and flags & WRITING and self._is_below(path):
                self.step(os.fsdecode(path))
        elif event == "subprocess.Popen" or (event in CHANGES and self._is_below(arguments[0])):
            self.step(event)

    def step(self, what: str) -> None:
        """One operation more."""
        self.count += 1
        if self.count != self.at:
            return
        if self.how == "kill":
            os.kill(os.getpid(), signal.SIGKILL)
        number = getattr(errno, self.how)
        raise OSError(number, os.strerror(number), what)

    def _is_below(self, path: Any) -> bool:
        return os.path.abspath(os.fsdecode(path)).startswith(self.below)  # noqa: PTH100


def main() -> int:
    """Run the command line under watch."""
    at, how, count, *arguments = sys.argv[1:]
    from fitter.cli import run

    ender = Ender(int(at), how, Path.cwd())
    real: Callable[[int], None] = os.fsync

    def fsync(handle: int) -> None:
        ender.step("fsync")
        real(handle)

    os.fsync = fsync
    sys.addaudithook(ender.hook)
    status = run(arguments)
    ended, ender.at = ender.count, 0
    Path(count).write_text(str(ended), encoding="utf-8")
    return status


if __name__ == "__main__":
    sys.exit(main())
