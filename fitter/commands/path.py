"""`fitter path`: where the parts that other programs read lie."""

from __future__ import annotations

from fitter.errors import DONE
from fitter.package import latex_folder


def path(name: str) -> int:
    """Print the folder of the LaTeX package."""
    print({"latex": latex_folder()}[name])
    return DONE
