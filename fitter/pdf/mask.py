"""Where a rendering differs from its ground: one byte a pixel, 1 for ink; places are in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from math import ceil
from operator import or_

from fitter.pdf.prints import Pixels
from fitter.trade.gate.page import Box


@dataclass(slots=True)
class Mask:
    """Ink on a ground of one colour; `per_mm` pixels make a millimetre."""

    width: int
    height: int
    per_mm: float
    ink: bytearray

    @property
    def is_clear(self) -> bool:
        """Whether there is no ink at all."""
        return 1 not in self.ink

    def any_in(self, box: Box) -> bool:
        """Whether there is ink in a box."""
        return any(self.ink.find(1, start, end) >= 0 for start, end in self._rows(box))

    def clear(self, box: Box) -> None:
        """Take the ink out of a box."""
        for start, end in self._rows(box):
            self.ink[start:end] = bytes(end - start)

    def boxes(self, apart_mm: float) -> Iterator[Box]:
        """The extents of the ink, told apart where at least so many mm in between are empty."""
        run: list[tuple[int, int, int]] = []
        for row in self._inked_rows():
            if run and row[0] - run[-1][0] > apart_mm * self.per_mm:
                yield self._extent(run)
                run = []
            run.append(row)
        if run:
            yield self._extent(run)

    def _inked_rows(self) -> Iterator[tuple[int, int, int]]:
        """Each row with ink: its number, the first pixel of ink, the one beyond the last."""
        at = self.ink.find(1)
        while at >= 0:
            top = at // self.width
            start, end = top * self.width, (top + 1) * self.width
            yield top, at - start, self.ink.rfind(1, start, end) + 1 - start
            at = self.ink.find(1, end)

    def _rows(self, box: Box) -> Iterator[tuple[int, int]]:
        left, right = max(int(box.left * self.per_mm), 0), ceil(box.right * self.per_mm)
        top, bottom = max(int(box.top * self.per_mm), 0), ceil(box.bottom * self.per_mm)
        if left < min(right, self.width):
            for row in range(top, min(bottom, self.height)):
                yield row * self.width + left, row * self.width + min(right, self.width)

    def _extent(self, run: list[tuple[int, int, int]]) -> Box:
        edges = (
            min(first for _, first, _ in run),
            run[0][0],
            max(beyond for _, _, beyond in run),
            run[-1][0] + 1,
        )
        return Box(*(round(edge / self.per_mm, 2) for edge in edges))


def mask_of(pixels: Pixels, contrast: int) -> Mask:
    """Mark the pixels that differ from the commonest colour by `contrast` levels in any channel."""
    size = pixels.width * pixels.height
    if pixels.one_colour:
        return Mask(pixels.width, pixels.height, pixels.per_mm, bytearray(size))
    channels = [pixels.samples[at :: pixels.channels] for at in range(pixels.channels)]
    if all(channel == channels[0] for channel in channels[1:]):
        channels = channels[:1]
    marked = [levels.translate(differing(_ground(levels), contrast)) for levels in channels]
    return Mask(pixels.width, pixels.height, pixels.per_mm, bytearray(_any(marked, size)))


def _any(marked: list[bytes], size: int) -> bytes:
    """1 where any of them has 1."""
    if len(marked) == 1:
        return marked[0]
    together = reduce(or_, (int.from_bytes(one) for one in marked))
    return together.to_bytes(size)


def differing(ground: int, contrast: int) -> bytes:
    """The table that turns levels into 1 where they lie `contrast` or more from the ground."""
    return bytes(abs(value - ground) >= contrast for value in range(256))


def _ground(levels: bytes) -> int:
    """The commonest level, by a sample first so that a clean page costs little."""
    likely = Counter(levels[::97]).most_common(1)[0][0]
    if levels.count(likely) * 2 > len(levels):
        return likely
    return Counter(levels).most_common(1)[0][0]
