"""The program that sets a book whose YAML names none."""

from __future__ import annotations

import shutil

BY_PREFERENCE = ("lualatex", "xelatex", "pdflatex")


def engine_at_hand() -> str:
    """The first TeX engine installed here, else Typst, which comes with the program."""
    return next((name for name in BY_PREFERENCE if shutil.which(name)), "typst")
