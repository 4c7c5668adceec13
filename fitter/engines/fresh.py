"""Whether what was made is still what would be made: the inputs' contents, hashed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from pathlib import Path

from fitter.writing import write_whole


def state_of(words: Sequence[str], files: Iterable[Path]) -> dict[str, str]:
    """The words, and every file with the hash of its content (empty for one that is not there)."""
    return {
        "words": "\0".join(words),
        **{str(file.resolve()): _hash(file) for file in sorted(set(files))},
    }


def is_fresh(state_file: Path, state: dict[str, str]) -> bool:
    """Whether the state kept after the last run is this one."""
    try:
        kept = json.loads(state_file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return bool(kept == state)


def begin(state_file: Path) -> None:
    """Forget the last run before a new one, which may be stopped half way."""
    keep(state_file, {})


def keep(state_file: Path, state: dict[str, str]) -> None:
    """Remember the state for the next run."""
    write_whole(state_file, json.dumps(state, indent=0, ensure_ascii=False))


def _hash(file: Path) -> str:
    try:
        return hashlib.sha256(file.read_bytes()).hexdigest()
    except OSError:
        return ""
