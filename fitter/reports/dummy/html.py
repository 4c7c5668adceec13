"""The folding dummy as one HTML file that needs nothing else."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template

from fitter.package import data_file
from fitter.pdf.thumbnails import Drawn, Thumbnail
from fitter.reports.dummy import words
from fitter.reports.dummy.arcs import arcs_over
from fitter.reports.dummy.chart import chart_in_words, draw_chart
from fitter.reports.dummy.style import Sizes, sizes_of, style_sheet
from fitter.trade.caution import CAUTION
from fitter.trade.fold.dummy import Gathering, neighbours
from fitter.trade.fold.formes import CAUTION as FORMES_CAUTION
from fitter.trade.fold.staircase import Staircase
from fitter.trade.gate.gate import Finding
from fitter.trade.plan import Plan


@dataclass(frozen=True, slots=True)
class Title:
    """What stands at the head: about the book, what was done, and how the gate judged it."""

    title: str
    author: str
    language: str
    pdf: str
    done: str
    gate: str
    passed: bool


@dataclass(frozen=True, slots=True)
class Sheets:
    """All that the dummy shows."""

    title: Title
    gatherings: tuple[Gathering, ...]
    findings: tuple[Finding, ...]
    plan: Plan
    stairs: Staircase
    drawn: tuple[Drawn, ...]


def is_dummy(page: bytes) -> bool:
    """Whether a page of HTML is a dummy of our making."""
    return b": folding dummy</title>" in page


def dummy_html(sheets: Sheets) -> str:
    """The page: no address in it leads anywhere, and every text of the book is escaped."""
    sizes = sizes_of(sheets.drawn)
    style = style_sheet(sizes, [len(gathering.pages) for gathering in sheets.gatherings])
    script = data_file("dummy/dummy.js").read_text(encoding="utf-8")
    page = _template().render(
        vars_of(sheets, sizes),
        style=style,
        script=script,
        style_hash=_hash(style),
        script_hash=_hash(script),
    )
    return page.encode("utf-8", "replace").decode()  # the PDF may have a name that is no text


def vars_of(sheets: Sheets, sizes: Sizes) -> dict[str, Any]:
    """The names that the template uses."""
    pictures = {one.page: one.picture for one in sheets.drawn}
    other_sizes = {
        one.page: f"{one.size.width_mm:.0f} × {one.size.height_mm:.0f} mm"
        for one in sheets.drawn
        if one.size and sizes.class_of(one.picture)
    }
    return {
        "title": sheets.title,
        "gatherings": sheets.gatherings,
        "leaves_only": not any(gathering.sheets for gathering in sheets.gatherings),
        "findings": sheets.findings,
        "plan": sheets.plan,
        "chart": draw_chart(sheets.stairs),
        "chart_words": chart_in_words(sheets.stairs),
        "picture_of": pictures.get,
        "size_of": lambda page: sizes.class_of(pictures.get(page)),
        "other_size": lambda page: other_sizes.get(page, ""),
        "has_other_size": lambda gathering: any(one.page in other_sizes for one in gathering.pages),
        "signs": words.SIGNS,
        "caution": CAUTION,
        "formes_caution": FORMES_CAUTION,
    }


def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader(data_file("dummy")),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
    environment.filters |= words.FILTERS | {
        "uri": _uri,
        "arcs": lambda gathering: arcs_over(len(gathering.pages)),
        "neighbours": neighbours,
    }
    return environment.get_template("dummy.html")


def _uri(picture: Thumbnail) -> str:
    return f"data:{picture.media};base64,{base64.b64encode(picture.content).decode('ascii')}"


def _hash(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
