"""The LaTeX package as CTAN takes it: python tests/packaging/ctan.py FOLDER writes fitter.zip.

One folder of the package's name holds the files, with the documentation as a PDF too. CTAN's rules
for uploads, from memory: one top-level folder, a README, nothing generated but the documentation.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

LATEX = Path(__file__).parents[2] / "latex"
FILES = ("README.md", "LICENSE", "fitter.sty", "fitter-tighten.sty", "fitter-doc.tex")
MOMENT = (2026, 1, 1, 0, 0, 0)


def documentation(folder: Path) -> Path:
    """Typeset the documentation."""
    for name in FILES:
        shutil.copy(LATEX / name, folder)
    run = ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "fitter-doc.tex"]
    dated = {**os.environ, "SOURCE_DATE_EPOCH": "1767225600", "FORCE_SOURCE_DATE": "1"}
    for _ in range(2):
        subprocess.run(run, cwd=folder, env=dated, check=True, stdout=subprocess.DEVNULL)
    return folder / "fitter-doc.pdf"


def pack(target: Path) -> Path:
    """Write the archive; the same files always give the same bytes."""
    archive = target / "fitter.zip"
    with tempfile.TemporaryDirectory() as name, zipfile.ZipFile(archive, "w") as packed:
        pdf = documentation(Path(name))
        for file in sorted([*(LATEX / name for name in FILES), pdf]):
            entry = zipfile.ZipInfo(f"fitter/{file.name}", MOMENT)
            entry.external_attr = 0o644 << 16
            packed.writestr(entry, file.read_bytes(), zipfile.ZIP_DEFLATED)
    return archive


if __name__ == "__main__":
    print(pack(Path(sys.argv[1])))
