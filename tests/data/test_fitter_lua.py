"""The pandoc filter in both pandocs, for every kind of output."""

from __future__ import annotations

import itertools
import json
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import pytest

from fitter.package import data_file
from tests.conftest import both_pandocs

FILTER = data_file("fitter.lua")
NAMES = ("system", "packaged")
BOOK = """---
title: A Small Book
documentclass: book
---

::: {.imprint-page}
Published by nobody.

::: {.imprint-history}
:::

::: {.imprint-isbn}
:::

::: {.imprint-key}
:::
:::

# Preface {.unnumbered}

Why.

::: {.filler-slot place=front}
:::

# One

Text.

::: {.page-break}
:::

::: {.recto}
:::

# Two

More.
"""
INSERTS_TEX = r"""\fitterMark{Left \& blank.}
\fitterKey{10 9 8 \& 7}
\fitterIsbn{978-1-234-56789-7}
\fitterHistory{First published 2026\\Reprinted 2027}
"""
INSERTS_JSONL = """["mark", "Left \\\\ \\"blank\\"."]
["openers", "mark"]
["key", "10 9 8 & 7"]
["isbn", "978-1-234-56789-7"]
["history", "First published 2026"]
["history", "Reprinted 2027"]
"""


def run(name: str, folder: Path, *arguments: str, text: str = BOOK) -> str:
    """Run one of the two pandocs with the filter on a book; its standard output."""
    (folder / "book.md").write_text(text, encoding="utf-8")
    done = subprocess.run(
        [both_pandocs()[name], f"--lua-filter={FILTER}", "--wrap=none", "book.md", *arguments],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def tree(name: str, text: str, *arguments: str) -> list[dict[str, Any]]:
    """The blocks as pandoc reads them, without the filter."""
    done = subprocess.run(
        [both_pandocs()[name], "--to=json", *arguments],
        input=text,
        capture_output=True,
        text=True,
        check=True,
    )
    return list(json.loads(done.stdout)["blocks"])


@pytest.mark.parametrize("name", NAMES)
def test_the_divs_are_what_pandoc_says_they_are(name: str) -> None:
    # Source: Pandoc User's Guide, 8.18.1 fenced_divs: "A Div starts with a fence containing at
    # least three consecutive colons plus some attributes."
    (div,) = tree(name, "::: {.filler-slot place=front}\n:::\n")
    assert div["t"] == "Div"
    assert div["c"] == [["", ["filler-slot"], [["place", "front"]]], []]
    assert [block["t"] for block in tree(name, ":: {.filler-slot}\n::\n")] != ["Div"]


@pytest.mark.parametrize("name", NAMES)
def test_nested_divs_close_from_the_inside(name: str) -> None:
    # Source: Pandoc User's Guide, 8.18.1: "Fences without attributes are always closing fences."
    (outer,) = tree(name, "::: {.imprint-page}\n::: {.imprint-key}\n:::\nText\n:::\n")
    assert [block["t"] for block in outer["c"][1]] == ["Div", "Para"]


@pytest.mark.parametrize("name", NAMES)
def test_what_the_filter_writes_is_what_pandoc_calls_a_raw_block(name: str) -> None:
    # Source: pandoc test/command/3537.md: {=ms} is read as RawBlock (Format "ms").
    (block,) = tree(name, "```{=ms}\n.MACRO\nfoo bar\n```\n")
    assert block == {"t": "RawBlock", "c": ["ms", ".MACRO\nfoo bar"]}


@pytest.mark.parametrize("name", NAMES)
def test_an_author_may_write_raw_latex_beside_the_filter(name: str, tmp_path: Path) -> None:
    # Source: R Markdown Cookbook, 6.11: raw blocks need a pandoc above 2.0; both are.
    text = BOOK + "\n```{=latex}\n\\vspace{1cm}\n```\n"
    assert "\\vspace{1cm}" in run(name, tmp_path, "--to=latex", text=text)


def test_the_filter_needs_no_lua_on_the_machine(tmp_path: Path) -> None:
    # Source: Pandoc Lua Filters: "A Lua interpreter (version 5.4) and a Lua library for creating
    # pandoc filters is built into the pandoc executable." (Debian's 2.17 was built with 5.3.)
    asks = tmp_path / "asks.lua"
    asks.write_text("io.stderr:write(_VERSION)\nfunction Pandoc(doc) end\n")
    said = {}
    for name, program in both_pandocs().items():
        done = subprocess.run(
            [program, f"--lua-filter={asks}"],
            input="x",
            env={"PATH": "/nowhere"},
            capture_output=True,
            text=True,
            check=True,
        )
        said[name] = done.stderr
    assert said == {"system": "Lua 5.3", "packaged": "Lua 5.4"}


@pytest.mark.parametrize("name", NAMES)
def test_for_latex_the_divs_become_the_packages_commands(name: str, tmp_path: Path) -> None:
    made = run(name, tmp_path, "--to=latex", "--standalone")
    assert "\\usepackage{fitter}" in made
    body = made.split("\\begin{document}")[1]
    order = ("\\imprinthistory", "\\imprintisbn", "\\imprintkey", "\\chapter*{Preface}",
             "\\fillerslot{front}", "\\mainmatter", "\\chapter{One}", "\\clearpage",
             "\\cleardoublepage", "\\chapter{Two}")  # fmt: skip
    positions = [body.rindex(word) for word in order]
    assert positions == sorted(positions)
    assert ":::" not in body


def test_for_typst_the_divs_become_the_twins_functions(tmp_path: Path) -> None:
    (tmp_path / "book-inserts.jsonl").write_text(INSERTS_JSONL)
    made = run("packaged", tmp_path, "--to=typst", "--standalone", "--output=book.typ")
    made = (tmp_path / "book.typ").read_text()
    body = made.split("#show: fitter-draft")[1]
    order = ("#imprint-page[", "#imprint-history()", "#imprint-isbn()", "#imprint-key()",
             "[Preface]", '#fitter-slot("front")', "= One", "#fitter-page-break()",
             "#fitter-recto-break()", "= Two", "#fitter-end(had-back: false)")  # fmt: skip
    positions = [body.index(word) for word in order]
    assert positions == sorted(positions)
    assert r'("mark", "Left \\ \"blank\".",)' in made


def test_a_back_slot_of_the_authors_own_is_the_only_one(tmp_path: Path) -> None:
    text = BOOK + "\n::: {.filler-slot place=back}\n:::\n\n# Colophon {.unnumbered}\n"
    made = run("packaged", tmp_path, "--to=typst", "--standalone", text=text)
    assert made.index('#fitter-slot("back")') < made.index("[Colophon]")
    assert "#fitter-end(had-back: true)" in made


@pytest.mark.parametrize(("name", "ending"), [*itertools.product(NAMES, ("tex", "jsonl"))])
@pytest.mark.parametrize("to", ["html", "plain", "docx", "epub3"])
def test_without_paper_slots_vanish_and_the_key_stays(
    name: str, ending: str, to: str, tmp_path: Path
) -> None:
    text = INSERTS_TEX if ending == "tex" else INSERTS_JSONL
    (tmp_path / f"book-inserts.{ending}").write_text(text)
    made = tmp_path / "book.out"
    run(name, tmp_path, f"--to={to}", "--standalone", f"--output={made}")
    if zipfile.is_zipfile(made):
        archive = zipfile.ZipFile(made)
        parts = [archive.read(entry) for entry in archive.namelist() if "ml" in entry[-5:]]
        content = b"\n".join(parts).decode()
    else:
        content = made.read_text()
    content = content.replace("&amp;", "&")
    assert "10 9 8 & 7" in content
    assert "First published 2026" in content and "Reprinted 2027" in content
    assert "978-1-234-56789-7" not in content, "an electronic edition has an ISBN of its own"
    assert "filler-slot" not in content and "imprint-key" not in content
    assert "blank" not in content


@pytest.mark.parametrize("name", NAMES)
def test_an_empty_imprint_page_keeps_history_and_key_without_paper(
    name: str, tmp_path: Path
) -> None:
    (tmp_path / "book-inserts.jsonl").write_text(INSERTS_JSONL)
    run(name, tmp_path, "--output=book.txt", text="::: {.imprint-page}\n:::\n")
    said = (tmp_path / "book.txt").read_text().split("\n\n")
    assert [line.strip() for line in said] == [
        "First published 2026", "Reprinted 2027", "10 9 8 & 7"
    ]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_outside_the_tool_there_is_no_key_and_no_fault(name: str, tmp_path: Path) -> None:
    made = run(name, tmp_path, "--to=plain")
    assert " ".join(made.split()) == "Published by nobody. Preface Why. One Text. Two More."


@pytest.mark.parametrize("name", NAMES)
def test_outside_the_tool_latex_builds_without_the_package(name: str, tmp_path: Path) -> None:
    run(name, tmp_path, "--output=book.pdf", "--pdf-engine=pdflatex", "--to=latex")
    told = subprocess.run(["pdfinfo", tmp_path / "book.pdf"], capture_output=True, check=True)
    assert b"Pages:           7" in told.stdout


@pytest.mark.parametrize("name", NAMES)
def test_a_slot_without_a_place_is_left_out_and_told(name: str, tmp_path: Path) -> None:
    (tmp_path / "book.md").write_text("# One\n\n::: {.filler-slot}\n:::\n\nText\n")
    done = subprocess.run(
        [both_pandocs()[name], f"--lua-filter={FILTER}", "--to=latex", tmp_path / "book.md"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "needs place=front or place=back" in done.stderr
    assert "fillerslot" not in done.stdout and "Text" in done.stdout


@pytest.mark.parametrize("name", NAMES)
def test_where_front_matter_ends(name: str, tmp_path: Path) -> None:
    plain = "---\ndocumentclass: book\n---\n\n# A {.unnumbered}\n\na\n\n# B\n\nb\n"
    made = run(name, tmp_path, "--to=latex", "--standalone", text=plain)
    assert made.index("{A}") < made.index("\\mainmatter") < made.index("{B}")
    said = plain + "\n::: {.main-matter}\n:::\n\n# C {.unnumbered}\n\nc\n"
    made = run(name, tmp_path, "--to=latex", "--standalone", text=said)
    assert made.index("\\chapter*{B}") < made.index("\\mainmatter") < made.index("{C}")


@pytest.mark.parametrize("name", NAMES)
def test_a_class_without_front_matter_keeps_its_order(name: str, tmp_path: Path) -> None:
    text = BOOK.replace("documentclass: book", "documentclass: article")
    made = run(name, tmp_path, "--to=latex", "--standalone", text=text)
    assert made.index("Published by nobody") > made.index("\\maketitle")
    assert "\\chapter" not in made.split("\\begin{document}")[1]


def test_a_fillers_own_metadata_leaves_the_book_alone(tmp_path: Path) -> None:
    (tmp_path / "bio.md").write_text(
        "---\ntitle: Not this\nlang: de\nheader-includes: '#fallen()'\nfitter-inserts: x\n---\n\n"
        "# About {#one}\n\nSee [here](#one).\n"
    )
    (tmp_path / "book-inserts.jsonl").write_text('["candidate", "bio", "bio.md"]\n')
    run("packaged", tmp_path, "--to=typst", "--standalone", "--output=book.typ")
    made = (tmp_path / "book.typ").read_text()
    assert "title: [A Small Book]" in made
    assert "Not this" not in made and "fallen" not in made and '"de"' not in made
    assert "#heading(level: 1, outlined: false, numbering: none)[About]" in made
    assert made.count("<one>") == 1, "the book's own"


@pytest.mark.parametrize("ending", ["tex", "TEX"])
def test_a_latex_filler_is_read_as_latex(tmp_path: Path, ending: str) -> None:
    (tmp_path / f"bio.{ending}").write_text("\\emph{About} the author, 100\\,\\%.\n")
    (tmp_path / "book-inserts.jsonl").write_text(f'["candidate", "bio", "bio.{ending}"]\n')
    run("packaged", tmp_path, "--to=typst", "--standalone", "--output=book.typ")
    made = (tmp_path / "book.typ").read_text()
    assert "#emph[About] the author" in made
    assert "emph{" not in made


def test_texts_of_the_inserts_are_texts_in_typst(tmp_path: Path) -> None:
    evil = json.dumps(["mark", '"); #panic("x") \\ #read("/etc/passwd") $ [ * _'])
    (tmp_path / "book-inserts.jsonl").write_text(f'{evil}\n["openers", "mark"]\n')
    run("packaged", tmp_path, "--to=typst", "--standalone", "--output=book.typ")
    import typst

    pdf = tmp_path / "book.pdf"
    typst.compile(tmp_path / "book.typ", output=pdf, root=tmp_path)
    said = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True)
    assert '"); #panic("x") \\ #read("/etc/passwd") $ [ * _' in " ".join(said.stdout.split())


@pytest.mark.parametrize("name", NAMES)
def test_outside_the_tool_a_settings_default_holds(name: str, tmp_path: Path) -> None:
    head = "header-includes: '`\\typeout{SEEN \\bookset[0.9]{leading}}`{=latex}'"
    text = BOOK.replace("title: A Small Book\n", f"title: A Small Book\n{head}\n")
    made = run(name, tmp_path, "--to=latex", "--standalone", text=text)
    (tmp_path / "book.tex").write_text(made)
    done = subprocess.run(
        ["pdflatex", "-interaction=batchmode", "book.tex"],
        cwd=tmp_path,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert "SEEN 0.9\n" in (tmp_path / "book.log").read_text("utf-8", "replace")
