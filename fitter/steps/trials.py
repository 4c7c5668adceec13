"""Drafts tried in scratch copies of the book, as many at once as there are cores."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from queue import SimpleQueue
from typing import TypeVar

from fitter.book.loader import Book
from fitter.engines.engine import Engine, silent
from fitter.errors import NotStarted, ProgramFailed
from fitter.inserts.chosen import Chosen
from fitter.inserts.content import Trial
from fitter.inserts.writing import write_whole
from fitter.steps.draft import read_draft
from fitter.steps.insert import write_trial
from fitter.steps.scratch import another_copy, scratch_copy
from fitter.steps.text import read_text
from fitter.trade.plan import Draft
from fitter.trade.tighten.text import Text

T = TypeVar("T")

MOST_AT_ONCE = 8
NOTHING = Draft(0, None, 1)
NO_TEXT = Text(0, (), ())


@dataclass(frozen=True, slots=True)
class Wish:
    """One draft to try: what is chosen, which paragraphs are cut, files of the book edited.

    `edits` has whole texts by path from where the engine runs.
    """

    chosen: Chosen = field(default_factory=Chosen)
    cuts: Mapping[int, float] = field(default_factory=dict)
    edits: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Tried:
    """What a draft came to: its counts and its text, or why it failed."""

    counts: Draft = NOTHING
    takes: Mapping[str, int] = field(default_factory=dict)
    text: Text = NO_TEXT
    failed: ProgramFailed | None = None


@dataclass(slots=True)
class Bench:
    """Scratch copies to try drafts in; `drafts` counts the builds, `say` tells how it goes on."""

    engine: Engine
    copies: SimpleQueue[Book]
    at_once: int
    say: Callable[[str], None]
    drafts: int = 0

    def first(self, wish: Wish) -> Tried:
        """The first draft, whose copy then serves the others. Raises ProgramFailed."""
        tried = self.try_one(wish)
        copy = self.copies.get()
        for number in range(self.copies.qsize() + 1, self.at_once):
            self.copies.put(another_copy(copy, number))
        self.copies.put(copy)
        return tried

    def try_all(self, wishes: Sequence[Wish]) -> list[Tried]:
        """Build every draft wished for; answers in the order of the wishes."""
        self.drafts += len(wishes)
        with ThreadPoolExecutor(self.at_once) as pool:
            return list(pool.map(self._try, wishes))

    def try_one(self, wish: Wish) -> Tried:
        """Build one draft. Raises ProgramFailed."""
        (tried,) = self.try_all([wish])
        if tried.failed:
            raise tried.failed
        return tried

    def in_copy(self, ask: Callable[[Book], T]) -> T:
        """Ask something of a copy, with what the last draft left in it."""
        copy = self.copies.get()
        try:
            return ask(copy)
        finally:
            self.copies.put(copy)

    def _try(self, wish: Wish) -> Tried:
        copy = self.copies.get()
        before = _edit(copy, wish.edits)
        try:
            write_trial(copy, self.engine, wish.chosen, Trial(wish.cuts))
            build = self.engine.once if wish.cuts else self.engine.build
            build(copy, silent)
            draft = read_draft(copy, self.engine)
            return Tried(draft.counts, draft.takes, read_text(copy, self.engine, draft.record))
        except NotStarted:
            raise
        except ProgramFailed as failed:
            return Tried(failed=failed)
        finally:
            _edit(copy, before)
            self.copies.put(copy)


@contextmanager
def bench(
    book: Book, engine: Engine, say: Callable[[str], None], at_once: int | None = None
) -> Iterator[Bench]:
    """A bench that tries as many drafts at once as there are cores."""
    number = max(1, min(at_once or os.cpu_count() or 1, MOST_AT_ONCE))
    with scratch_copy(book) as copy:
        copies: SimpleQueue[Book] = SimpleQueue()
        copies.put(copy)
        yield Bench(engine, copies, number, say)


def _edit(book: Book, edits: Mapping[str, bytes]) -> dict[str, bytes]:
    """Put texts into files of a copy; returns what they held before."""
    before = {name: (book.home / name).read_bytes() for name in edits}
    for name, text in edits.items():
        write_whole(book.home / name, text)
    return before
