"""Pages that are blank although something is drawn on them, and pages that only look blank."""

from __future__ import annotations

import random
from pathlib import Path

import pymupdf
import pytest

from fitter.data.known_marks import known_marks
from fitter.pdf.verdicts import read_verdicts
from tests.drawn import HEIGHT, MM, WIDTH, Draw, drawn, nothing, raw, said, text, together, words

WHOLE = f"0 0 {WIDTH} {HEIGHT} re"


def verdict(folder: Path, draw: Draw) -> str:
    """The verdict on one page between two pages of text."""
    path = drawn(folder / "book.pdf", text, draw, text)
    return read_verdicts(path, known_marks()).verdicts[1].verdict


def layer(*, on: bool, printing: bool = True, showing: bool = True) -> Draw:
    """Words on a layer (optional content group), with its states for the screen and for print."""

    def draw(page: pymupdf.Page) -> None:
        document = page.parent
        group = document.add_ocg("Layer", on=on)
        state = {True: "ON", False: "OFF"}
        if not (printing and showing):
            usage = (
                f"<</Print<</PrintState/{state[printing]}>>/View<</ViewState/{state[showing]}>>>>"
            )
            document.xref_set_key(group, "Usage", usage)
            catalog = document.pdf_catalog()
            events = "".join(
                f"<</Event/{event}/OCGs[{group} 0 R]/Category[/{event}]>>"
                for event in ("Print", "View")
            )
            document.xref_set_key(catalog, "OCProperties/D/AS", f"[{events}]")
        page.insert_text((60, 300), "On a layer", oc=group)

    return draw


def comment(page: pymupdf.Page) -> None:
    note = page.add_text_annot((100, 100), "Is this page meant to be empty?")
    note.set_flags(0)
    note.update()


def box_comment(page: pymupdf.Page) -> None:
    note = page.add_freetext_annot(pymupdf.Rect(60, 200, 300, 260), "Only on the screen")
    note.set_flags(0)
    note.update()


def stamp(page: pymupdf.Page) -> None:
    note = page.add_stamp_annot(pymupdf.Rect(60, 200, 300, 300), stamp=0)
    note.set_flags(pymupdf.PDF_ANNOT_IS_PRINT)
    note.update()


def link(page: pymupdf.Page) -> None:
    page.insert_link(
        {
            "kind": pymupdf.LINK_URI,
            "from": pymupdf.Rect(60, 60, 200, 90),
            "uri": "https://x.example",
        }
    )


def field(page: pymupdf.Page) -> None:
    widget = pymupdf.Widget()
    widget.rect, widget.field_type = pymupdf.Rect(60, 60, 200, 90), pymupdf.PDF_WIDGET_TYPE_TEXT
    widget.field_name, widget.field_value = "name", "Typed in"
    page.add_widget(widget)
    for added in page.widgets():
        page.parent.xref_set_key(added.xref, "F", "0")


def image(page: pymupdf.Page, shade: bytes, box: pymupdf.Rect | None = None) -> None:
    """A grey image of 40 × 60 pixels over the page."""
    samples = shade * (40 * 60 // len(shade))
    page.insert_image(
        box or page.rect,
        pixmap=pymupdf.Pixmap(pymupdf.csGRAY, 40, 60, samples, 0),
        keep_proportion=False,
    )


def scan(dots: int, noise: float = 0, shadow: bool = False, said: str = "") -> Draw:
    """A page scanned at 150 dpi: grey paper with noise, specks, a shadow at the edge, a word."""

    def draw(page: pymupdf.Page) -> None:
        chance = random.Random(5)
        sheet = pymupdf.open()
        paper = sheet.new_page(width=WIDTH, height=HEIGHT)
        if said:
            paper.insert_text((WIDTH / 2, HEIGHT / 2), said, fontsize=11)
        seen = paper.get_pixmap(dpi=150, colorspace=pymupdf.csGRAY)
        grey = bytearray(seen.samples)
        width = seen.width
        for at in range(len(grey)):
            light = 238 + (chance.gauss(0, noise) if noise else 0)
            if shadow and at % width < 24:
                light -= 6 * (24 - at % width)
            grey[at] = max(0, min(255, int(grey[at] / 255 * light)))
        for _ in range(dots):
            grey[chance.randrange(len(grey))] = chance.randrange(60)
        page.insert_image(
            page.rect, pixmap=pymupdf.Pixmap(pymupdf.csGRAY, width, seen.height, bytes(grey), 0)
        )

    return draw


def outside_the_trim(page: pymupdf.Page) -> None:
    """Crop marks, a colour bar, a slug line and a bleed around a trimmed page."""
    page.insert_text((20, HEIGHT - 4), "gathering 3, sheet 2", fontsize=6)
    page.draw_rect(pymupdf.Rect(2, 60, 12, 200), fill=(0, 0.6, 0.9), color=None)
    for x in (15 * MM, WIDTH - 15 * MM):
        page.draw_line((x, 0), (x, 12 * MM))
        page.draw_line((x, HEIGHT), (x, HEIGHT - 12 * MM))
    page.parent.xref_set_key(
        page.xref,
        "TrimBox",
        f"[{15 * MM:.2f} {15 * MM:.2f} {WIDTH - 15 * MM:.2f} {HEIGHT - 15 * MM:.2f}]",
    )


def tint(shade: str, margin: float = 0) -> str:
    return f"q {shade} {margin} {margin} {WIDTH - 2 * margin} {HEIGHT - 2 * margin} re f Q\n"


SPOT = (
    "/ColorSpace<</CS0[/Separation/Spot/DeviceGray"
    "<</FunctionType 2/Domain[0 1]/C0[1]/C1[0]/N 1>>]>>"
)
BLANK: dict[str, Draw] = {
    "nothing drawn": nothing,
    "layer switched off": layer(on=False),
    "layer not for print": layer(on=True, printing=False),
    "comment": comment,
    "comment in a box": box_comment,
    "link": link,
    "form field without print flag": field,
    "invisible text of a scan": raw(said("read by a machine", "3 Tr")),
    "transparent text": raw(said("unseen", "/G gs"), "/ExtGState<</G<</ca 0>>>>"),
    "clipped text": raw(said("unseen", "0 0 20 20 re W n")),
    "clipped to nothing": raw(said("unseen", "0 0 0 0 re W n")),
    "covered text": raw(said("unseen") + "1 g 40 280 200 60 re f"),
    "covered rectangle": raw("0 g 50.3 90.7 99.1 40.2 re f 1 g 50.3 90.7 99.1 40.2 re f"),
    "text covered by an image": together(
        raw(said("unseen")), lambda page: image(page, b"\xff", pymupdf.Rect(0, 0, 300, 400))
    ),
    "white text": raw(said("unseen", "1 g")),
    "white text in four colours": raw(said("unseen", "0 0 0 0 k")),
    "white image": lambda page: image(page, b"\xff"),
    "spaces": raw(said(" ") + said("      ")),
    "text beyond the edge": raw(said("unseen", at=(60, -40)) + said("unseen", at=(900, 300))),
    "crop marks and slug": outside_the_trim,
    "uniform tint": raw(tint("0.9 g")),
    "dark tint": raw(tint("0 0.8 0.9 0.2 k")),
    "tint with bleed": raw(tint("0.7 g", -9)),
    "tint that stops a hair before the edge": raw(tint("0.7 g", 0.6)),
    "tint as an image": lambda page: image(page, b"\xd0"),
    "scan with noise": scan(dots=0, noise=9),
    "scan with specks": scan(dots=60),
    "scan with a shadow at the edge": scan(dots=20, noise=4, shadow=True),
}
PRINTED: dict[str, Draw] = {
    "stamp that prints": stamp,
    "layer for print alone": layer(on=True, showing=False),
    "light grey text": raw(said("hardly seen", "0.9 g")),
    "hairline ornament": raw("0.1 w 170 280 m 200 280 l S"),
    "thin filled rule": raw("170 280 30 0.1 re f"),
    "ruled notes lines": raw(
        "0.2 w 0.6 G " + " ".join(f"60 {y} m 300 {y} l S" for y in range(80, 500, 24))
    ),
    "dotted notes lines": raw(
        "0.4 w [0.4 3] 0 d " + " ".join(f"60 {y} m 300 {y} l S" for y in range(80, 500, 24))
    ),
    "one short word": words(60, "Fin"),
    "a dedication": words(70, "For Ada,\nwho asked."),
    "an ornament of one glyph": raw(said("*", at=(180, 280))),
    "a footnote alone": words(180, "3. So the ferryman said, in the spring of that year.", 7),
    "last line of a chapter": words(24, "and so they went home."),
    "white on a dark page": raw(tint("0.1 g") + said("seen", "1 g")),
    "red on green of the same grey": raw(tint("0 0.5 0 rg") + said("seen", "0.98 0 0 rg")),
    "text on a tint": raw(tint("0.85 g") + said("seen")),
    "text in a spot colour": raw(said("seen", "/CS0 cs 1 scn"), SPOT),
    "text before a cover elsewhere": raw(said("seen") + "1 g 40 80 200 60 re f"),
    "clipped in part": raw(said("seen", "0 290 80 20 re W n")),
    "a photograph": lambda page: image(page, bytes(range(0, 240, 4))),
    "scan with one short word": scan(dots=20, noise=4, said="Fin"),
    "curves without text": raw("60 300 m 90 380 150 380 180 300 c S"),
    "a panel of tint": raw(tint("0.95 g", 40)),
}


@pytest.mark.parametrize("draw", BLANK.values(), ids=BLANK.keys())
def test_what_does_not_print_is_blank(tmp_path: Path, draw: Draw) -> None:
    assert verdict(tmp_path, draw) == "blank"


@pytest.mark.parametrize("draw", PRINTED.values(), ids=PRINTED.keys())
def test_what_prints_is_printed(tmp_path: Path, draw: Draw) -> None:
    assert verdict(tmp_path, draw) == "printed"


@pytest.mark.parametrize("rotation", [90, 180, 270])
@pytest.mark.parametrize(("draw", "expected"), [(outside_the_trim, "blank"), (stamp, "printed")])
def test_turned_pages(tmp_path: Path, rotation: int, draw: Draw, expected: str) -> None:
    turned = together(draw, lambda page: page.set_rotation(rotation))
    assert verdict(tmp_path, turned) == expected


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
def test_furniture_of_turned_pages(tmp_path: Path, rotation: int) -> None:
    def turned(folio: int, *draws: Draw) -> Draw:
        """A page whose head lies along the side that is up when it is turned."""

        def draw(page: pymupdf.Page) -> None:
            page.set_rotation(rotation)
            foot = 119 if rotation in (90, 270) else 188
            for at, line in ((12, "Of Boats"), (foot, str(folio))):
                point = pymupdf.Point(40 * MM, at * MM) * page.derotation_matrix
                page.insert_text(point, line, rotate=rotation, fontsize=8)
            for one in draws:
                one(page)

        return draw

    pages = [turned(1, text), turned(2), turned(3, text), turned(4, text)]
    path = drawn(tmp_path / "book.pdf", *pages)
    assert read_verdicts(path, known_marks()).verdicts[1].verdict == "furniture-only"
