"""Paragraphs that were set are found again in the Markdown they came from."""

from __future__ import annotations

from fitter.engines.paragraphs import paragraph_places, words_of_tex

ONE = """---
title: A Small Book
---

# One

‘Yes,’ said the ferryman, and
rowed on.

"Yes."

- the oars
- the rope, *new*
  that spring

Yes, he said[^a] again.

[^a]: A note.
"""
TWO = """# Two

See [the chart](chart.html "A chart") before you go.

> Quoted words of the
> harbour master.

1. first
2. second

::: {.aside}
Words in a Div.
:::
"""
SOURCES = {"one.md": ONE, "chapters/two.md": TWO}


def test_each_paragraph_stands_at_its_first_line() -> None:
    seen = [
        "‘Yes,’ said the ferryman, and rowed on.",
        "“Yes.”",
        "the oars",
        "the rope, new that spring",
        "Yes, he said again.",
        "See the chart before you go.",
        "Quoted words of the harbour master.",
        "first",
        "second",
        "Words in a Div.",
    ]
    assert paragraph_places(seen, SOURCES) == [
        ("one.md", 7),
        ("one.md", 10),
        ("one.md", 12),
        ("one.md", 13),
        ("one.md", 16),
        ("chapters/two.md", 3),
        ("chapters/two.md", 5),
        ("chapters/two.md", 8),
        ("chapters/two.md", 9),
        ("chapters/two.md", 12),
    ]


def test_what_no_source_has_gets_no_place_and_leads_nobody_astray() -> None:
    seen = ["A Small Book", "“Yes.”", "Dale, A. The Tides. 1911.", "the oars", "Set by a filter"]
    places = [None, ("one.md", 10), None, ("one.md", 12), None]
    assert paragraph_places(seen, SOURCES) == places


def test_a_paragraph_changed_on_the_way_is_the_one_between_its_neighbours() -> None:
    seen = ["the rope, new that spring", "So, he said (Dale 1911) again.", "A note."]
    assert paragraph_places(seen, SOURCES)[1] == ("one.md", 16)


def test_tex_that_pandoc_wrote_gives_the_words() -> None:
    tex = (
        r"See \href{chart.html}{the \emph{chart}}\footnote{A note, \emph{with {braces}}.} "
        r"before\ldots{} you \textquotesingle go."
    )
    assert words_of_tex(tex) == "See the chart before you  go."
