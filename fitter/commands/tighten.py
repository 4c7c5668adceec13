"""`fitter tighten`: where pages can be won, what it takes, and on demand doing it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from fitter.book.loader import Book, find_book_file, load_book
from fitter.commands.output import put
from fitter.engines.engine import Engine, engine_of
from fitter.errors import DONE, NOT_PASSED, BadInput
from fitter.inserts.chosen import Chosen
from fitter.lock import held
from fitter.reports.voice import Progress, Voice
from fitter.steps.aim import Aim, aim_of
from fitter.steps.edit import check_edits
from fitter.steps.identify import identify, identify_chapters
from fitter.steps.insert import chosen_earlier, write_chosen
from fitter.steps.over import find_tails
from fitter.steps.settle import settle
from fitter.steps.shorten import Names, shorten
from fitter.steps.trials import Bench, Wish, bench
from fitter.trade.tighten.edits import edits
from fitter.trade.tighten.tails import guessed, order_of_remedies
from fitter.trade.tighten.text import Chapter, Text
from fitter.trade.tighten.tightening import EditList, Tightening, survey

_NEEDS_SETTINGS = (
    "Typst cannot set a paragraph a line shorter without an edit; that goes through LaTeX only. "
    "Give 'settings' in book.yaml to be tried, or edit the text: --chapter says where."
)


@dataclass(frozen=True, slots=True)
class Options:
    """What the command line asks for."""

    try_settings: bool = False
    apply: bool = False
    take_back: bool = False
    long_pages: bool = False
    quick: bool = False
    chapter: str | None = None
    extent: int | None = None
    last_page: int = 5


def tighten(where: Path, options: Options, form: str, voice: Voice) -> int:
    """Report, try or apply; 0, or 1 where no way was found to the extent that is wanted."""
    with held(find_book_file(where).parent, voice.warn):
        return _tighten(load_book(where), options, form, voice)


def _tighten(book: Book, options: Options, form: str, voice: Voice) -> int:
    engine = engine_of(book, Progress(voice, "fillers"))
    chosen, lost = chosen_earlier(book)
    for sentence in lost:
        voice.warn(sentence)
    if options.take_back:
        return _take_back(book, engine, voice, anything=chosen != Chosen() or bool(lost))
    with bench(book, engine_of(book), voice.step) as drafts:
        found, wanted = _Work(book, drafts, chosen, options).done()
    if options.apply and found.reached:
        write_chosen(book, engine, wanted)
        voice.step(f"{book.inserts.name} has what was chosen: run 'fitter build'.")
    _report(found, form)
    return DONE if found.reached else NOT_PASSED


def _take_back(book: Book, engine: Engine, voice: Voice, *, anything: bool) -> int:
    if anything:
        write_chosen(book, engine, Chosen())
        voice.step("Taken back: run 'fitter build'.")
    else:
        voice.step("There was nothing to take back.")
    return DONE


@dataclass(slots=True)
class _Work:
    """The drafts of one command, from the first to the last."""

    book: Book
    bench: Bench
    chosen: Chosen
    options: Options

    def done(self) -> tuple[Tightening, Chosen]:
        """The report, and what is to be written if it is to be applied."""
        options = self.options
        start = replace(self.chosen, settings={}) if options.try_settings else self.chosen
        self.bench.say("the draft as it is")
        first = self.bench.first(Wish(start))
        aim = aim_of(self.book, first, options.extent)
        sizes = self.book.settings.binding.binding.regular
        found = survey(first.text, aim.now.needed, sizes, options.last_page)
        found = replace(found, extent=aim.now.extent, aim=aim.extent)
        if options.chapter is not None:
            found = self._edit_list(found, start)
        elif options.try_settings or options.apply:
            found, start = self._remedy(found, start, aim)
        elif not options.quick:
            tails = find_tails(self.bench, Wish(start), first.text)
            found = replace(found, tails=tuple(order_of_remedies(tails)))
        else:
            found = replace(found, tails=tuple(order_of_remedies(guessed(first.text))))
        return replace(found, drafts=self.bench.drafts), start

    def _edit_list(self, found: Tightening, start: Chosen) -> Tightening:
        chapter = _named(found.text, self.options.chapter or "")
        listed = edits(found.text, chapter)
        checked = check_edits(self.bench, self.book, Wish(start), listed)
        return replace(found, edits=EditList(chapter, tuple(listed), tuple(checked)))

    def _remedy(self, found: Tightening, start: Chosen, aim: Aim) -> tuple[Tightening, Chosen]:
        """Paragraphs a line shorter; settings where they are asked for, or paragraphs too few."""
        settings = self.book.settings.allowed
        if not (self.bench.engine.shortens or settings):
            raise BadInput(_NEEDS_SETTINGS)
        if self.options.try_settings and not settings:
            raise BadInput(
                f"{self.book.file.name}: --try tries the 'settings' of this file, and it has none. "
                "Add what may be changed, or leave --try out."
            )
        if not self.options.try_settings and self.bench.engine.shortens:
            names = self.bench.in_copy(lambda copy: self._names(copy, aim.base.text))
            wanted, shortened = shorten(self.bench, start, names, aim)
            found = replace(found, shortened=shortened)
            if shortened.after or not settings:
                return found, wanted
            self.bench.say("paragraphs are not enough: trying the settings")
        if start.settings:
            plain = self.bench.try_one(Wish(replace(start, settings={})))
            aim = replace(aim, base=plain)
        wanted, settled = settle(self.bench, settings, start, aim)
        return replace(found, settings=settled), wanted

    def _names(self, copy: Book, text: Text) -> Names:
        chapters = identify_chapters(copy, text) if self.options.long_pages else {}
        return Names(identify(copy, text), chapters)


def _named(text: Text, wanted: str) -> Chapter:
    """A chapter by its number in the list, or by the beginning of its title."""
    if wanted.isdecimal() and 1 <= int(wanted) <= len(text.chapters):
        return text.chapters[int(wanted) - 1]
    if not text.chapters:
        raise BadInput(f"--chapter {wanted}: the book has no chapters. Leave the option out.")
    titles = [each for each in text.chapters if each.title.casefold().startswith(wanted.casefold())]
    if len(titles) != 1:
        known = "\n".join(f"  {i} {each.title}" for i, each in enumerate(text.chapters, 1))
        raise BadInput(f"--chapter {wanted}: name one of these by number or title:\n{known}")
    return titles[0]


def _report(found: Tightening, form: str) -> None:
    from fitter.reports.tighten_json import tighten_json
    from fitter.reports.tighten_text import tighten_text

    put(form, lambda: tighten_json(found), lambda: tighten_text(found))
