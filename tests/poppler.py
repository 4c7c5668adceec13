"""Lines as poppler's `pdftotext -bbox-layout` reads them: the independent reader."""

from __future__ import annotations

import subprocess
from pathlib import Path
from xml.etree import ElementTree

APART = 5.0  # points: lines whose feet lie closer than this are parts of one


def lines_by_poppler(pdf: Path) -> list[list[float]]:
    """For each page the feet of its lines in points from the top, from top to bottom."""
    told = subprocess.run(
        ["pdftotext", "-bbox-layout", str(pdf), "-"], capture_output=True, check=True
    ).stdout
    root = ElementTree.fromstring(told.decode("utf-8", "replace"))
    return [_feet(page) for page in root.iter("{http://www.w3.org/1999/xhtml}page")]


def _feet(page: ElementTree.Element) -> list[float]:
    lines = page.iter("{http://www.w3.org/1999/xhtml}line")
    feet: list[float] = []
    for foot in sorted(float(line.attrib["yMax"]) for line in lines):
        if not feet or foot - feet[-1] > APART:
            feet.append(foot)
    return feet
