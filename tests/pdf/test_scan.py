import random

from fitter.pdf.prints import Pixels
from fitter.pdf.scan import scanned_mask

WIDTH, HEIGHT = 120, 180  # pixels at two a mm


def paper(noise: float = 3, falloff: float = 0) -> bytearray:
    """Grey paper, unevenly lit from left to right."""
    chance = random.Random(3)
    return bytearray(
        max(0, min(255, round(235 - falloff * (at % WIDTH) + chance.gauss(0, noise))))
        for at in range(WIDTH * HEIGHT)
    )


def inked(samples: bytes) -> int:
    return sum(scanned_mask(Pixels(WIDTH, HEIGHT, 1, 2, bytes(samples))).ink)


def draw(samples: bytearray, *box: int, shade: int) -> bytearray:
    left, top, right, bottom = box
    for row in range(top, bottom):
        samples[row * WIDTH + left : row * WIDTH + right] = bytes([shade]) * (right - left)
    return samples


def test_bare_paper_has_no_ink() -> None:
    assert inked(paper()) == 0
    assert inked(paper(noise=8, falloff=0.4)) == 0


def test_specks_and_shadows_at_the_edge_are_no_ink() -> None:
    dusty = paper()
    for at in range(50, 5000, 700):
        draw(dusty, at % 100 + 10, at // 40 + 5, at % 100 + 12, at // 40 + 6, shade=40)
    assert inked(draw(dusty, 0, 0, 5, HEIGHT, shade=90)) == 0


def test_letters_are_ink() -> None:
    assert inked(draw(paper(), 50, 80, 52, 86, shade=60)) > 8


def test_a_picture_is_all_ink() -> None:
    picture = bytearray(120 + 60 * (at // WIDTH // 60) for at in range(WIDTH * HEIGHT))
    assert inked(picture) == WIDTH * HEIGHT
