"""What tightening found, as the JSON that scripts rely on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitter.trade.tighten.blemishes import Blemish
from fitter.trade.tighten.pick import squeeze
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


def tighten_json(found: Tightening) -> dict[str, Any]:
    """Every figure of the report; what was not asked for is null."""
    return {
        "text_pages": found.text.pages,
        "added": found.added,
        "extent": found.extent,
        "aim": found.aim,
        "reached": found.reached,
        "gatherings": [
            {"gathering": each.gathering, "over": each.over, "short": each.short}
            for each in found.over
        ],
        "prelims": {
            "pages": found.prelims.pages,
            "blank": found.prelims.blank,
            "wins": found.prelims.wins,
        },
        "chapters": [_tail(each) for each in found.tails],
        "short_last_lines": [_paragraph(each) for each in found.short],
        "faults": [_fault(each) for each in found.faults],
        "overfull": found.text.overfull,
        "settings": found.settings and _settings(found.settings),
        "paragraphs": found.shortened and _shortened(found, found.shortened),
        "edits": found.edits and _edits(found.edits),
        "drafts": found.drafts,
    }


def _chapter(chapter: Chapter) -> dict[str, Any]:
    return {
        "title": chapter.title,
        "file": chapter.file,
        "line": chapter.line,
        "first_page": chapter.first,
        "last_page": chapter.last,
        "lines_on_last_page": chapter.lines,
    }


def _tail(tail: Tail) -> dict[str, Any]:
    over = {"lines_over": tail.lines, "proved": tail.proved, "wins": tail.wins}
    return {**_chapter(tail.chapter), "matter": tail.chapter.matter, **over}


def _paragraph(paragraph: Paragraph) -> dict[str, Any]:
    return {
        "file": paragraph.file,
        "line": paragraph.line,
        "page": paragraph.page,
        "lines": paragraph.lines,
        "fill": round(paragraph.fill, 3),
        "ending": paragraph.ending,
    }


def _fault(fault: Blemish) -> dict[str, Any]:
    return {
        "kind": fault.kind,
        "page": fault.page,
        "file": fault.file,
        "line": fault.line,
        "words": fault.words,
    }


def _settings(found: SettingsFound) -> dict[str, Any]:
    built, ruled_out, foretold = found.cheaper
    return {
        "winners": [_winner(each) for each in found.winners],
        "nearest": found.nearest and _winner(found.nearest),
        "less_disliked": {"built": built, "ruled_out": ruled_out, "foretold": foretold},
        "one_way": found.one_way,
        "unused": list(found.unused),
        "failed": [{"settings": what, "reason": why} for what, why in found.failed],
    }


def _winner(winner: Winner) -> dict[str, Any]:
    values: Mapping[str, str] = {setting.name: value for setting, value in winner.values}
    return {
        "values": values,
        "dislike": winner.dislike,
        "text_pages": winner.pages,
        "overfull": winner.overfull,
    }


def _shortened(found: Tightening, shortened: Shortened) -> dict[str, Any]:
    after = shortened.after
    return {
        "can_lose_a_line": shortened.can,
        "chosen": [
            {**_paragraph(each), "squeeze": round(squeeze(each), 4)}
            for each in shortened.paragraphs
        ],
        "longer_pages": [_chapter(each) for each in shortened.longer],
        "text_pages_after": after and after.pages,
        "overfull_after": after and after.overfull,
        "chapters": [
            {"title": before.title, "pages_before": before.pages, "pages_after": now.pages}
            for before, now in found.chapters_changed
        ],
        "new_faults": [_fault(each) for each in found.new_faults],
    }


def _edits(found: EditList) -> dict[str, Any]:
    return {
        "chapter": _chapter(found.chapter),
        "edits": [
            {**_paragraph(each.paragraph), "cut": each.cut, "add": each.add} for each in found.edits
        ],
        "checked": [_checked(each) for each in found.checked],
    }


def _checked(checked: Checked) -> dict[str, Any]:
    paragraph = checked.edit.paragraph
    return {
        "file": paragraph.file,
        "line": paragraph.line,
        "cut" if checked.cut else "add": checked.characters,
        "lines_before": paragraph.lines,
        "lines_after": checked.lines_after,
        "holds": checked.holds,
    }
