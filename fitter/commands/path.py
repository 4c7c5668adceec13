"""`fitter path`: where the parts that other programs read lie."""

from __future__ import annotations

from fitter.errors import DONE
from fitter.package import data_file, latex_folder


def path(name: str) -> int:
    """Print the folder of the LaTeX package, or the file of the pandoc filter."""
    print({"latex": latex_folder(), "pandoc": data_file("fitter.lua")}[name])
    return DONE
