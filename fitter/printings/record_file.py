"""Append to printings.yaml: a line of text goes in, everything else stays as it is."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml

from fitter.errors import BadInput
from fitter.writing import write_whole

START = "# One entry for each printing; the last one is the printing being made.\nprintings:\n"


def append(record: Path, entry: Mapping[str, Any]) -> None:
    """Add an entry at the end of the record; comments, order and line ends survive.

    The new text is read back before it replaces the old. Raises BadInput with the line to add by
    hand where the file is laid out so that it cannot be added safely.
    """
    record = record.resolve()  # a link stays one
    if record.exists() and not os.access(record, os.W_OK):
        raise BadInput(f"{record}: this file may not be written. Give yourself leave to.")
    old = record.read_bytes().decode("utf-8") if record.exists() else START
    line = yaml.safe_dump(
        dict(entry), default_flow_style=True, sort_keys=False, allow_unicode=True, width=10_000
    ).strip()
    new = _added(old, line, dict(entry))
    if new is None:
        raise BadInput(
            f"{record}: the list of printings is laid out so that nothing can be added to it "
            f"safely. Add this entry by hand: {line}"
        )
    write_whole(record, new)


def _added(old: str, line: str, entry: dict[str, Any]) -> str | None:
    """The new text, if it says what the old did and the entry, and nothing else."""
    try:
        new, before = _with_entry(old, line), yaml.safe_load(old) or {}
        after = yaml.safe_load(new) if new else None
    except yaml.YAMLError:
        return None
    if not isinstance(before, dict):
        return None
    wanted = {**before, "printings": [*(before.get("printings") or []), entry]}
    return new if after == wanted else None


def _with_entry(text: str, line: str) -> str | None:
    """The text with one more entry after the last; None where that is no block list."""
    end = "\r\n" if "\r\n" in text else "\n"
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    pairs = dict(_pairs(root))
    if root is not None and not isinstance(root, yaml.MappingNode):
        return None
    if "printings" not in pairs:
        return f"{_ended(text, end)}printings:{end}  - {line}{end}"
    key, node = pairs["printings"]
    if isinstance(node, yaml.SequenceNode) and node.value and not node.flow_style:
        at = _line_after(text, _last_of(node))
        indent = " " * node.start_mark.column
    elif isinstance(node, yaml.SequenceNode) and not node.value:
        text = text[: node.start_mark.index].rstrip(" ") + text[node.end_mark.index :]
        at, indent = _line_after(text, key.end_mark.index), "  "
    elif isinstance(node, yaml.ScalarNode) and not node.value:
        at, indent = _line_after(text, key.end_mark.index), "  "
    else:
        return None
    return f"{_ended(text[:at], end)}{indent}- {line}{end}{text[at:]}"


def _pairs(root: yaml.Node | None) -> Iterator[tuple[str, tuple[yaml.Node, yaml.Node]]]:
    if isinstance(root, yaml.MappingNode):
        yield from ((str(key.value), (key, value)) for key, value in root.value)


def _line_after(text: str, index: int) -> int:
    """Where the next line begins; a comment behind the entry stays with it."""
    newline = text.find("\n", index)
    return len(text) if newline < 0 else newline + 1


def _last_of(node: yaml.Node) -> int:
    """Where the last scalar or flow collection of a block node ends."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(node, yaml.MappingNode) else last
    return int(node.end_mark.index)


def _ended(text: str, end: str) -> str:
    return text if not text or text.endswith("\n") else text + end
