"""Follows the drawing operators of a page of plain text: where does which text start?

Operators and their operands: ISO 32000-1, annex A.
"""

from __future__ import annotations

from collections.abc import Callable

Matrix = tuple[float, ...]  # six of them
Start = tuple[float, float, float, float]  # x, y, size of the type, place across the lines
Extent = tuple[float, float, float, float]

DARK = 0.6  # of white
LARGE_FILL = 10_000  # square points; a dark ground so large could swallow its text
AROUND = 3  # points; a fill hides text that starts a little outside it
THICK = 20  # points; a stroke no longer

_IDENTITY: Matrix = (1, 0, 0, 1, 0, 0)
_NUMBER, _NAME = b"0123456789-.+", ord("/")


class NotPlain(Exception):
    """An operator that could hide text, or one that makes no sense here."""


def starts_of_text(bare: bytes, transform: Matrix) -> list[Start]:
    """Where each piece of dark text starts that nothing lies upon, as far as can be told.

    Raises `NotPlain` at an operator that could hide it all the same.

    `bare` are the operators without strings and arrays; `transform` leads from their coordinates
    to those of the page.
    """
    tracing = _Tracing(transform)
    given: list[float] = []
    for token in bare.replace(b"/", b" /").split():
        try:
            if token[0] in _NUMBER:
                given.append(float(token))
            elif token[0] != _NAME:
                _OPERATORS[token](tracing, *given)
                given.clear()
        except (TypeError, ValueError, LookupError):
            raise NotPlain(token) from None
    return tracing.starts


class _Tracing:
    """The part of the graphics state that says where text stands and whether it is dark."""

    __slots__ = ("dark", "grounds", "kept", "leading", "line", "path", "size", "starts", "whole")

    def __init__(self, transform: Matrix) -> None:
        self.whole, self.line = transform, _IDENTITY
        self.size, self.leading = 0.0, 0.0
        self.dark = True
        self.path: list[tuple[float, float]] = []
        self.kept: list[tuple[Matrix, bool, float]] = []
        self.starts: list[Start] = []
        self.grounds: list[Extent] = []

    def save(self) -> None:
        self.kept.append((self.whole, self.dark, self.size))

    def restore(self) -> None:
        self.whole, self.dark, self.size = self.kept.pop()

    def concatenate(self, *matrix: float) -> None:
        self.whole = _times(matrix, self.whole)

    def begin(self) -> None:
        self.line = _IDENTITY

    def font(self, size: float) -> None:
        self.size = size

    def leading_of(self, leading: float) -> None:
        self.leading = leading

    def move(self, x: float, y: float) -> None:
        a, b, c, d, e, f = self.line
        self.line = (a, b, c, d, x * a + y * c + e, x * b + y * d + f)

    def move_and_lead(self, x: float, y: float) -> None:
        self.leading = -y
        self.move(x, y)

    def next_line(self) -> None:
        self.move(0, -self.leading)

    def place(self, *matrix: float) -> None:
        self.line = matrix

    def show(self) -> None:
        if self.dark:
            g, h, i, j, across, up = self.line
            a, b, c, d, e, f = self.whole
            x, y = a * across + c * up + e, b * across + d * up + f
            size = (abs((a * d - b * c) * (g * j - h * i))) ** 0.5 * self.size
            lies_across = abs(a * g + c * h) > abs(b * g + d * h)
            start = (x, y, size, y if lies_across else x)
            if not self.grounds or not any(_lies_in(start, ground) for ground in self.grounds):
                self.starts.append(start)

    def grey(self, level: float) -> None:
        self.dark = level <= DARK

    def rgb(self, red: float, green: float, blue: float) -> None:
        self.dark = 0.3 * red + 0.59 * green + 0.11 * blue <= DARK

    def cmyk(self, cyan: float, magenta: float, yellow: float, black: float) -> None:
        self.dark = 0.3 * cyan + 0.59 * magenta + 0.11 * yellow + black >= 1 - DARK

    def rectangle(self, x: float, y: float, width: float, height: float) -> None:
        self.path += [(x, y), (x + width, y + height)]

    def point(self, *coordinates: float) -> None:
        self.path += zip(coordinates[::2], coordinates[1::2], strict=True)

    def fill(self) -> None:
        """A light fill hides the text beneath it; a large dark one swallows what comes."""
        extent = self._path_extent()
        if not self.dark:
            self.starts = [start for start in self.starts if not _lies_in(start, extent)]
        elif (extent[2] - extent[0]) * (extent[3] - extent[1]) > LARGE_FILL:
            self.grounds.append(extent)
        self.end_path()

    def _path_extent(self) -> Extent:
        a, b, c, d, e, f = self.whole
        xs = [a * x + c * y + e for x, y in self.path]
        ys = [b * x + d * y + f for x, y in self.path]
        return min(xs) - AROUND, min(ys) - AROUND, max(xs) + AROUND, max(ys) + AROUND

    def end_path(self) -> None:
        self.path.clear()

    def width(self, points: float) -> None:
        if points > THICK:
            raise NotPlain("w")

    def nothing(self, *_operands: float) -> None:
        """An operator without effect on what is asked."""


_OPERATORS: dict[bytes, Callable[..., None]] = {
    b"q": _Tracing.save,
    b"Q": _Tracing.restore,
    b"cm": _Tracing.concatenate,
    b"BT": _Tracing.begin,
    b"Tf": _Tracing.font,
    b"TL": _Tracing.leading_of,
    b"Td": _Tracing.move,
    b"TD": _Tracing.move_and_lead,
    b"T*": _Tracing.next_line,
    b"Tm": _Tracing.place,
    b"Tj": _Tracing.show,
    b"TJ": _Tracing.show,
    b"g": _Tracing.grey,
    b"rg": _Tracing.rgb,
    b"k": _Tracing.cmyk,
    b"re": _Tracing.rectangle,
    b"m": _Tracing.point,
    b"l": _Tracing.point,
    b"c": _Tracing.point,
    b"v": _Tracing.point,
    b"y": _Tracing.point,
    b"f": _Tracing.fill,
    b"F": _Tracing.fill,
    b"f*": _Tracing.fill,
    b"S": _Tracing.end_path,
    b"s": _Tracing.end_path,
    b"n": _Tracing.end_path,
    b"w": _Tracing.width,
    **dict.fromkeys(b"ET Tc Tw Ts G RG K j J M d i ri h BMC EMC".split(), _Tracing.nothing),
}


def _lies_in(start: Start, extent: Extent) -> bool:
    left, top, right, bottom = extent
    return left < start[0] < right and top < start[1] < bottom


def _times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + m,
    )
