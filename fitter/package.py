"""Where the files that come with the program lie, installed or in a checkout."""

from __future__ import annotations

from pathlib import Path

_HERE = Path(__file__).resolve().parent


def data_file(name: str) -> Path:
    """A file of fitter/data."""
    return _HERE / "data" / name


def latex_folder() -> Path:
    """The folder of fitter.sty: inside the wheel, else beside the package in the checkout."""
    packed = _HERE / "latex"
    return packed if (packed / "fitter.sty").is_file() else _HERE.parent / "latex"
