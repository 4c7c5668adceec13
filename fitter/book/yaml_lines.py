"""YAML read so that every value knows its line: duplicates refused, size and depth bounded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from fitter.errors import BadInput

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
MOST_VALUES = 100_000
MOST_BYTES = 2_000_000
DEEPEST = 40
LONGEST_KEY = 100

Place = tuple[str | int, ...]
# PyYAML fails in many ways where a tag such as !!bool stands before what is none.
_UNREADABLE = (yaml.YAMLError, ValueError, LookupError, TypeError, AttributeError, ArithmeticError)


@dataclass(frozen=True, slots=True)
class Document:
    """The values of one YAML file, the line (from 1) of every key and entry, and its own faults."""

    name: str
    values: Any
    lines: dict[Place, int]
    faults: tuple[str, ...] = ()

    def line(self, place: Place) -> int:
        """The line of a place, or of the nearest thing around it that the file does have."""
        while place and place not in self.lines:
            place = place[:-1]
        return self.lines.get(place, 1)

    def at(self, place: Place) -> str:
        """The place as a person reads it: `fillers.yaml:12`."""
        return f"{self.name}:{self.line(place)}"


def read_document(path: Path, name: str) -> Document:
    """Read one YAML file; `name` is what messages call it.

    Keys given twice and values that cannot be read are told in `faults`. Raises BadInput for a
    missing or unreadable file or broken YAML.
    """
    text = _read_text(path, name)
    try:
        root = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else 1
        raise BadInput(
            f"{name}:{line}: this is not YAML: {error.problem}. {_remedy(error)}"
        ) from None
    except (yaml.YAMLError, ValueError) as error:
        raise BadInput(f"{name}: this is not YAML: {error}") from None
    walk = _Walk(name)
    walk.lines[()] = 1
    values = walk.value(root, ()) if root is not None else None
    return Document(name, values, walk.lines, tuple(walk.faults))


def _read_text(path: Path, name: str) -> str:
    try:
        if path.exists() and not path.is_file():
            raise BadInput(f"{name}: this is no file but something else. Give it another name.")
        if path.stat().st_size > MOST_BYTES:
            raise BadInput(
                f"{name}: the file has more than {MOST_BYTES // 1_000_000} MB. Nothing of a book "
                "needs that: shorten it."
            )
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise BadInput(f"{name}: there is no such file. Mend the path or add it.") from None
    except UnicodeDecodeError:
        raise BadInput(f"{name}: this file is not UTF-8. Save it as UTF-8.") from None
    except OSError as error:
        raise BadInput(f"{name}: cannot be read: {error.strerror}.") from None


def _remedy(error: yaml.MarkedYAMLError) -> str:
    if "\\t" in str(error.problem):
        return "Indent with spaces instead of tabs."
    return "Check the indentation, the colons and the quotes on that line and the one before."


def _is_plain(key: str) -> bool:
    return len(key) <= LONGEST_KEY and key.isprintable()


class _Walk:
    """One pass over the node tree that builds the values and remembers the lines."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.lines: dict[Place, int] = {}
        self.faults: list[str] = []
        self.count = 0
        self.scalars = yaml.SafeLoader("")

    def value(self, node: yaml.Node, place: Place) -> Any:
        self._bound(node, place)
        self.lines.setdefault(place, node.start_mark.line + 1)
        if isinstance(node, yaml.MappingNode):
            return {
                key: self.value(child, (*place, key)) for key, child in self._pairs(node, place)
            }
        if isinstance(node, yaml.SequenceNode):
            return [self.value(child, (*place, i)) for i, child in enumerate(node.value)]
        return self._scalar(node)

    def _pairs(self, node: yaml.MappingNode, place: Place) -> Iterator[tuple[str | int, yaml.Node]]:
        seen: dict[Any, int] = {}
        for key_node, child in node.value:
            line = key_node.start_mark.line + 1
            if not isinstance(key_node, yaml.ScalarNode) or not _is_plain(key_node.value):
                self.faults.append(f"{self.name}:{line}: a key must be a plain word.")
                continue
            key = self._scalar(key_node)
            if not isinstance(key, int) or isinstance(key, bool):
                key = key_node.value
            if key in seen:
                self.faults.append(
                    f"{self.name}:{line}: the key '{key}' is given twice "
                    f"(first in line {seen[key]}). Keep one of them."
                )
                continue
            seen[key] = line
            self.lines[(*place, key)] = line
            yield key, child

    def _scalar(self, node: yaml.Node) -> Any:
        try:
            return self.scalars.construct_object(node)
        except _UNREADABLE:
            line = node.start_mark.line + 1
            self.faults.append(
                f"{self.name}:{line}: {node.value[:LONGEST_KEY]!r} cannot be read as "
                f"{node.tag.rsplit(':')[-1]}. "
                "Put it in quotes if it is text."
            )
            return None

    def _bound(self, node: yaml.Node, place: Place) -> None:
        self.count += 1
        if self.count > MOST_VALUES or len(place) > DEEPEST:
            raise BadInput(
                f"{self.name}:{node.start_mark.line + 1}: the file holds more than {MOST_VALUES} "
                f"values or is nested deeper than {DEEPEST} levels (YAML anchors count each time). "
                "Nothing of a book needs that: shorten it."
            )
