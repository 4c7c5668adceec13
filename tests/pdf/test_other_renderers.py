"""Ghostscript as an independent judge: it paints the trimmed page as for a printer."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.drawn import Draw, drawn
from tests.pdf.test_what_prints import BLANK, PRINTED

EDGE = 2  # pixels; what lies along the very edge is no matter of print
SAME = 7  # grey levels; below our own threshold

# Left out: what is noise to a reader is paint to a renderer, and Ghostscript passes over the
# states of a layer for print (ISO 32000-1, 8.11.4.4), which we obey.
PAINT = {
    name: draw
    for name, draw in BLANK.items()
    if not name.startswith("scan with") and name != "layer not for print"
}


def shows(pdf: Path) -> bool:
    """Whether the first page is anything but of one colour, a little inside its edge."""
    out = pdf.with_suffix(".pgm")
    command = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-dUseTrimBox", "-dPrinted"]
    device = ["-sDEVICE=pgmraw", "-r72", "-dGraphicsAlphaBits=1", "-dTextAlphaBits=1"]
    subprocess.run([*command, *device, f"-sOutputFile={out}", str(pdf)], check=True)
    _, _, size, _, samples = _parts(out.read_bytes())
    width, height = map(int, size.split())
    rows = [samples[row * width : (row + 1) * width] for row in range(EDGE, height - EDGE)]
    inner = b"".join(row[EDGE:-EDGE] for row in rows)
    return max(inner) - min(inner) > SAME


def _parts(grey_map: bytes) -> tuple[bytes, bytes, bytes, bytes, bytes]:
    kind, comment, size, deepest, samples = grey_map.split(b"\n", 4)
    return kind, comment, size, deepest, samples


@pytest.mark.parametrize("draw", PAINT.values(), ids=PAINT.keys())
def test_what_we_call_blank_is_blank(tmp_path: Path, draw: Draw) -> None:
    assert not shows(drawn(tmp_path / "page.pdf", draw))


@pytest.mark.parametrize("draw", PRINTED.values(), ids=PRINTED.keys())
def test_what_we_call_printed_shows(tmp_path: Path, draw: Draw) -> None:
    assert shows(drawn(tmp_path / "page.pdf", draw))
