"""Where a rendering differs from its ground: one byte a pixel, 1 for ink."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from fitter.pdf.prints import Pixels

PixelBox = tuple[int, int, int, int]  # left, top, right, bottom; right and bottom beyond the last


@dataclass(slots=True)
class Mask:
    """Ink on a ground of one colour."""

    width: int
    height: int
    ink: bytearray

    def any_in(self, box: PixelBox) -> bool:
        """Whether there is ink in a box."""
        return any(1 in self.ink[start:end] for start, end in self._rows(box))

    def clear(self, box: PixelBox) -> None:
        """Take the ink out of a box."""
        for start, end in self._rows(box):
            self.ink[start:end] = bytes(end - start)

    def clear_edge(self, pixels: int) -> None:
        """Take the ink out of a strip along all four edges."""
        width, height = self.width, self.height
        self.clear((0, 0, width, pixels))
        self.clear((0, height - pixels, width, height))
        self.clear((0, 0, pixels, height))
        self.clear((width - pixels, 0, width, height))

    def boxes(self, apart: int) -> Iterator[PixelBox]:
        """The extents of what is left, told apart where `apart` rows in between are empty."""
        run: list[tuple[int, int, int]] = []
        for row in self._inked_rows():
            if run and row[0] - run[-1][0] > apart:
                yield _extent(run)
                run = []
            run.append(row)
        if run:
            yield _extent(run)

    def _inked_rows(self) -> Iterator[tuple[int, int, int]]:
        for top in range(self.height):
            row = self.ink[top * self.width : (top + 1) * self.width]
            first = row.find(1)
            if first >= 0:
                yield top, first, row.rfind(1) + 1

    def _rows(self, box: PixelBox) -> Iterator[tuple[int, int]]:
        left, top, right, bottom = box
        left, right = max(left, 0), min(right, self.width)
        for row in range(max(top, 0), min(bottom, self.height)):
            if left < right:
                yield row * self.width + left, row * self.width + right


def mask_of(pixels: Pixels, contrast: int) -> Mask:
    """Mark the pixels that differ from the commonest colour by `contrast` levels in any channel."""
    marked = 0
    for channel in range(pixels.channels):
        levels = pixels.samples[channel :: pixels.channels]
        marked |= int.from_bytes(levels.translate(_differs(_ground(levels), contrast)))
    size = pixels.width * pixels.height
    return Mask(pixels.width, pixels.height, bytearray(marked.to_bytes(size)))


def _ground(levels: bytes) -> int:
    """The commonest level, by a sample first so that a clean page costs little."""
    likely = Counter(levels[::97]).most_common(1)[0][0]
    if levels.count(likely) * 2 > len(levels):
        return likely
    return Counter(levels).most_common(1)[0][0]


def _differs(ground: int, contrast: int) -> bytes:
    return bytes(abs(value - ground) >= contrast for value in range(256))


def _extent(run: list[tuple[int, int, int]]) -> PixelBox:
    return (
        min(first for _, first, _ in run),
        run[0][0],
        max(beyond for _, _, beyond in run),
        run[-1][0] + 1,
    )
