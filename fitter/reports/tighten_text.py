"""What tightening found, as a person reads it: 80 columns, the cheapest places first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from textwrap import fill

from rich.table import Table

from fitter.reports.terminal import WIDTH, new_table, shown
from fitter.trade.tighten.blemishes import Blemish
from fitter.trade.tighten.settings import valued
from fitter.trade.tighten.tails import Tail
from fitter.trade.tighten.text import Chapter, Paragraph
from fitter.trade.tighten.tightening import (
    Checked,
    EditList,
    SettingsFound,
    Shortened,
    Tightening,
    Winner,
)
from fitter.trade.words import count

MOST_SHOWN = 20
MOST_WINNERS = 5
CAUTION = "A tightened page is for the designer to judge: look at it before it is printed."


def tighten_text(found: Tightening) -> str:
    """The whole report."""
    return "\n".join(map(_wrapped, _parts(found)))


def _wrapped(part: str) -> str:
    """A sentence over several lines; tables are narrow enough as they are."""
    return part if "\n" in part else fill(part, WIDTH, break_long_words=False)


def _parts(found: Tightening) -> Iterator[str]:
    added = f" and {found.added} that must be added" if found.added else ""
    yield (
        f"{count(found.text.pages, 'text page')}{added}, {found.extent} when bound; "
        f"aimed at: {found.aim}. {count(found.drafts, 'draft')} built."
    )
    if found.edits:
        yield from _edit_list(found.edits)
    elif found.settings or found.shortened:
        yield from _remedies(found)
    else:
        yield from _places(found)


def _places(found: Tightening) -> Iterator[str]:
    yield shown(_over(found))
    prelims = found.prelims
    if prelims.wins:
        yield (
            f"First remedy: the prelims take {count(prelims.pages, 'page')}, {prelims.blank} of "
            f"them blank: giving the blank ones up wins {count(prelims.wins, 'page')}. "
            "(New Hart's Rules, 1.8)"
        )
    if found.tails:
        yield "Chapters by the lines they are over, cheapest first:"
        yield shown(_tails(found.tails))
    else:
        yield "The book has no chapters, so no lines are counted that a chapter is over."
    if not all(each.lines for each in found.tails):
        yield "A chapter marked - is a single page, or has too little text to cut."
    if not all(each.proved for each in found.tails if each.lines):
        yield "Figures marked ~ are read from the last page alone, not proved by drafts."
    if found.short:
        yield (
            f"Last lines that fill less than a fifth of the measure: {len(found.short)}. "
            "Such a paragraph loses a line when it is tightened."
        )
        yield shown(_paragraphs(found.short))
    if found.faults:
        yield f"Faults: {_counted(found.faults)}."
        yield shown(_faults(found.faults))


def _remedies(found: Tightening) -> Iterator[str]:
    if found.shortened:
        yield from _shortened(found, found.shortened)
    if found.settings:
        yield from _settings(found, found.settings)
    if found.reached:
        yield CAUTION


def _over(found: Tightening) -> Table:
    table = _table("gathering", "pages over", "short of the next", right=3)
    for each in found.over:
        table.add_row(str(each.gathering), str(each.over), str(each.short))
    return table


def _tails(tails: Sequence[Tail]) -> Table:
    table = _table("lines\nover", "pages\nwon", "last\npage", "lines\non it", right=4)
    table.add_column("chapter and source", overflow="fold")
    for tail in tails:
        chapter = tail.chapter
        lines = f"{'' if tail.proved else '~'}{tail.lines}" if tail.lines else "-"
        row = (lines, str(tail.wins), str(chapter.last), f"{chapter.lines} of {chapter.full}")
        table.add_row(*row, f"{chapter.title}\n{_source(chapter, 44)}".rstrip())
    return table


def _paragraphs(paragraphs: Sequence[Paragraph]) -> Table:
    table = _table("page", "lines", "fills", right=3)
    table.add_column("last line", overflow="ellipsis", no_wrap=True, max_width=20)
    table.add_column("source", overflow="fold")
    listed = sorted(paragraphs, key=lambda each: (round(each.fill, 2), each.number))[:MOST_SHOWN]
    for each in listed:
        fills = f"{max(0.0, each.fill):.0%}"
        table.add_row(str(each.page), str(each.lines), fills, each.ending, _source(each))
    if len(paragraphs) > MOST_SHOWN:
        table.caption = f"the shortest {MOST_SHOWN}; all of them: --format json"
    return table


def _faults(faults: Sequence[Blemish]) -> Table:
    table = _table("page", right=1)
    table.add_column("fault")
    table.add_column("words", overflow="ellipsis", no_wrap=True, max_width=20)
    table.add_column("source", overflow="fold")
    for each in faults[:MOST_SHOWN]:
        table.add_row(str(each.page), each.kind, each.words, _source(each))
    if len(faults) > MOST_SHOWN:
        table.caption = f"the first {MOST_SHOWN}; all of them: --format json"
    return table


def _counted(faults: Sequence[Blemish]) -> str:
    kinds = Counter(each.kind for each in faults)
    return ", ".join(f"{kind} {number}" for kind, number in sorted(kinds.items()))


def _shortened(found: Tightening, shortened: Shortened) -> Iterator[str]:
    if found.after is None:
        yield (
            f"{count(shortened.can, 'paragraph')} of the book can lose a line without an edit, "
            "and they are not enough, or not where they help."
        )
        if not shortened.long_pages_tried:
            yield "--long-pages lets the pages of whole chapters run a line longer besides."
        return
    yield (
        f"{count(found.text.pages, 'text page becomes', 'text pages become')} {found.after.pages}, "
        f"overfull boxes {found.text.overfull} before and {found.after.overfull} after."
    )
    if shortened.paragraphs:
        yield f"{count(len(shortened.paragraphs), 'paragraph')} set a line shorter:"
        yield shown(_paragraphs(shortened.paragraphs))
    for chapter in shortened.longer:
        yield f"'{chapter.title}': all its pages run a line longer, so that facing pages agree."
    for before, now in found.chapters_changed:
        pages = count(before.pages, "page becomes", "pages become")
        yield f"'{before.title}': {pages} {now.pages}."
    if found.new_faults:
        yield f"New faults: {_counted(found.new_faults)}."
        yield shown(_faults(found.new_faults))


def _settings(found: Tightening, settings: SettingsFound) -> Iterator[str]:
    for what, why in settings.failed:
        yield f"Left out: {what}. The build fails: {why}"
    for name in settings.unused:
        yield f"'{name}' changes nothing: the source does not seem to use it."
    if not settings.winners:
        yield f"No settings bring the book to {count(found.aim, 'page')}."
        if settings.nearest:
            pages = count(settings.nearest.pages, "text page")
            yield f"The nearest: {valued(settings.nearest.values)}, {pages}."
        return
    yield shown(_winners(settings.winners, found.text.overfull))
    built, ruled_out, foretold = settings.cheaper
    told = [f"{built} built and too long or too short"]
    if ruled_out:
        told.append(f"{ruled_out} ruled out by drafts, each setting working one way in all of them")
    if foretold:
        told.append(f"{foretold} foretold to miss and not built")
    yield f"Less disliked than the first: {'; '.join(told)}."


def _winners(winners: Sequence[Winner], overfull: int) -> Table:
    table = _table("dislike", "text pages", "overfull", right=3)
    table.add_column("settings", overflow="fold")
    for each in winners[:MOST_WINNERS]:
        boxes = f"{each.overfull} ({each.overfull - overfull:+})"
        table.add_row(f"{each.dislike:g}", str(each.pages), boxes, valued(each.values))
    return table


def _edit_list(found: EditList) -> Iterator[str]:
    yield (
        f"'{found.chapter.title}': characters, spaces included, that must go for a paragraph to "
        "lose its last line, or come for it to grow by one."
    )
    table = _table("cut", "add", "page", "lines", right=4)
    table.add_column("last line", overflow="ellipsis", no_wrap=True, max_width=20)
    table.add_column("source", overflow="fold")
    for each in found.edits:
        paragraph = each.paragraph
        numbers = (each.cut, each.add, paragraph.page, paragraph.lines)
        table.add_row(*map(str, numbers), paragraph.ending, _source(paragraph))
    yield shown(table)
    yield from map(_checked, found.checked)
    if not found.checked:
        yield "None could be checked: no last line stands in the source word for word."


def _checked(checked: Checked) -> str:
    paragraph = checked.edit.paragraph
    did = "cut from" if checked.cut else "added to"
    verdict = "as foretold" if checked.holds else "NOT as foretold"
    return (
        f"Checked in a copy: {checked.characters} characters {did} {paragraph.file}:"
        f"{paragraph.line}, and {paragraph.lines} lines became {checked.lines_after}, {verdict}."
    )


def _source(place: Chapter | Paragraph | Blemish, width: int = 36) -> str:
    """File and line, the path without its beginning where it is long; nothing without a source."""
    whole = f"{place.file}:{place.line}" if place.file else ""
    return whole if len(whole) <= width else f"…{whole[1 - width :]}"


def _table(*headings: str, right: int) -> Table:
    table = new_table()
    for i, heading in enumerate(headings):
        table.add_column(heading, justify="right" if i < right else "left")
    return table
