"""Small PDFs of every kind of producer, made on the spot; what is not installed is left out."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pymupdf

TEXT = "The lamp was lit at dusk and nobody came to the landing that night. " * 12
SOURCE = r"""\documentclass{book}
\usepackage[paperwidth=129mm,paperheight=198mm]{geometry}
\usepackage{graphicx}
\usepackage{hyperref}
\begin{document}
\frontmatter
\title{The Landing}\author{N. N.}\maketitle
\noindent ISBN 978-0-306-40615-7\par 1 2 3 4 5 QX 30 29 28
\mainmatter
\chapter{One}TEXT
\chapter{Two}TEXT $\sum_{i=1}^n \frac{1}{i^2}$\footnote{A note.}
\cleardoublepage
\centering\vspace*{\fill}This page is intentionally left blank.\vspace*{\fill}
\end{document}
""".replace("TEXT", TEXT)
TYPST = """#set page(width: 129mm, height: 198mm, numbering: "1")
= One
TEXT
#pagebreak(to: "odd")
= Two
#rect(width: 100%, fill: luma(200))[TEXT]
""".replace("TEXT", TEXT)


def originals(folder: Path) -> dict[str, Path]:
    """A PDF for each producer, by the producer's name."""
    made = dict(_made(folder))
    return {name: path for name, path in made.items() if path.is_file()}


def _made(folder: Path) -> Iterator[tuple[str, Path]]:
    for engine in ("pdflatex", "lualatex", "xelatex"):
        yield engine, _latex(engine, folder)
    yield "typst", _typst(folder)
    drawn = _drawn(folder / "pymupdf.pdf")
    yield "pymupdf", drawn
    source = folder / "pdflatex.pdf" if (folder / "pdflatex.pdf").is_file() else drawn
    gs = ["-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-o{folder / 'ghostscript.pdf'}"]
    yield "ghostscript", _run(["gs", *gs, str(source)], folder / "ghostscript.pdf")
    for name, options in (
        ("qpdf-plain", ["--qdf", "--object-streams=disable"]),
        ("qpdf-packed", ["--object-streams=generate"]),
        ("qpdf-locked", ["--encrypt", "", "owner", "256", "--"]),
    ):
        target = folder / f"{name}.pdf"
        yield name, _run(["qpdf", *options, str(source), str(target)], target)


def _latex(engine: str, folder: Path) -> Path:
    (folder / f"{engine}.tex").write_text(SOURCE, encoding="utf-8")
    return _run([engine, "-interaction=batchmode", f"{engine}.tex"], folder / f"{engine}.pdf")


def _typst(folder: Path) -> Path:
    import typst

    target = folder / "typst.pdf"
    (folder / "typst.typ").write_text(TYPST, encoding="utf-8")
    typst.compile(folder / "typst.typ", output=target)
    return target


def _run(command: list[str], target: Path) -> Path:
    if shutil.which(command[0]):
        subprocess.run(command, cwd=target.parent, stdout=subprocess.DEVNULL, check=False)
    return target


def _drawn(path: Path) -> Path:
    """Text, a picture, a form, a note, a layer, page labels, a turned page and an odd crop."""
    document = pymupdf.open()
    for number in range(5):
        page = document.new_page(width=366, height=561)
        page.insert_textbox(pymupdf.Rect(50, 60, 316, 500), TEXT, fontsize=10)
        page.insert_text((180, 540), str(number + 1), fontsize=8)
    shade = pymupdf.Pixmap(pymupdf.csGRAY, pymupdf.IRect(0, 0, 40, 40))
    shade.clear_with(90)
    layer = document.add_ocg("Proof", on=False)
    document[1].insert_image(pymupdf.Rect(60, 60, 200, 200), pixmap=shade, oc=layer)
    document[2].add_text_annot((100, 100), "A note.")
    document[3].set_rotation(90)
    document[4].set_cropbox(pymupdf.Rect(10, 10, 300, 500))
    document.set_page_labels([{"startpage": 0, "style": "r", "prefix": "", "firstpagenum": 1}])
    document.save(path)
    return path
