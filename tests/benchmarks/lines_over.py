"""Are the claims "this chapter is k lines over" right? python -m tests.benchmarks.lines_over BOOK

For each chapter words are deleted from the ends of its paragraphs, in a copy of the book, until it
is exactly k printed lines shorter, and in another draft exactly k - 1. The claim is right if the
chapter then takes a page fewer, and with k - 1 none. This is not how `fitter tighten` proves a
claim: no word goes from the text there.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from fitter.book.loader import Book, load_book
from fitter.engines.engine import engine_of
from fitter.steps.identify import block_of
from fitter.steps.over import find_tails
from fitter.steps.trials import Bench, Tried, Wish, bench
from fitter.trade.tighten.edits import ENOUGH_TO_MEASURE, character_width
from fitter.trade.tighten.tails import Tail
from fitter.trade.tighten.text import Paragraph, Text

ROUNDS = 6
MARKUP = re.compile(rb"[\\{}$%&~^_#*`<>|\[\]]")
KEPT = 12  # characters of a paragraph that always stay


@dataclass(slots=True)
class Shortening:
    """One paragraph that is to lose lines; `nudge` moves the cut when it came out otherwise."""

    paragraph: Paragraph
    lines: int
    start: int
    end: int
    per_line: float
    nudge: float = 0.0

    @property
    def characters(self) -> int:
        """How many must go from its end: whole lines, the last one, and less than one more."""
        lines = self.lines - 1 + self.paragraph.fill + 0.4 + self.nudge
        return min(round(lines * self.per_line), self.end - self.start - KEPT)


@dataclass(slots=True)
class Case:
    """One chapter with so many lines to lose, and the pages it took once it had lost them."""

    tail: Tail
    place: int
    wanted: int
    cuts: list[Shortening] = field(default_factory=list)
    pages: int | None = None


def main(where: Path) -> None:
    """Print a row for each chapter of a book."""
    book = load_book(where)
    with bench(book, engine_of(book), lambda text: print(f"  {text}", file=sys.stderr)) as drafts:
        text = drafts.first(Wish()).text
        tails = find_tails(drafts, Wish(), text)
        fewer = prove(drafts, book, text, tails, less=1)
        enough = prove(drafts, book, text, tails, less=0)
    print("| chapter | pages | lines over | proved | one fewer | so many | right |")
    print("|---|--:|--:|---|--:|--:|---|")
    for tail, one, other in zip(tails, fewer, enough, strict=True):
        print(row(tail, one.pages, other.pages))


def row(tail: Tail, fewer: int | None, enough: int | None) -> str:
    """One chapter of the table."""
    now = tail.chapter.pages
    if not tail.lines or now < 2:
        verdict = "nothing claimed"
    elif fewer is None or enough is None:
        verdict = "not tried: too little plain text"
    else:
        verdict = "yes" if fewer >= now > enough else "NO"
    cells = (tail.chapter.title, now, tail.lines, tail.proved, fewer, enough, verdict)
    return f"| {' | '.join(map(str, cells))} |"


def prove(drafts: Bench, book: Book, text: Text, tails: Sequence[Tail], less: int) -> list[Case]:
    """Every chapter made so many lines shorter, all in the same drafts."""
    cases = [Case(tail, i, (tail.lines or 0) - less) for i, tail in enumerate(tails)]
    for case in cases:
        case.cuts = list(shortenings(book, text, case))
        if case.wanted == 0:
            case.pages = case.tail.chapter.pages
    for _ in range(ROUNDS):
        wish = Wish(edits=edited(book, [cut for case in cases for cut in case.cuts]))
        (tried,) = drafts.try_all([wish])
        if tried.failed:
            print(tried.failed, file=sys.stderr)
            break
        if not sum(learn(case, text, tried) for case in cases):
            break
    return cases


def shortenings(book: Book, text: Text, case: Case) -> Iterator[Shortening]:
    """Paragraphs of plain text from the end of the chapter backwards, until they are enough."""
    left = case.wanted
    found = []
    for paragraph in sorted(text.paragraphs_in(case.tail.chapter), key=lambda one: -one.number):
        span = plain_end(book, paragraph)
        if span is None or not 0 < paragraph.fill <= 1:
            continue
        per_line = paragraph.measure / width(text, paragraph)
        room = int((span[1] - span[0] - KEPT) / per_line - paragraph.fill - 0.5) + 1
        lines = min(left, room, paragraph.lines - 1)
        if lines > 0:
            found.append(Shortening(paragraph, lines, *span, per_line))
            left -= lines
    if left == 0:
        yield from found


def width(text: Text, paragraph: Paragraph) -> float:
    """Of a character in points, as the last line shows it where it is long enough."""
    if len(paragraph.ending) >= ENOUGH_TO_MEASURE:
        return paragraph.last_width / len(paragraph.ending)
    return character_width(text)


def plain_end(book: Book, paragraph: Paragraph) -> tuple[int, int] | None:
    """Where in its file the paragraph ends, and how far before that there is no markup."""
    block = block_of(book, paragraph)
    if block is None or block.first != paragraph.line:
        return None
    lines = (book.home / paragraph.file).read_bytes().split(b"\n")
    start = sum(len(line) + 1 for line in lines[: block.first - 1])
    inside = b"\n".join(lines[block.first - 1 : block.last]).rstrip()
    marked = [match.end() for match in MARKUP.finditer(inside)]
    first = max(marked, default=0)
    ending = " ".join(paragraph.ending.split()[-2:]).encode()
    if not b" ".join(inside.split()).endswith(ending):
        return None  # it is printed elsewhere, or not as it stands here
    return (start + first, start + len(inside)) if len(inside) - first > KEPT else None


def edited(book: Book, cuts: Sequence[Shortening]) -> Mapping[str, bytes]:
    """The files with these words gone."""
    texts = {cut.paragraph.file: b"" for cut in cuts}
    for name in texts:
        source = (book.home / name).read_bytes()
        here = [cut for cut in cuts if cut.paragraph.file == name]
        for cut in sorted(here, key=lambda one: -one.end):
            kept = source[: cut.end - cut.characters].rsplit(b" ", 1)[0]
            source = kept + source[cut.end :]
        texts[name] = source
    return texts


def learn(case: Case, before: Text, tried: Tried) -> bool:
    """Take the chapter's pages if it lost just the lines wanted, else nudge; whether it did."""
    now = {each.number: each.lines for each in tried.text.paragraphs}
    if case.pages is not None or len(tried.text.chapters) != len(before.chapters):
        return False
    lost = [cut.paragraph.lines - now.get(cut.paragraph.number, 0) for cut in case.cuts]
    if case.cuts and sum(lost) == case.wanted:
        case.pages = tried.text.chapters[case.place].pages
        return False
    for cut, lines in zip(case.cuts, lost, strict=True):
        cut.nudge += 0.2 * (cut.lines - lines)
    return bool(case.cuts)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
