"""The specification for the printer: one page of Markdown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitter.reports.words import gatherings_in_words
from fitter.trade.facts.facts import CAUTION, NO_SPINE, Facts
from fitter.trade.paper import Figure, Paper, plain
from fitter.trade.size import Size
from fitter.trade.words import count


@dataclass(frozen=True, slots=True)
class Commission:
    """What the book's files say beside the facts; what is not said is None or empty."""

    title: str = ""
    author: str = ""
    isbn: str | None = None
    copies: int | None = None
    trim: Size | None = None
    paper: Paper | None = None


def specification(facts: Facts, commission: Commission) -> str:
    """Title, trim, extent, gatherings in order, collation, paper, spine and weight."""
    heading = " – ".join(filter(None, (commission.title, commission.author)))
    lines = [f"- **{name}:** {value}" for name, value in _lines(facts, commission)]
    return "\n".join([f"# {escaped(heading) or 'Specification'}", "", *lines, "", f"_{CAUTION}_"])


def _lines(facts: Facts, commission: Commission) -> Iterator[tuple[str, str]]:
    if commission.isbn:
        yield "ISBN", escaped(commission.isbn)
    if commission.copies:
        yield "Copies", f"{commission.copies:,}"
    if commission.trim:
        yield "Trimmed page", str(commission.trim)
    yield "Extent", f"{count(facts.extent, 'page')}, {count(facts.leaves, 'leaf', 'leaves')}"
    yield "Binding", facts.style
    yield "Gatherings in order", gatherings_in_words(facts.folding.gatherings)
    yield "Collation", facts.collation
    if commission.paper:
        yield "Paper", _paper(commission.paper)
    yield "Block, no cover", _figure(facts.block_mm, "mm")
    yield "Spine", _spine(facts)
    yield "Weight of the block", _figure(facts.weight_g, "g")
    if facts.creep_mm:
        yield "Creep of the innermost leaf", f"{float(facts.creep_mm[-1]):.2f} mm by a simple model"


def _spine(facts: Facts) -> str:
    if facts.style == "saddle":
        return f"none: {NO_SPINE}"
    told = _figure(facts.spine_mm, "mm")
    if not facts.spine_range_mm:
        return told
    low, high = facts.spine_range_mm
    return f"{told}; from {float(low):.1f} to {float(high):.1f} mm, as paper may differ by 5 %"


def _paper(paper: Paper) -> str:
    said = [escaped(paper.id)]
    if paper.grammage is not None:
        said.append(f"{plain(paper.grammage)} g/m2")
    if paper.volume is not None:
        said.append(f"{plain(paper.volume)} cm3/g")
    if paper.caliper_mm is not None:
        said.append(f"{plain(paper.caliper_mm)} mm")
    if paper.ppi is not None:
        said.append(f"{plain(paper.ppi)} pages per inch")
    return ", ".join(said)


def _figure(figure: Figure | None, unit: str) -> str:
    return f"{float(figure.value):.2f} {unit} ({figure.formula})" if figure else "not known"


def escaped(text: str) -> str:
    """Text in which Markdown sees no markup."""
    return "".join(f"\\{char}" if char in "\\`*_{}[]<>#|" else char for char in text)
