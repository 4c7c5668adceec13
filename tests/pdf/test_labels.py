"""Page labels, against pypdf's reading of them."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pymupdf
import pypdf
import pytest
import typst
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from fitter.pdf.labels import NODES_AT_MOST, read_labels


def read(path: Path) -> list[str | None]:
    with pymupdf.open(path) as document:
        labels = read_labels(document)
        return [labels.of(page) for page in range(1, len(document) + 1)]


def entry(start: int, **keys: str | int) -> list[object]:
    values = {
        "S": lambda value: NameObject(f"/{value}"), "P": TextStringObject, "St": NumberObject
    }  # fmt: skip
    label = DictionaryObject({NameObject("/Type"): NameObject("/PageLabel")})
    for key, value in keys.items():
        label[NameObject(f"/{key}")] = values[key](value)  # type: ignore[no-untyped-call]
    return [NumberObject(start), label]


def with_labels(path: Path, pages: int, tree: DictionaryObject) -> Path:
    writer = pypdf.PdfWriter()
    for _ in range(pages):
        writer.add_blank_page(200, 300)
    writer.root_object[NameObject("/PageLabels")] = tree
    writer.write(path)
    return path


def nums(*entries: list[object]) -> DictionaryObject:
    flat = [one for both in entries for one in both]
    return DictionaryObject({NameObject("/Nums"): ArrayObject(flat)})  # type: ignore[arg-type]


@pytest.mark.parametrize("style", ["D", "R", "r", "A", "a"])
def test_every_style_of_number(tmp_path: Path, style: str) -> None:
    path = with_labels(tmp_path / "a.pdf", 120, nums(entry(0, S=style)))
    assert read(path) == list(pypdf.PdfReader(path).page_labels)


def test_prefixes_starts_and_signs_that_mean_something_to_a_pdf(tmp_path: Path) -> None:
    tree = nums(
        entry(0, P="Cover"), entry(1, S="r", St=3), entry(4, S="D", P="A(1)/"),
        entry(7, S="D", P="Ж\\(", St=500), entry(9, S="A", P=")", St=27),
    )  # fmt: skip
    path = with_labels(tmp_path / "a.pdf", 12, tree)
    assert read(path) == list(pypdf.PdfReader(path).page_labels)
    assert read(path)[4:8] == ["A(1)/1", "A(1)/2", "A(1)/3", "Ж\\(500"]


def limited(tree: DictionaryObject, first: int, last: int) -> DictionaryObject:
    tree[NameObject("/Limits")] = ArrayObject([NumberObject(first), NumberObject(last)])
    return tree


def kids(*trees: DictionaryObject) -> DictionaryObject:
    return DictionaryObject({NameObject("/Kids"): ArrayObject(trees)})


def test_a_tree_of_several_levels(tmp_path: Path) -> None:
    front, main = nums(entry(0, S="r")), nums(entry(3, S="D"))
    lower = kids(limited(front, 0, 0), limited(main, 3, 3))
    tree = kids(limited(lower, 0, 3), limited(nums(entry(6, S="a")), 6, 6))
    path = with_labels(tmp_path / "a.pdf", 8, tree)
    assert read(path) == ["i", "ii", "iii", "1", "2", "3", "a", "b"]
    assert read(path) == list(pypdf.PdfReader(path).page_labels)


def test_latex_and_typst_label_their_pages(tmp_path: Path) -> None:
    (tmp_path / "t.typ").write_text(
        '#set page(numbering: "i")\na #pagebreak() b\n'
        '#set page(numbering: "1")\n#counter(page).update(1)\nc #pagebreak() d'
    )
    typst.compile(tmp_path / "t.typ", output=tmp_path / "t.pdf")
    (tmp_path / "l.tex").write_text(
        "\\documentclass{book}\\usepackage{hyperref}\\begin{document}\\frontmatter a\\newpage b"
        "\\mainmatter c\\newpage d\\end{document}"
    )
    command = ["pdflatex", "-interaction=batchmode", "l.tex"]
    subprocess.run(command, cwd=tmp_path, check=True, stdout=subprocess.DEVNULL)
    for name, folios in (("t", ["i", "ii", "1", "2"]), ("l", ["i", "ii", "1", "2"])):
        assert read(tmp_path / f"{name}.pdf") == folios
        assert read(tmp_path / f"{name}.pdf") == list(
            pypdf.PdfReader(tmp_path / f"{name}.pdf").page_labels
        )


def test_a_pdf_without_labels_has_none(tmp_path: Path) -> None:
    writer = pypdf.PdfWriter()
    writer.add_blank_page(200, 300)
    writer.write(tmp_path / "a.pdf")
    assert read(tmp_path / "a.pdf") == [None]


def test_a_tree_that_bites_its_tail_comes_to_an_end(tmp_path: Path) -> None:
    writer = pypdf.PdfWriter()
    writer.add_blank_page(200, 300)
    tree = DictionaryObject()
    at = writer._add_object(tree)
    tree[NameObject("/Kids")] = ArrayObject([at, at])
    writer.root_object[NameObject("/PageLabels")] = at
    writer.write(tmp_path / "a.pdf")
    assert read(tmp_path / "a.pdf") == [None]
    assert NODES_AT_MOST < 1_000_000


def test_a_number_too_large_for_letters_stands_in_figures(tmp_path: Path) -> None:
    path = with_labels(tmp_path / "a.pdf", 2, nums(entry(0, S="r", St=2_000_000_000)))
    assert read(path) == ["2000000000", "2000000001"]
