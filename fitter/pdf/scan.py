"""Ink on a scanned page: what stands out from the paper and is more than dust, noise or shadow."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from fitter.pdf.mask import Mask, differing
from fitter.pdf.prints import Pixels

Tile = tuple[int, int, int, int]  # left, top, right, bottom in pixels

TILE = 16  # pixels; the paper's own shade is that of its surroundings
CONTRAST = 40  # grey levels between ink and paper
PICTURE_CONTRAST = 60  # between the shades of tiles: no longer paper unevenly lit
PICTURE = 0.2  # share of pixels that stand out
GRAIN = 2  # pixels; a speck no longer than this either way is dust


def scanned_mask(pixels: Pixels) -> Mask:
    """Mark what was printed on a scanned page; `pixels` is a soft grey rendering."""
    tiles = _tiles(pixels)
    mask = Mask(pixels.width, pixels.height, pixels.per_mm, bytearray(len(pixels.samples)))
    for (left, top, right, bottom), shade in tiles.items():
        table = differing(shade, CONTRAST)
        for row in range(top, bottom):
            at = slice(row * pixels.width + left, row * pixels.width + right)
            mask.ink[at] = pixels.samples[at].translate(table)
    if not _is_picture(mask, tiles):
        _sweep(mask)
    return mask


def _tiles(pixels: Pixels) -> dict[Tile, int]:
    return {
        box: round(median(_part(pixels, box)))
        for top in range(0, pixels.height, TILE)
        for left in range(0, pixels.width, TILE)
        for box in [
            (left, top, min(left + TILE, pixels.width), min(top + TILE, pixels.height)),
        ]
    }


def _part(pixels: Pixels, box: Tile) -> bytes:
    left, top, right, bottom = box
    width = pixels.width
    return b"".join(
        pixels.samples[row * width + left : row * width + right] for row in range(top, bottom)
    )


def _is_picture(mask: Mask, tiles: dict[Tile, int]) -> bool:
    inner = [shade for box, shade in tiles.items() if _is_inside(box, mask)]
    if inner and max(inner) - min(inner) >= PICTURE_CONTRAST:
        mask.ink[:] = b"\1" * len(mask.ink)
        return True
    return sum(mask.ink) > PICTURE * len(mask.ink)


def _is_inside(box: Tile, mask: Mask) -> bool:
    left, top, right, bottom = box
    near = 2 * TILE
    across = left >= near and right <= mask.width - near
    return across and top >= near and bottom <= mask.height - near


def _sweep(mask: Mask) -> None:
    """Take out specks, and shadows that come in from the edge."""
    for piece in list(_pieces(mask)):
        if _is_speck(piece, mask.width) or _touches_edge(piece, mask):
            for pixel in piece:
                mask.ink[pixel] = 0


def _pieces(mask: Mask) -> Iterator[list[int]]:
    """The connected pieces of ink, each as the places of its pixels."""
    left = {place for place, ink in enumerate(mask.ink) if ink}
    steps = [row * mask.width + column for row in (-1, 0, 1) for column in (-1, 0, 1)]
    while left:
        piece = [left.pop()]
        for place in piece:
            beside = left.intersection(place + step for step in steps)
            left -= beside
            piece.extend(beside)
        yield piece


def _is_speck(piece: list[int], width: int) -> bool:
    rows = [place // width for place in piece]
    columns = [place % width for place in piece]
    longest = max(max(rows) - min(rows), max(columns) - min(columns)) + 1
    return longest <= GRAIN


def _touches_edge(piece: list[int], mask: Mask) -> bool:
    return any(
        place % mask.width in (0, mask.width - 1) or place // mask.width in (0, mask.height - 1)
        for place in piece
    )
