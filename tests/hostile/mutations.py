"""Ways to break a PDF, each by a seed: bytes, numbers, names, references, pieces, whole streams."""

from __future__ import annotations

import random
import re
import zlib
from collections.abc import Callable

Change = Callable[[bytearray, random.Random], None]

_NUMBER = re.compile(rb"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])")
_NAME = re.compile(rb"/[A-Za-z]{2,}")
_REFERENCE = re.compile(rb"\b\d+ 0 R\b")
_STREAM = re.compile(rb"stream\r?\n(.*?)\r?\nendstream", re.DOTALL)
_NUMBERS = (b"-1", b"0", b"1", b"65536", b"2147483648", b"99999999999", b"-0.5", b"1e308", b"00")
_OPERATORS = (b"q ", b"Q ", b"BT ", b"ET ", b"0 0 0 0 0 0 cm ", b"/Im1 Do ", b"sh ", b"W n ", b"[ ")


def mutated(original: bytes, other: bytes, seed: int) -> bytes:
    """The original with one to six changes; `other` lends it pieces."""
    chance = random.Random(seed)
    content = bytearray(original)
    changes: tuple[Change, ...] = (
        flip, overwrite, cut_out, cut_off, repeat, number, number, name, reference, reference,
        nest, in_stream, in_stream, lambda content, chance: lend(content, other, chance),
    )  # fmt: skip
    for _ in range(chance.randint(1, 6)):
        if content:
            chance.choice(changes)(content, chance)
    return bytes(content)


def flip(content: bytearray, chance: random.Random) -> None:
    """Turn single bits."""
    for _ in range(chance.randint(1, 30)):
        content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)


def overwrite(content: bytearray, chance: random.Random) -> None:
    """Write noise over a piece."""
    start, length = chance.randrange(len(content)), chance.randint(1, 400)
    content[start : start + length] = chance.randbytes(length)


def cut_out(content: bytearray, chance: random.Random) -> None:
    """Leave out a piece."""
    start = chance.randrange(len(content))
    del content[start : start + chance.randint(1, 2000)]


def cut_off(content: bytearray, chance: random.Random) -> None:
    """End early."""
    del content[chance.randrange(len(content)) :]


def repeat(content: bytearray, chance: random.Random) -> None:
    """Say a piece again, somewhere."""
    start, at = chance.randrange(len(content)), chance.randrange(len(content))
    content[at:at] = bytes(content[start : start + chance.randint(1, 3000)]) * chance.randint(1, 20)


def lend(content: bytearray, other: bytes, chance: random.Random) -> None:
    """Put in a piece of another producer's file."""
    start, at = chance.randrange(len(other)), chance.randrange(len(content))
    piece = other[start : start + chance.randint(1, 3000)]
    content[at : at + len(piece) * chance.randint(0, 1)] = piece


def number(content: bytearray, chance: random.Random) -> None:
    """Make numbers huge, negative or nothing: lengths, offsets, sizes, counts."""
    for _ in range(chance.randint(1, 8)):
        _replace(content, _NUMBER, lambda _: chance.choice(_NUMBERS), chance)


def name(content: bytearray, chance: random.Random) -> None:
    """Take one name for another."""
    names = _NAME.findall(bytes(content)) or [b"/Page"]
    for _ in range(chance.randint(1, 4)):
        _replace(content, _NAME, lambda _: chance.choice(names), chance)


def reference(content: bytearray, chance: random.Random) -> None:
    """Lead to another object, or round in a circle."""
    for _ in range(chance.randint(1, 6)):
        _replace(content, _REFERENCE, lambda _: b"%d 0 R" % chance.randint(0, 30), chance)


def nest(content: bytearray, chance: random.Random) -> None:
    """Nest arrays or dictionaries deeply."""
    at, mark = chance.randrange(len(content)), chance.choice((b"[", b"<<", b"(", b"<</Kids["))
    content[at:at] = mark * chance.choice((10, 600, 20_000))


def in_stream(content: bytearray, chance: random.Random) -> None:
    """Change what a packed stream says, and pack it again."""
    streams = list(_STREAM.finditer(bytes(content)))
    if not streams:
        return
    found = chance.choice(streams)
    try:
        said = bytearray(zlib.decompress(found[1]))
    except zlib.error:
        return
    if said:
        chance.choice((flip, overwrite, cut_out, repeat, number, reference, operators))(
            said, chance
        )
    content[found.start(1) : found.end(1)] = zlib.compress(bytes(said))


def operators(content: bytearray, chance: random.Random) -> None:
    """Throw in drawing operators."""
    at = chance.randrange(len(content))
    content[at:at] = chance.choice(_OPERATORS) * chance.choice((1, 50, 5000))


def _replace(
    content: bytearray,
    what: re.Pattern[bytes],
    by: Callable[[bytes], bytes],
    chance: random.Random,
) -> None:
    start = chance.randrange(len(content))
    found = what.search(content, start) or what.search(content)
    if found:
        content[found.start() : found.end()] = by(found[0])
