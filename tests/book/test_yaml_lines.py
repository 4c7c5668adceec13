"""YAML with lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.book.yaml_lines import read_document
from fitter.errors import BadInput


def document(tmp_path: Path, text: str):  # type: ignore[no-untyped-def]
    path = tmp_path / "some.yaml"
    path.write_text(text, encoding="utf-8")
    return read_document(path, "some.yaml")


def test_every_key_and_entry_knows_its_line(tmp_path: Path) -> None:
    found = document(tmp_path, "a: 1\nb:\n  - c: 2\n    d: 3\n")
    assert found.values == {"a": 1, "b": [{"c": 2, "d": 3}]}
    assert found.at(("b", 0, "d")) == "some.yaml:4"
    assert found.at(("b", 0, "missing")) == "some.yaml:3"


def test_a_key_given_twice_is_told_with_both_lines(tmp_path: Path) -> None:
    found = document(tmp_path, "a: 1\nb: 2\na: 3\n")
    assert found.faults == (
        "some.yaml:3: the key 'a' is given twice (first in line 1). Keep one of them.",
    )


def test_broken_yaml_is_told_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"some\.yaml:3: this is not YAML"):
        document(tmp_path, "a: 1\nb: [1, 2\nc: 3\n")


def test_a_file_that_is_not_utf8_is_told(tmp_path: Path) -> None:
    path = tmp_path / "some.yaml"
    path.write_bytes("title: Märchen".encode("latin-1"))
    with pytest.raises(BadInput, match="not UTF-8"):
        read_document(path, "some.yaml")


def test_aliases_that_explode_are_refused(tmp_path: Path) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 9)]
    with pytest.raises(BadInput, match="more than"):
        document(tmp_path, "\n".join(lines))


def test_an_alias_to_itself_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        document(tmp_path, "a: &a [*a]\n")


@pytest.mark.parametrize("text", ["when: 2026-99-99\n", "n: 0b2\n", "? [a, b]\n: 1\n"])
def test_a_value_yaml_cannot_make_is_told_not_raised(tmp_path: Path, text: str) -> None:
    try:
        document(tmp_path, text)
    except BadInput as fault:
        assert "some.yaml:1" in str(fault)
