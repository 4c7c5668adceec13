from __future__ import annotations

from pathlib import Path

import pytest

from fitter.book.at_hand import engine_at_hand


@pytest.mark.parametrize(
    ("installed", "expected"),
    [
        (("pdflatex", "lualatex", "xelatex"), "lualatex"),
        (("pdflatex", "xelatex"), "xelatex"),
        (("pdflatex",), "pdflatex"),
        ((), "typst"),
    ],
)
def test_the_first_that_is_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, installed: tuple[str, ...], expected: str
) -> None:
    for name in installed:
        (tmp_path / name).touch(mode=0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert engine_at_hand() == expected
