"""The documentation of the LaTeX package typesets."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from tests.conftest import ROOT


def test_the_documentation_typesets(tmp_path: Path) -> None:
    shutil.copy(ROOT / "latex/fitter-doc.tex", tmp_path)
    for _ in range(2):
        done = subprocess.run(
            ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "fitter-doc.tex"],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout[-2000:]
    assert "Overfull" not in done.stdout


def test_package_and_program_have_one_version() -> None:
    from fitter import __version__

    for name in ("fitter.sty", "fitter-tighten.sty", "fitter-doc.tex"):
        assert f"v{__version__}" in (ROOT / "latex" / name).read_text(encoding="utf-8")
