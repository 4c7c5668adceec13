"""What a folder shows of the book in it: main file, class, page size, title."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from fitter.book.braces import groups
from fitter.book.this_year import this_year
from fitter.errors import BadInput

_CLASS = re.compile(r"^[^%\n]*\\documentclass\s*(?:\[([^]]*)\])?\s*\{([^}]*)\}", re.MULTILINE)
_LOADS = re.compile(r"\\(?:usepackage|RequirePackage)\b")
_OURS = re.compile(r"\bfitter\b")
_HAS_KEY = re.compile(r"^[^%\n]*\\imprint(?:key|page)\b", re.M)
_GEOMETRY = re.compile(
    r"paperwidth\s*=\s*([\d.]+)\s*(mm|cm|in|pt)\s*,\s*paperheight\s*=\s*([\d.]+)"
)
_PAPERSIZE = re.compile(r"papersize\s*=\s*\{\s*([\d.]+)\s*(mm|cm|in|pt)\s*,\s*([\d.]+)")
_BABEL = {
    "english": "en", "british": "en-GB", "american": "en-US", "ngerman": "de", "german": "de",
    "french": "fr", "spanish": "es", "italian": "it", "portuguese": "pt", "dutch": "nl",
    "polish": "pl", "czech": "cs", "swedish": "sv",
}  # fmt: skip
_UNICODE_ENGINES = re.compile(
    r"\\usepackage(?:\[[^]]*\])?\{[^}]*(fontspec|unicode-math|polyglossia)"
)
_XETEX = re.compile(r"^%\s*!\s*TEX\s+(?:TS-)?program\s*=\s*(\w+)", re.IGNORECASE | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Found:
    """The main source of a folder, and what its preamble says."""

    source: Path
    preamble: str
    whole: str

    def values(self) -> dict[str, str]:
        """What the starter files are filled with, ready for YAML."""
        return {
            "title": json.dumps(_braced(self.preamble, "title"), ensure_ascii=False),
            "author": json.dumps(_braced(self.preamble, "author"), ensure_ascii=False),
            "language": _language(self.preamble),
            "source": json.dumps(self.source.name),
            "engine": _engine(self.preamble),
            "output": json.dumps(f"build/{self.source.stem}.pdf"),
            "trim": _trim(self.preamble),
            "year": str(this_year()),
        }

    @property
    def folder(self) -> Path:
        """Where the YAML files belong."""
        return self.source.parent

    @property
    def missing_lines(self) -> tuple[str, ...]:
        """The lines the source still lacks, as advice."""
        advice = []
        if not loads_package(self.preamble):
            advice.append(f"Add to the preamble of {self.source.name}: \\usepackage{{fitter}}")
        if not _HAS_KEY.search(self.whole):
            advice.append(
                "Add on the imprint page, where the printer's key shall stand: \\imprintkey"
            )
        return tuple(advice)


def loads_package(text: str) -> bool:
    """Whether a LaTeX source loads the package: on one line, and not in a comment."""
    lines = (line.partition("%")[0] for line in text.splitlines())
    return any((at := _LOADS.search(line)) and _OURS.search(line, at.end()) for line in lines)


def find_book(where: Path) -> Found:
    """The main LaTeX file of a folder, or the file named. Raises BadInput for none or several."""
    mains = latex_mains(where)
    if not mains:
        raise BadInput(
            f"{where}: no LaTeX file here has a \\documentclass, and there is no Markdown. "
            "Name the book's folder."
        )
    path, text = _likeliest(mains)
    preamble = text.partition("\\begin{document}")[0]
    return Found(path, preamble, text)


def latex_mains(where: Path) -> list[tuple[Path, str]]:
    """The files that are whole LaTeX documents, with their text."""
    files = [where] if where.is_file() else sorted(where.glob("*.tex"))
    found = (path for path in files if path.is_file())
    texts = ((path, path.read_text(encoding="utf-8", errors="replace")) for path in found)
    return [
        (path, text) for path, text in texts if _CLASS.search(text) and "\\begin{document}" in text
    ]


def _likeliest(mains: list[tuple[Path, str]]) -> tuple[Path, str]:
    if len(mains) == 1:
        return mains[0]
    for name in (mains[0][0].resolve().parent.name, "book", "main", "master"):
        for path, text in mains:
            if path.stem == name:
                return path, text
    names = ", ".join(path.name for path, _ in mains)
    raise BadInput(
        f"{mains[0][0].parent}: several files could be the book: {names}. "
        f"Name the one: fitter init {mains[0][0]}"
    )


def _braced(text: str, command: str) -> str:
    match = re.search(rf"^[^%\n]*\\{command}\s*(?=\{{)", text, re.MULTILINE)
    return _plain(next(groups(text[match.end() :]), "")) if match else ""


def _plain(tex: str) -> str:
    """Running text without its commands; what a title page breaks becomes one line."""
    text = re.sub(r"(?<!\\)%.*", "", tex)
    text = re.sub(r"\\thanks\s*\{[^}]*\}", "", text)
    text = re.sub(r"\s*\\and\b\s*", ", ", text)
    text = text.replace("\\\\", " ").replace("~", " ").replace("---", "—").replace("--", "–")
    text = re.sub(r"\\([&%$#_{}])", r"\1", text)
    text = re.sub(r"\\[A-Za-z]+\*?\s*(?:\[[^]]*\])?", " ", text)
    return " ".join(text.replace("{", "").replace("}", "").split())


def _language(preamble: str) -> str:
    options = " ".join(re.findall(r"\[([^]]*)\]\s*\{babel\}", preamble))
    options += " " + " ".join(m[0] for m in _CLASS.findall(preamble))
    words = [word for word in re.findall(r"[a-z]+", options) if word in _BABEL]
    return _BABEL[words[-1]] if words else "en"


def _engine(preamble: str) -> str:
    named = _XETEX.search(preamble)
    if named and named[1].lower() in {"pdflatex", "lualatex", "xelatex"}:
        return named[1].lower()
    return "lualatex" if _UNICODE_ENGINES.search(preamble) else "pdflatex"


def _trim(preamble: str) -> str:
    if match := _GEOMETRY.search(preamble) or _PAPERSIZE.search(preamble):
        return f"trim: {match[1]} x {match[3]} {match[2]}"
    named = {"a4paper": "210 x 297 mm", "a5paper": "148 x 210 mm", "b5paper": "176 x 250 mm",
             "letterpaper": "8.5 x 11 in"}  # fmt: skip
    for name, size in named.items():
        if re.search(rf"^[^%\n]*\b{name}\b", preamble, re.MULTILINE):
            return f"trim: {size}"
    return "# trim: 129 x 198 mm          # the size of the trimmed page, checked against the PDF"
