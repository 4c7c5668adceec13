"""The files that an entry of `source:` names."""

from __future__ import annotations

import re
from pathlib import Path


def matching(folder: Path, name: str) -> list[Path]:
    """The file of that name, else the files a pattern matches, 2 before 10; none if none is there.

    A pattern may not leave the folder and matches nothing hidden.
    """
    if (folder / name).is_file():
        return [folder / name]
    is_pattern = any(char in name for char in "*?[")
    if not is_pattern or Path(name).is_absolute() or ".." in Path(name).parts:
        return []
    try:
        found = [path for path in folder.glob(name) if path.is_file() and path.name[0] != "."]
    except ValueError:  # like chapters/**.md
        return []
    return sorted(found, key=lambda path: _reading_order(path.relative_to(folder).as_posix()))


def _reading_order(name: str) -> list[tuple[int, str]]:
    parts = re.findall(r"\d+|\D+", name.casefold())
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in parts]
