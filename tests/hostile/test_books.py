"""Books that would run something, leave their folder or take all the time there is."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]

# Each would write a file named `ran` if any of its words were run.
RUNNING = [
    "\\immediate\\write18{touch ran}",
    "\\input{|touch ran}",
    "\\input{/etc/passwd}",
    '\\directlua{os.execute("touch ran")}',
    "\\csname input\\endcsname{/etc/passwd}",
    "^^5cinput{/etc/passwd}",
    "$(touch ran)`touch ran`;touch ran",
    '#{read("/etc/passwd")} #include "/etc/passwd"',
    '`\\input{/etc/passwd}`{=latex} `#read("/etc/passwd")`{=typst}',
    "![](/etc/passwd) <script>alert(1)</script> %{{ 7*7 }}",
]


def quoted(text: str) -> str:
    """As YAML has it in single quotes."""
    return "'" + text.replace("'", "''") + "'"


def settings(said: str, source: str, engine: str) -> str:
    """A book.yaml that says it wherever it may say something."""
    value = quoted(said)
    return (
        f"title: {value}\nauthor: {value}\nsource: {source}\nengine: {engine}\n"
        f"binding: {{gathering: 4}}\nblanks: {{mark: {value}}}\n"
        f"imprint: {{publisher: {value}, year: 2026, edition: {value}, "
        f"key: {{words: {value}}}}}\n"
    )


CATALOGUE = "fillers:\n  - {{id: notes, page: notes, pages: 1..4, title: {}}}\n"
LATEX = (
    "\\documentclass{book}\\usepackage[T1]{fontenc}\\usepackage{lmodern}\\usepackage{fitter}"
    "\\begin{document}Text.\\newpage\\imprintpage\\end{document}\n"
)


def built(book: BookFolder) -> str:
    """Build, and tell what the book says; nothing was run and nothing read."""
    ran = book.fitter("build", "-q")
    assert ran.status in (0, 1), ran.err
    assert not list(book.folder.rglob("ran"))
    read = ["pdftotext", "-layout", next(book.folder.glob("build/*.pdf")), "-"]
    said = subprocess.run(read, capture_output=True, text=True, check=True).stdout
    assert "root:x:0" not in said
    return said


def test_values_come_out_as_typed_in_latex(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", LATEX)
    book_folder.write("book.yaml", settings(" ".join(RUNNING), "book.tex", "lualatex"))
    book_folder.write("fillers.yaml", CATALOGUE.format(quoted(RUNNING[0])))
    assert "write18{touch ran}" in built(book_folder)


@pytest.mark.parametrize("engine", ["typst", "pdflatex"])
def test_values_come_out_as_typed_from_markdown(book_folder: BookFolder, engine: str) -> None:
    book_folder.write("book.md", "# One\n\n::: {.imprint-page}\n:::\n\nText.\n")
    book_folder.write("book.yaml", settings(" ".join(RUNNING), "book.md", engine))
    book_folder.write("fillers.yaml", CATALOGUE.format(quoted(RUNNING[0])))
    assert "write18{touch ran}" in built(book_folder)


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("output", "../out.pdf"),
        ("output", "/tmp/out.pdf"),
        ("output", "link/out.pdf"),
        ("output", "build/$(touch ran).pdf"),
        ("output", "build/`touch ran`.pdf"),
        ("output", "build/-shell-escape.pdf"),
        ("source", "../book.tex"),
        ("source", "/etc/passwd"),
        ("source", "link/passwd"),
        ("source", "-shell-escape"),
        ("source", "a;touch ran;.tex"),
        ("source", "\\write18{touch ran}.tex"),
        ("fillers", "../fillers.yaml"),
        ("fillers", "link/passwd"),
        ("printings", "/etc/passwd"),
        ("printer", "../../../etc/passwd"),
    ],
)
def test_paths_that_lead_out_or_act_are_refused(
    book_folder: BookFolder, key: str, path: str
) -> None:
    book_folder.write("book.tex", LATEX)
    (book_folder.folder / "link").symlink_to("/etc")
    if key == "source" and not path.startswith((".", "/", "link")):
        book_folder.write(path, LATEX)
    lines = {"source": "book.tex", "engine": "pdflatex", key: path}
    text = "".join(f"{name}: {quoted(value)}\n" for name, value in lines.items())
    book_folder.write("book.yaml", text)
    ran = book_folder.fitter("build")
    assert ran.status == 2, ran.err
    assert f"book.yaml:{list(lines).index(key) + 1}: '{path}'" in ran.err
    assert "root:x" not in ran.err
    assert not list(book_folder.folder.rglob("ran"))
    assert not (book_folder.folder.parent / "out.pdf").exists()


@pytest.mark.parametrize("path", ["../bio.tex", "/etc/passwd.tex", "link/x.md", "|touch ran.tex"])
def test_fillers_stay_inside_too(book_folder: BookFolder, path: str) -> None:
    book_folder.write("book.tex", LATEX).write("book.yaml", "source: book.tex\n")
    (book_folder.folder / "link").symlink_to(book_folder.folder.parent)
    book_folder.write("fillers.yaml", f"fillers:\n  - {{id: f, source: {quoted(path)}}}\n")
    ran = book_folder.fitter("build")
    assert ran.status == 2
    assert "fillers.yaml:2: " in ran.err


def test_an_output_folder_that_is_a_link_out_is_refused(
    book_folder: BookFolder, tmp_path_factory: pytest.TempPathFactory
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    book_folder.write("book.tex", LATEX).write("book.yaml", "source: book.tex\n")
    (book_folder.folder / "build").symlink_to(outside)
    assert book_folder.fitter("build").status == 2
    assert list(outside.iterdir()) == []


def spent() -> float:
    """Seconds of the processor that all programs run from here took."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def in_time(book: BookFolder, *arguments: str) -> str:
    """A sentence, and soon: within ten seconds of the processor, however busy the machine is."""
    before = spent()
    ran = book.fitter(*arguments)
    assert spent() - before < 10
    assert ran.status == 2, ran.err
    assert "Traceback" not in ran.err
    assert len(ran.err) < 1000
    return ran.err


@pytest.fixture
def plain_book(book_folder: BookFolder) -> BookFolder:
    """A book of YAML alone."""
    return book_folder.write("book.tex", "").write(
        "book.yaml", "source: book.tex\nbinding: {gathering: 64}\n"
    )


def test_a_million_fillers_are_answered_at_once(plain_book: BookFolder) -> None:
    entry = "  - {id: f, page: notes}\n"
    plain_book.write("fillers.yaml", "fillers:\n" + entry * 1_000_000)
    assert "more than 2 MB" in in_time(plain_book, "plan", "--pages", "99")


def test_ten_thousand_fillers_are_too_many(plain_book: BookFolder) -> None:
    entries = "".join(f"  - {{id: f{i}, page: notes}}\n" for i in range(10_000))
    plain_book.write("fillers.yaml", f"fillers:\n{entries}")
    assert "5,000 are the most" in in_time(plain_book, "plan", "--pages", "99")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a: &a [x,x,x,x,x,x,x,x,x]\n" + "".join(
            f"{chr(98 + i)}: &{chr(98 + i)} [{','.join([f'*{chr(97 + i)}'] * 9)}]\n"
            for i in range(9)
        ), "anchors count each time"),
        ("a: &a {b: *a}\n", ""),
        ("[" * 100_000, ""),
        ("a: " * 20_000, ""),
        ("fillers: [" + "{id: x, page: notes, pages: 1..999999999999}]", "fillers.yaml:1"),
        ("fillers: [{id: x, page: notes, pages: " + "9" * 5000 + "}]", "fillers.yaml:1"),
        ("? [a, b]\n: c\n", "a key must be a plain word"),
        ('"a\\nfitter: all is well": 1\n', "a key must be a plain word"),
        ("!!python/object/apply:os.system ['touch ran']\n", "fillers.yaml:1"),
        ("\x00\x01", "not YAML"),
        ("%YAML 9.9\n---\n", ""),
        ("fillers: 1e999\n", "fillers.yaml:1"),
        ("- &a\n- *b\n", "fillers.yaml:2"),
        ("fillers: !!bool x\n", "fillers.yaml:1: 'x' cannot be read as bool"),
        ("fillers: !!int ''\n", "fillers.yaml:1: '' cannot be read as int"),
        ("fillers: !!int '-'\n", "fillers.yaml:1"),
        ("fillers: !!float ''\n", "fillers.yaml:1"),
        ("!!timestamp x: 1\n", "fillers.yaml:1: 'x' cannot be read as timestamp"),
    ],
)  # fmt: skip
def test_yaml_that_explodes_is_told(plain_book: BookFolder, text: str, told: str) -> None:
    plain_book.write("fillers.yaml", text)
    assert told in in_time(plain_book, "plan", "--pages", "99")
    assert not list(plain_book.folder.rglob("ran"))


def test_a_pipe_in_the_place_of_a_file_is_told(plain_book: BookFolder) -> None:
    os.mkfifo(plain_book.folder / "fillers.yaml")
    assert "no file but something else" in in_time(plain_book, "plan", "--pages", "99")


def test_shell_escape_is_left_as_tex_has_it(make_latex_book: MakeBook, tmp_path: Path) -> None:
    """TeX Live's default is the restricted one, which pdfTeX tells as 2 (pdfTeX manual, 7.25)."""
    book = make_latex_book(lengths=(1,))
    source = (book.folder / "book.tex").read_text()
    tell = "\\typeout{escape \\the\\pdfshellescape}\\immediate\\write18{touch ran}"
    book.write("book.tex", source.replace("\\mainmatter", f"\\mainmatter{tell}"))
    for variable in ({}, {"shell_escape": "t", "openin_any": "a", "openout_any": "a"}):
        ran = book.fitter("build", **variable)
        assert ran.status in (0, 1), ran.err
        assert "escape 2" in (book.folder / "build/book.log").read_text()
        shutil.rmtree(book.folder / "build")
    assert not list(book.folder.rglob("ran"))


def test_no_argument_switches_shell_escape_on() -> None:
    package = Path(__file__).parents[2] / "fitter"
    said = [file for file in package.rglob("*.py") if "shell-escape" in file.read_text("utf-8")]
    said += [package / "data/latexmkrc"] * ("escape" in (package / "data/latexmkrc").read_text())
    assert said == []


@pytest.mark.parametrize(
    ("own", "yaml"),
    [
        ("book.tex", "source: book.md\nengine: pdflatex\noutput: book.pdf\n"),
        ("book.typ", "source: book.md\nengine: typst\noutput: book.pdf\n"),
        ("book-inserts.tex", "source: book.md\nengine: pdflatex\n"),
        ("cards.pdf", "source: book.md\nengine: typst\noutput: cards.pdf\n"),
    ],
)
def test_a_file_of_the_author_s_in_the_way_stays(
    book_folder: BookFolder, own: str, yaml: str
) -> None:
    book_folder.write("book.md", "# One\n").write("book.yaml", yaml).write(own, "my own")
    if own == "cards.pdf":
        book_folder.write("fillers.yaml", "fillers:\n  - {id: f, source: cards.pdf}\n")
    ran = book_folder.fitter("build")
    assert ran.status == 2, ran.err
    assert own in ran.err or "'cards.pdf' is a filler too" in ran.err
    assert (book_folder.folder / own).read_text() == "my own"


@pytest.mark.parametrize("bad", ["a~b", "a%b"])
@pytest.mark.parametrize("key", ["source", "output"])
def test_a_name_that_tex_cannot_be_given_is_told(
    book_folder: BookFolder, key: str, bad: str
) -> None:
    names = {"source": "book.tex", "output": "build/book.pdf"}
    names[key] = names[key].replace("book", bad)
    book_folder.write(names["source"], LATEX)
    book_folder.write("book.yaml", "".join(f"{key}: {name}\n" for key, name in names.items()))
    ran = book_folder.fitter("build")
    assert ran.status == 2, ran.err
    line = list(names).index(key) + 1
    assert f"book.yaml:{line}: '{names[key]}' has {bad[1]} in it" in ran.err
