"""SyncTeX: where in the source the engine was when it finished each page.

TeX writes the file beside the PDF with -synctex=1. For each sheet the outermost box carries the
input and the line that were being read: for a blank verso, the line that asked for it. The layout
of the file: synctex(5), "The content section".
"""

from __future__ import annotations

import gzip
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path

from fitter.trade.gate.evidence import Source

BESIDE_THE_PDF = (".synctex.gz", ".synctex")
LINES_AT_MOST = 20_000_000


def read_synctex(pdf: Path) -> Mapping[int, Source]:
    """The source of each page by sheet position from 1; nothing where there is no such file."""
    for name in BESIDE_THE_PDF:
        file = pdf.with_suffix(name)
        if file.is_file():
            return _sources(_lines(file))
    return {}


def _lines(file: Path) -> Iterator[str]:
    """The lines of the file, up to where it is cut or damaged."""
    opening = gzip.open if file.suffix == ".gz" else open
    try:
        with opening(file, "rt", encoding="utf-8", errors="replace") as lines:
            for _, line in zip(range(LINES_AT_MOST), lines, strict=False):
                yield line.rstrip("\n")
    except (EOFError, OSError, zlib.error):
        return


def _sources(lines: Iterator[str]) -> dict[int, Source]:
    inputs: dict[str, str] = {}
    sources: dict[int, Source] = {}
    sheet = 0
    for line in lines:
        if line.startswith("Input:"):
            tag, _, name = line.removeprefix("Input:").partition(":")
            inputs[tag] = name
        elif line.startswith("{") and line[1:].isdecimal():
            sheet = int(line[1:])
        elif line.startswith("[") and sheet and sheet not in sources:
            tag, _, at = line[1:].partition(",")
            number = at.partition(":")[0].partition(",")[0]
            if inputs.get(tag) and number.isdecimal() and len(number) < 9:
                sources[sheet] = Source(inputs[tag], int(number))
    return sources
