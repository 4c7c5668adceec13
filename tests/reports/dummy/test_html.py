"""The dummy in a real browser: what is seen, heard, printed, and never fetched."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder
from tests.drawn import drawn, text
from tests.reports.dummy.conftest import NARROW, WIDE, dummy_of

LEAST_CONTRAST = 4.5  # Source: W3C, Web Content Accessibility Guidelines 2.1, 1.4.3


def test_it_opens_without_a_word_on_the_console_and_asks_the_network_for_nothing(
    visit, everything: Path
) -> None:
    seen = visit(everything)
    for _ in range(3):
        seen.page.keyboard.press("PageDown")
    seen.page.click("#p9")
    seen.page.keyboard.press("ArrowRight")
    seen.page.wait_for_timeout(200)
    assert seen.said == []
    assert [url for url in seen.asked if not url.startswith("data:")] == [everything.as_uri()]


def test_no_address_in_the_file_leads_anywhere(everything: Path) -> None:
    source = everything.read_text(encoding="utf-8")
    assert "default-src 'none'" in source
    assert not re.findall(r"""(?:src|href)="(?!data:|#)|url\((?!#)|@import|https?://""", source)


def test_the_policy_lets_no_added_script_run(visit, everything: Path) -> None:
    seen = visit(everything)
    seen.page.evaluate(
        "document.body.append(Object.assign(document.createElement('script'),"
        "{textContent: 'window.ran = true'}))"
    )
    assert seen.page.evaluate("window.ran") is None


def test_every_page_has_its_thumbnail_folio_and_position(visit, everything: Path) -> None:
    page = visit(everything).page
    assert page.locator("button.page").count() == 48
    shown = page.evaluate(
        """() => Promise.all([...document.querySelectorAll('button.page img')]
            .map(async (one) => { await one.decode(); return one.naturalWidth; }))"""
    )
    assert len(shown) == 44 and min(shown) >= 400
    positions = page.locator("button.page .pos").all_inner_texts()
    assert positions == [str(number) for number in range(1, 49)]


@pytest.mark.parametrize(
    ("page", "word", "sign"),
    [
        (7, "blank", "blank"),
        (13, "furniture only", "furniture-only"),
        (21, "marked blank", "marked"),
        (26, "damaged", "damaged"),
        (31, "198 × 129 mm", None),
        (47, "left over", "nothing"),
        (5, "", None),
    ],
)
def test_states_are_told_by_a_word_and_a_sign(
    visit, everything: Path, page: int, word: str, sign: str | None
) -> None:
    button = visit(everything).page.locator(f"#p{page}")
    assert button.locator(".word").inner_text().split() == word.split()
    signs = button.locator("use").evaluate_all("all => all.map(one => one.getAttribute('href'))")
    assert signs == ([f"#sign-{sign}"] if sign else [])
    assert not sign or word in button.get_attribute("aria-label")


def test_recto_stands_right_of_verso_as_in_the_open_book(visit, everything: Path) -> None:
    page = visit(everything).page
    boxes = {number: page.locator(f"#p{number} .paper").bounding_box() for number in (1, 2, 3, 4)}
    assert boxes[2]["x"] + boxes[2]["width"] == pytest.approx(boxes[3]["x"], abs=1)
    assert boxes[3]["x"] + boxes[3]["width"] < boxes[4]["x"] - 4
    assert boxes[1]["x"] + boxes[1]["width"] < boxes[2]["x"] - 4


def test_sixteen_pages_stand_in_one_row_and_two_gatherings_of_eight_beside_each_other(
    visit, everything: Path
) -> None:
    page = visit(everything).page
    tops = page.locator("#g1 .pages .paper").evaluate_all(
        "all => all.map(one => Math.round(one.getBoundingClientRect().bottom))"
    )
    assert len(set(tops)) == 1
    eights = dummy_of(everything.with_name("<b>every & thing.pdf"), "--gathering", "8")
    page = visit(eights).page
    first, second = page.locator("#g1").bounding_box(), page.locator("#g2").bounding_box()
    assert first["y"] == second["y"] and first["x"] < second["x"]


def test_formes_are_shown_for_a_chosen_gathering(visit, everything: Path) -> None:
    # Source: W. Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing (attribution
    # from memory): 1 and 16 adjoin; the sides by the usual fold, from memory
    page = visit(everything).page
    assert not page.is_visible("#g1 .forme")
    page.click("#g1 summary")
    outer, inner = page.locator("#g1 .forme").all()
    numbers = [int(cell) for cell in outer.locator(".cell-number").all_inner_texts()]
    assert sorted(numbers) == [1, 4, 5, 8, 9, 12, 13, 16]
    assert {a + b for a, b in zip(numbers[::2], numbers[1::2], strict=True)} == {17}
    assert outer.locator("img").count() == inner.locator("img").count() == 8
    assert "ask the printer" in page.inner_text("#g1 .formes")
    page.click("#g1 .cell[data-page='16']")
    assert page.evaluate("document.activeElement.id") == "p16"


def test_alternatives_and_the_staircase_stand_beside(visit, everything: Path) -> None:
    page = visit(everything).page
    rows = page.locator("table tbody tr").all_inner_texts()
    assert any("3 gatherings of 16" in row and "this book" in row for row in rows)
    assert page.locator("svg.chart text", has_text="you are here").count() == 1
    assert "45 text pages make an extent of 48, 3 left over" in page.inner_text("figcaption")


def test_titles_with_markup_are_shown_as_they_are_written(visit, everything: Path) -> None:
    page = visit(everything).page
    assert page.inner_text("h1") == "<b>every & thing.pdf"
    assert page.locator("h1 b").count() == 0


CONTRASTS = """() => {
  const rgb = (text) => (text.match(/[\\d.]+/g) || [0, 0, 0, 0]).map(Number);
  const light = ([r, g, b]) => [r, g, b].map((c) => c / 255)
    .map((c) => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
    .reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour.length < 4 || colour[3] === 1) return colour;
    }
    return [255, 255, 255];
  };
  const found = [];
  for (const one of document.querySelectorAll('body *')) {
    const own = [...one.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    const seen = one.checkVisibility({ visibilityProperty: true }) && !one.closest('script');
    if (!own || !seen) continue;
    const style = getComputedStyle(one);
    const colour = rgb(one instanceof SVGElement ? style.fill : style.color);
    const [a, b] = [light(colour), light(ground(one))];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    found.push([ratio, one.tagName + '.' + (one.className.baseVal ?? one.className)]);
  }
  return found.sort((a, b) => a[0] - b[0]);
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("viewport", [WIDE, NARROW], ids=["wide", "narrow"])
def test_all_text_has_contrast(
    visit, everything: Path, scheme: str, viewport: dict[str, int]
) -> None:
    page = visit(everything, scheme, viewport).page
    page.click("#g1 summary")
    found = page.evaluate(CONTRASTS)
    page.click("#p9")
    found += page.evaluate(CONTRASTS)
    assert len(found) > 250
    least, where = min(found)
    assert least >= LEAST_CONTRAST, where


def test_nothing_is_wider_than_a_narrow_window(visit, everything: Path) -> None:
    page = visit(everything, "light", NARROW).page
    page.click("#g2 summary")
    assert page.evaluate("document.documentElement.scrollWidth") == NARROW["width"]
    first, page_3 = page.locator("#p2").bounding_box(), page.locator("#p3").bounding_box()
    assert first["width"] >= 44 and first["y"] == page_3["y"]


def test_a_wide_page_opens_within_its_half_of_the_book(visit, everything: Path) -> None:
    page = visit(everything).page
    page.click("#p31")
    verso = page.locator("dialog .verso .paper").bounding_box()
    recto = page.locator("dialog .recto .paper").bounding_box()
    window = page.locator("dialog").bounding_box()
    assert verso["x"] + verso["width"] == pytest.approx(recto["x"], abs=1.5)
    assert recto["x"] + recto["width"] < window["x"] + window["width"]
    assert recto["width"] / recto["height"] == pytest.approx(198 / 129, rel=0.02)


def test_a_screen_reader_hears_every_page_and_heading(visit, everything: Path) -> None:
    page = visit(everything).page
    tree = page.locator("body").aria_snapshot()
    assert 'button "Page 13, recto, no folio: text, furniture only. Error:' in tree
    assert 'heading "Gathering 2, pages 17–32" [level=3]' in tree
    assert 'navigation "Gathering"' in tree
    assert 'img "Extent against text pages"' in tree
    assert page.locator("button:not([aria-label])").evaluate_all(
        "all => all.every(one => one.textContent.trim())"
    )
    assert page.locator("img:not([alt])").count() == 0
    assert page.get_attribute("html", "lang") == "en"


def test_without_colours_words_and_signs_remain(visit, everything: Path) -> None:
    page = visit(everything).page
    page.emulate_media(forced_colors="active")
    page.locator("#p13").scroll_into_view_if_needed()
    assert page.is_visible("#p13 .word") and page.is_visible("#p13 svg.sign")


@pytest.mark.parametrize(("sizes", "gatherings"), [("16", 3), ("32", 2), ("64", 1), ("8", 6)])
def test_it_prints_on_a4_with_two_gatherings_on_a_page_or_better(
    visit, everything: Path, sizes: str, gatherings: int
) -> None:
    pdf = everything.with_name("<b>every & thing.pdf")
    page = visit(dummy_of(pdf, "--gathering", sizes)).page
    printed = everything.with_name(f"printed-{sizes}.pdf")
    page.pdf(path=printed, prefer_css_page_size=True)
    with pymupdf.open(printed) as document:
        sheets = [(round(one.rect.width), round(one.rect.height)) for one in document]
        holding = [one for one in document if re.search(r"pages \d+–\d+", one.get_text())]
        pictures = [
            (one["width"], one["height"]) for sheet in document for one in sheet.get_image_info()
        ]
    assert set(sheets) == {(842, 595)}
    assert len(holding) <= -(-gatherings // 2)
    thumbnails = page.locator("button.page img").evaluate_all(
        "all => all.map(one => [one.naturalWidth, one.naturalHeight])"
    )
    assert len(thumbnails) == 44
    assert Counter(map(tuple, thumbnails)) <= Counter(pictures)


def test_two_books_of_600_pages_stay_small_and_open(visit, two_books: list[Path]) -> None:
    assert sum(file.stat().st_size for file in two_books) < 15_000_000
    for file in two_books:
        page = visit(file).page
        assert page.locator("button.page").count() == 608


def test_3000_pages_have_smaller_thumbnails_and_still_respond(visit, tmp_path: Path) -> None:
    file = dummy_of(drawn(tmp_path / "long.pdf", *[text] * 3000))
    assert file.stat().st_size < 20_000_000
    page = visit(file).page
    width = page.locator("#p2 img").evaluate("one => one.naturalWidth")
    assert 90 <= width < 200
    page.focus("#p1")
    for key in ("ArrowDown", "PageDown", "End"):
        page.keyboard.press(key)
    assert page.evaluate("document.activeElement.id") == "p3008", "188 gatherings of 16"
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    assert page.is_visible("dialog")


def test_a_book_shows_its_fillers_and_marks(visit, make_latex_book) -> None:
    book: BookFolder = make_latex_book()
    assert book.fitter("build").status == 0
    done = book.fitter("dummy", "--format", "json")
    page = visit(book.folder / done.report["file"]).page
    plan = book.fitter("plan", "--format", "json").report
    for placed in plan["fillers"]:
        first = page.locator(f"#p{placed['first_page']}")
        assert f"filler {placed['id']}" in first.get_attribute("aria-label")
        assert "filler" in first.locator(".word").inner_text()
    assert page.locator(".folio").first.inner_text() == "i"
    closing = book.fitter("plan").out
    assert page.inner_text(".sentence") in " ".join(closing.split())
