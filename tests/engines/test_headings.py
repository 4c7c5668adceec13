"""The line of each heading, whatever Markdown does around it."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from fitter.engines.headings import heading_places
from tests.conftest import both_pandocs

TEXT = """---
title: no heading
---

# The *Ferry* at "Holm" {#ferry .unnumbered}

```
# In a code block
```

Second crossing
===============

## A [link](x.md#y) in it ##

> # Quoted words

# The Ferry
"""
LINES = [5, 11, 14, 16, 18]
LISTING = "function Header(h) io.stderr:write(pandoc.utils.stringify(h.content), '\\n') end"


@pytest.mark.parametrize("name", ["system", "packaged"])
def test_each_heading_that_pandoc_sees_has_its_line(name: str, tmp_path: Path) -> None:
    book, listing = tmp_path / "a.md", tmp_path / "list.lua"
    book.write_text(TEXT)
    listing.write_text(LISTING)
    arguments = [both_pandocs()[name], f"--lua-filter={listing}", "--to=plain", str(book)]
    told = subprocess.run(arguments, capture_output=True, text=True, check=True).stderr
    places = heading_places(told.splitlines(), {"a.md": TEXT})
    assert places == [("a.md", line) for line in LINES]


def test_the_same_words_are_found_in_order_across_files() -> None:
    sources = {"1.md": "# One\n\n# Notes\n", "2.md": "x\n\n# Notes\n"}
    seen = ["One", "Notes", "Notes", "Notes"]
    assert heading_places(seen, sources) == [("1.md", 1), ("1.md", 3), ("2.md", 3), None]


def test_a_heading_that_no_line_says_leaves_the_others_in_place() -> None:
    sources = {"1.md": "# One\n\n# Three\n"}
    assert heading_places(["One", "Made by a filter", "Three"], sources) == [
        ("1.md", 1),
        None,
        ("1.md", 3),
    ]
