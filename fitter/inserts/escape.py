"""Text from YAML made harmless: it comes out of the engine as typed, and can run nothing."""

from __future__ import annotations

import re

from fitter.book.paths import ACTS

_TEX_TEXT = {
    "\\": r"\textbackslash{}",
    "{": r"\{",
    "}": r"\}",
    "&": r"\&",
    "%": r"\%",
    "$": r"\$",
    "#": r"\#",
    "_": r"\_",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
    "<": r"\textless{}",
    ">": r"\textgreater{}",
    "|": r"\textbar{}",
    '"': r"\textquotedbl{}",
    "`": r"\textasciigrave{}",
}
_LIGATURES = re.compile(r"([-',])(?=\1)")
_WIDE_GAP = re.compile(r" {2,}")
_TEX_PATH = {"%": r"\fitterPercent{}", "#": r"\fitterHash{}", "~": r"\fitterTilde{}"}


def tex_text(text: str) -> str:
    """Running text for LaTeX: every character stands for itself, no ligature, no command."""
    plain = "".join(_TEX_TEXT.get(char, char) for char in text if char.isprintable())
    wide = _WIDE_GAP.sub(lambda gap: r"\ " * len(gap[0]), plain)
    return _LIGATURES.sub(r"\1{}", wide)


def tex_path(path: str) -> str:
    """A file name for LaTeX. Raises ValueError for characters TeX cannot have in one."""
    bad = sorted(ACTS & set(path))
    if bad:
        shown = " ".join(repr(char) for char in bad)
        raise ValueError(f"'{path}' has {shown} in its name, which TeX cannot open; rename it")
    return "".join(_TEX_PATH.get(char, char) for char in path)
