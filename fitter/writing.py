"""Files written whole or not at all."""

from __future__ import annotations

import glob
import os
import tempfile
from pathlib import Path

from fitter.errors import BadInput

_PART = ".part"


def write_whole(path: Path, text: str | bytes) -> bool:
    """Replace a file in one step; returns False, and touches nothing, when it says this already."""
    wanted = text.encode() if isinstance(text, str) else text
    try:
        if path.is_file() and path.read_bytes() == wanted:
            return False
        path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path, wanted)
    except OSError as error:
        raise BadInput(
            f"{path}: cannot be written: {error.strerror}. Nothing was changed."
        ) from None
    return True


def _replace(path: Path, content: bytes) -> None:
    _sweep(path)
    handle, temporary = tempfile.mkstemp(
        prefix=f".{path.name}.{os.getpid()}.", suffix=_PART, dir=path.parent
    )
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            _look_newer(Path(temporary), path)
        Path(temporary).chmod(path.stat().st_mode & 0o777 if path.exists() else 0o644)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _sweep(path: Path) -> None:
    """Take away what a killed run left half written of this file."""
    for part in path.parent.glob(f".{glob.escape(path.name)}.*{_PART}"):
        writer = part.name.removeprefix(f".{path.name}.").partition(".")[0]
        if writer.isdecimal() and not _is_alive(int(writer)):
            part.unlink(missing_ok=True)


def _is_alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        pass
    return True


def _look_newer(new: Path, old: Path) -> None:
    """Give a file a later second than the one it replaces.

    latexmk takes a file of the same size and the same second for unchanged, and a choice may turn
    0.99 into 0.98 within one.
    """
    before = int(old.stat().st_mtime)
    if int(new.stat().st_mtime) <= before:
        os.utime(new, (before + 1, before + 1))
