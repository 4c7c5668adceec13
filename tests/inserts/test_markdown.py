"""Metadata text that pandoc reads as plain text."""

from __future__ import annotations

import string
import subprocess

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitter.inserts.markdown import markdown_text
from tests.conftest import both_pandocs

NASTY = string.printable.strip() + "éß漢 "


def read_by(pandoc: str, text: str) -> str:
    done = subprocess.run(
        [pandoc, "--from=markdown", "--to=plain", "--wrap=none"],
        input=markdown_text(text),
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout.rstrip("\n")


@pytest.mark.parametrize("name", ["system", "packaged"])
def test_every_sign_stands_for_itself(name: str) -> None:
    signs = "".join(sorted(set(string.punctuation) - {"'"}))
    assert read_by(both_pandocs()[name], f"a{signs}b") == f"a{signs}b"


def test_an_apostrophe_is_set_as_one() -> None:
    assert read_by(both_pandocs()["system"], "Vaisey's") == "Vaisey\u2019s"


@settings(max_examples=40, deadline=None)
@given(st.text(alphabet=NASTY.replace("'", ""), min_size=1, max_size=30))
def test_any_line_of_text_survives(text: str) -> None:
    words = " ".join(text.split())
    assert read_by(both_pandocs()["packaged"], words) == words
