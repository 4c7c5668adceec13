"""Text from YAML comes out as typed and runs nothing."""

from __future__ import annotations

import re

import pytest

from fitter.inserts.escape import tex_path, tex_text


def test_no_character_keeps_its_power() -> None:
    escaped = tex_text("\\input{x} 100% $5 #1 a_b^c~d & {e}")
    commands = set(re.findall(r"\\([A-Za-z]+)", escaped))
    assert commands == {"textbackslash", "textasciicircum", "textasciitilde"}
    assert not re.search(r"(?<!\\)[%$#&_]", escaped)


def test_dashes_and_quotes_do_not_grow_together() -> None:
    assert tex_text("--- '' ,,") == "-{}-{}- '{}' ,{},"


def test_a_wide_gap_stays_wide() -> None:
    assert tex_text("10   QX") == "10\\ \\ \\ QX"


def test_control_characters_are_dropped() -> None:
    assert tex_text("a\n\\par\x1bb\x00") == "a\\textbackslash{}parb"


def test_a_path_keeps_percent_and_tilde() -> None:
    assert (
        tex_path("a 100%/~x#1.tex") == "a 100\\fitterPercent{}/\\fitterTilde{}x\\fitterHash{}1.tex"
    )


@pytest.mark.parametrize("bad", ["a\\b.tex", "a{b.tex", "a\nb.tex", 'a"b.tex', "a$b.tex"])
def test_a_path_tex_cannot_open_is_refused(bad: str) -> None:
    with pytest.raises(ValueError, match="rename it"):
        tex_path(bad)
