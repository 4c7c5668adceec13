"""Coverage-guided runs on what reads text: python tests/hostile/fuzz.py TARGET [libFuzzer options]

Needs `pip install atheris`, which the tests do not. The targets are the functions in `READERS`,
the seeds a few files written here; `-max_total_time=300` ends a run. What a target raises beyond
a sentence for a person is a fault, and libFuzzer leaves the input that led to it.
"""

from __future__ import annotations

import contextlib
import io
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from unicodedata import category

import atheris

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

with atheris.instrument_imports(include=["fitter", "yaml"]):
    from fitter.book.loader import load_book
    from fitter.book.printer import load_printer
    from fitter.commands import key
    from fitter.engines.record import parse_record
    from fitter.engines.text_record import read_text_record
    from fitter.errors import Fault
    from fitter.printings.kept import read_kept
    from fitter.printings.record_file import append
    from fitter.reports import voice
    from fitter.reports.check_lines import known_lines

BOOK = b"""title: A
source: [a.md, b/*.md]
engine: typst
trim: 129 x 198 mm
binding: {style: sewn, gathering: [32, 16], short: [8, 4], short_at_most: 1}
imprint: {year: 2026, isbn: 978-1-234-56789-7, order: [isbn, key],
  wording: {published: "{year}"}, key: {scheme: ascending, years: 5, printer: QX}}
blanks: {mark: {openers: Blank}, openers: mark, end_at_most: 2}
rules: {isbn-missing: off}
printer: printer.yaml
settings: {leading: {values: [1, 2], default: 1}}
movable: [{id: half-title, pages: 2, part: prelims}]
compare: {corrected_words: 20, trim_mm: 1}
build: [make, draft]
"""
FILLERS = b"""fillers:
- {id: a, page: notes, pages: 1..8, priority: 5, lines: dotted, needs: [b]}
- &x {id: b, source: b.tex, starts: recto, place: front, excludes: [a], required: true}
"""
PRINTER = b"""gatherings: [32, 16]
short: [8]
short_stands: before-last
pages: 48..640
last_page_blank: leaf
spine_allowance: 0.3 mm
papers:
- {id: a, grammage: 80 g/m2, volume: V18, price: 1.10}
- {id: b, grammage: 60 lb book, ppi: 352}
prices: {currency: EUR, make_ready: {32: 120, 16: 80, 8: 55}, run: {32: 0.02, 16: 0.01, 8: 1},
  spoilage: 3 %, paper_waste: 8 %}
"""
FOLDER = Path(tempfile.mkdtemp(prefix="fuzz-"))
SCALARS = ["0x1F", "1_000", "1:30", "2026-11-25 10:00:00+01:00", ".inf", "!!binary aGk=", "~"]


def book(content: bytes) -> None:
    """The three YAML files of a book, parted by a form feed."""
    files = dict(zip(("book", "fillers", "printings"), content.split(b"\f"), strict=False))
    for name in ("book", "fillers", "printings"):
        (FOLDER / f"{name}.yaml").write_bytes(files.get(name, b"source: book.tex\n"))
    told(lambda: load_book(FOLDER))


def printer(content: bytes) -> None:
    """The printer's file."""
    file = FOLDER / "printer.yaml"
    file.write_bytes(content)
    told(lambda: load_printer(file, file.name))


def key_line(content: bytes) -> None:
    """A line through `key read` and `key next`, with other options each time."""
    line = content[1:].decode("utf-8", "replace")
    choice = content[0] if content else 0
    words = (None, "", "First edition", "Second printing")[choice % 4]
    form = ("json", "text")[choice // 4 % 2]
    published = (None, 1999)[choice // 8 % 2]
    told(lambda: key.read(line, words=words, since=1930, published=published, form=form))
    printer = ("", "QX")[choice // 16 % 2]
    silent = voice.Voice(0)
    told(lambda: key.next_(line, voice=silent, form=form, year=published, printer=printer))


def record(content: bytes) -> None:
    """The record beside a PDF; whatever it says must add up to something."""
    text = content.decode("utf-8", "replace")

    def read() -> None:
        found = parse_record(text)
        _ = found.text_pages, found.slot_at("front"), found.slot_at("back"), found.back_whole

    told(read)


def text_record(content: bytes) -> None:
    """The record of the running text and the log beside it, parted by a form feed."""
    first, _, log = content.partition(b"\f")
    (FOLDER / "book.text").write_bytes(first)
    (FOLDER / "book.log").write_bytes(log)
    told(lambda: read_text_record(FOLDER / "book.text", FOLDER / "book.log"))


def printings(content: bytes) -> None:
    """An entry added to whatever stands in the printings.yaml of a book that can be read."""
    (FOLDER / "book.yaml").write_bytes(b"source: book.tex\n")
    (FOLDER / "fillers.yaml").write_bytes(b"")
    (FOLDER / "printings.yaml").write_bytes(content)
    entry = {"printing": 2, "year": 2028, "note": "mended: 'two' # places"}
    told(lambda: append(load_book(FOLDER).printings_file, entry))


def kept(content: bytes) -> None:
    """The fingerprint of a printing, and a report of JSON lines."""
    file = FOLDER / "kept.json"
    file.write_bytes(content)
    told(lambda: read_kept(file))
    told(lambda: known_lines(file))


READERS = (book, printer, key_line, record, text_record, printings, kept)


def told(read: Callable[[], object]) -> None:
    """A fault becomes a sentence and nothing else comes out; what is printed moves no terminal."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        try:
            read()
        except Fault as fault:
            voice.fault(fault.sentences)
    acting = [
        sign for sign in out.getvalue() if category(sign) in ("Cc", "Cs") and sign not in "\n\t"
    ]
    assert not acting, acting


def seeds(target: str) -> list[bytes]:
    """What a run begins from."""
    years = b"printings:\n- {printing: 1, year: 2026, printer: QX, copies: 2000}  # first\n"
    return {
        "book": [
            b"\f".join([BOOK, FILLERS, years]),
            *(f"source: b.tex\ntitle: {scalar}\n".encode() for scalar in SCALARS),
        ],
        "printer": [PRINTER],
        "key_line": [b"\0" + line for line in (b"3 4 5 QX 30 29", b"1 3 5 4 2 70 71", b"C D E F")],
        "record": [
            b"record{1}\npage{1}{i}{}{3}\nslot{front}{1}\nbegin{a}{2}\nend{a}{2}\ntakes{a}{1}\n"
            b"opener{2}\nwants{recto}{3}\nblanks{3}{1}\nlost{a}{b}{1}\nshipped{3}\ndone{}\n"
        ],
        "text_record": [
            b"matter{main}\nchapter{1}{a.tex}{3}\npara{1}{a.tex}{4}{3}{9}{9}{0}{9}\n"
            b"body{1}{9}{9}{9}{9}{9}{9}\nlost{a}{b}{1}\n\f"
            b"fitter: ends{1}{1}{9}{9}\nfitter: opens{1}{1}\nfitter: origin{1}{9}{9}\n"
        ],
        "printings": [years, b"printings:\n  # none yet\n", b"printings: []\r\n", b"a: 1\n"],
        "kept": [
            b'{"printing": 1, "edition": "", "isbn": "", "trim_mm": [1, 2], "pages": [\n'
            b'{"digest": "a", "words": "AAE=", "lines": 3, "picture": "0f", "role": "text"}]}',
            b'{"book": "a.pdf", "state": "1:2", "passed": true}\n',
        ],
    }[target]


def main(target: str, *options: str) -> None:
    """Run until libFuzzer ends; seeds and what it finds on the way lie in a temporary folder."""
    for name in ("a.md", "b/1.md", "b.tex", "book.tex", "corpus/0"):
        (FOLDER / name).parent.mkdir(exist_ok=True)
        (FOLDER / name).touch()
    corpus = FOLDER / "corpus"
    for number, seed in enumerate(seeds(target)):
        (corpus / str(number)).write_bytes(seed)
    atheris.Setup(
        [sys.argv[0], str(corpus), *options],
        {reader.__name__: reader for reader in READERS}[target],
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main(*sys.argv[1:])
