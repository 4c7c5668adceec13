"""Lines as poppler's `pdftotext -bbox-layout` reads them: the independent reader."""

from __future__ import annotations

import subprocess
from pathlib import Path
from xml.etree import ElementTree

XHTML = "{http://www.w3.org/1999/xhtml}"
APART = 5.0  # points: lines whose feet lie closer than this are parts of one


def lines_by_poppler(pdf: Path) -> list[list[float]]:
    """For each page the feet of its lines in points from the top, from top to bottom."""
    return [[foot for foot, _ in lines] for lines in words_by_poppler(pdf)]


def words_by_poppler(pdf: Path) -> list[list[tuple[float, str]]]:
    """For each page its lines from top to bottom, each with its foot and its words."""
    told = subprocess.run(
        ["pdftotext", "-bbox-layout", str(pdf), "-"], capture_output=True, check=True
    ).stdout
    root = ElementTree.fromstring(told.decode("utf-8", "replace"))
    return [_lines(page) for page in root.iter(f"{XHTML}page")]


def _lines(page: ElementTree.Element) -> list[tuple[float, str]]:
    parts = sorted(
        (float(line.attrib["yMax"]), " ".join(one.text or "" for one in line.iter(f"{XHTML}word")))
        for line in page.iter(f"{XHTML}line")
    )
    lines: list[tuple[float, str]] = []
    for foot, words in parts:
        if lines and foot - lines[-1][0] <= APART:
            lines[-1] = (lines[-1][0], f"{lines[-1][1]} {words}")
        else:
            lines.append((foot, words))
    return lines
