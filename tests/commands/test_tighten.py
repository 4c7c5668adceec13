"""`fitter tighten` on small LaTeX books: reported, tried, applied, taken back."""

from __future__ import annotations

import re

import pytest

from tests.conftest import BookFolder, Ran
from tests.poppler import lines_by_poppler

# Set in ten-point type to 300pt the first can lose its last line of one word, the second cannot.
TIGHT = (
    "The ferry went over at six and came back at seven, and nobody in the village could say who "
    "had been on it. The boat carried letters which were never sent, because the postmaster "
    "counted them twice before he wrote anything down. Under a low ceiling of smoke the lantern "
    "swung, and the river went by the harbour wall without a word about the morning. They were "
    "told that it would end, and it ended."
)
LOOSE = TIGHT[:-1] + ", as the bell of the old harbour had said it would."
BEGIN = r"""\documentclass[openany]{book}
\usepackage{fitter}
\textwidth 300pt
\textheight 20\baselineskip
\advance\textheight\topskip
"""
SETTINGS = """settings:
  leading: {values: [1.0, 0.98, 0.96], default: 1.0, dislike: 2}
  text-height: {values: [0, 1, 2, 3], unit: lines, dislike: 1}
"""


def make(
    folder: BookFolder, *chapters: tuple[str, str, int], more: str = "", yaml: str = ""
) -> None:
    """Write a book of chapters, each a title and so many times one paragraph."""
    parts = [
        f"\\chapter{{{title}}}\n" + "\n\n".join([words] * number)
        for title, words, number in chapters
    ]
    text = "\n\n".join(parts)
    folder.write("book.tex", f"{BEGIN}{more}\\begin{{document}}\n{text}\n\\end{{document}}\n")
    folder.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\noutput: build/book.pdf\nbinding: {gathering: 4}\n"
        + yaml,
    )
    folder.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..3}\n")


def tighten(folder: BookFolder, *arguments: str) -> Ran:
    return folder.fitter("tighten", "--format", "json", *arguments)


@pytest.fixture
def over_by_one(book_folder: BookFolder) -> BookFolder:
    """Nine pages where eight would do; the first chapter is seven lines over, and eight can go."""
    make(book_folder, ("The Ferry", TIGHT, 8), ("The Wall", LOOSE, 6), ("The Bell", LOOSE, 3))
    return book_folder


def pages(folder: BookFolder) -> int:
    assert folder.fitter("build").status == 0
    return len(lines_by_poppler(folder.folder / "build/book.pdf"))


def test_what_is_over_and_where_pages_can_be_won(over_by_one: BookFolder) -> None:
    report = tighten(over_by_one).report
    assert (report["text_pages"], report["extent"], report["aim"]) == (9, 12, 8)
    assert report["gatherings"][0] == {"gathering": 4, "over": 1, "short": 3}
    ferry = next(each for each in report["chapters"] if each["title"] == "The Ferry")
    assert (ferry["file"], ferry["line"], ferry["lines_over"], ferry["wins"]) == (
        "book.tex", 7, 7, 1,
    )  # fmt: skip
    assert ferry["proved"]
    assert {each["line"] for each in report["short_last_lines"]} == set(range(10, 24, 2))


def test_the_lines_on_last_pages_are_those_that_poppler_counts(over_by_one: BookFolder) -> None:
    report = tighten(over_by_one).report
    over_by_one.fitter("build")
    read = lines_by_poppler(over_by_one.folder / "build/book.pdf")
    assert len(report["chapters"]) == 3
    for chapter in report["chapters"]:
        running_head = 1
        counted = len(read[chapter["last_page"] - 1]) - running_head
        assert chapter["lines_on_last_page"] == counted, chapter["title"]


def test_paragraphs_a_line_shorter_save_the_gathering_and_are_taken_back(
    over_by_one: BookFolder,
) -> None:
    source = (over_by_one.folder / "book.tex").read_bytes()
    done = tighten(over_by_one, "--apply").report["paragraphs"]
    assert len(done["chosen"]) == 7, "as many as the chapter is lines over, of the eight"
    assert done["text_pages_after"] == 8
    assert done["chapters"] == [{"title": "The Ferry", "pages_before": 4, "pages_after": 3}]
    assert pages(over_by_one) == 8
    assert pages(over_by_one) == 8, "the choice stays at the next build"
    assert over_by_one.fitter("tighten", "--take-back").status == 0
    assert pages(over_by_one) == 12
    assert (over_by_one.folder / "book.tex").read_bytes() == source


def test_an_edited_paragraph_is_left_as_it_is_and_told(over_by_one: BookFolder) -> None:
    tighten(over_by_one, "--apply")
    book = over_by_one.folder / "book.tex"
    book.write_text(book.read_text().replace(TIGHT, "It never came. " + TIGHT))
    built = over_by_one.fitter("build")
    assert built.status == 0
    assert "reads otherwise now: left as it is" in built.err
    assert "fitterShorter" not in (over_by_one.folder / "book-inserts.tex").read_text()


def test_where_no_paragraph_can_go_the_pages_of_a_chapter_run_longer(
    book_folder: BookFolder,
) -> None:
    make(book_folder, ("The Ferry", LOOSE, 7), ("The Wall", LOOSE, 6), ("The Bell", LOOSE, 3))
    plain = tighten(book_folder, "--apply")
    assert plain.status == 1
    assert plain.report["paragraphs"]["text_pages_after"] is None
    done = tighten(book_folder, "--apply", "--long-pages")
    assert done.status == 0
    before, after = plain.report["text_pages"], done.report["paragraphs"]["text_pages_after"]
    assert done.report["paragraphs"]["longer_pages"]
    assert (before, after, pages(book_folder)) == (9, 8, 8)


@pytest.fixture
def with_settings(book_folder: BookFolder) -> BookFolder:
    height = "\\advance\\textheight\\bookset{text-height}\\baselineskip"
    use = f"\\linespread{{\\bookset{{leading}}}}\n{height}\n"
    make(
        book_folder,
        ("The Ferry", LOOSE, 8), ("The Wall", LOOSE, 6), ("The Bell", LOOSE, 3),
        more=use, yaml=SETTINGS,
    )  # fmt: skip
    return book_folder


def test_the_least_disliked_settings_that_reach_are_found_and_applied(
    with_settings: BookFolder,
) -> None:
    found = tighten(with_settings, "--try", "--apply")
    assert found.status == 0
    best = found.report["settings"]["winners"][0]
    assert pages(with_settings) == 8
    inserts = (with_settings.folder / "book-inserts.tex").read_text()
    for name, value in best["values"].items():
        assert f"\\fitterSetting{{{name}}}{{{value}}}" in inserts
    assert every_dislike(with_settings)[tuple(sorted(best["values"].items()))] == best["dislike"]
    assert best["dislike"] == min(every_dislike(with_settings).values())


def every_dislike(folder: BookFolder) -> dict[tuple[tuple[str, str], ...], float]:
    """All combinations that reach eight pages, each set and built by hand."""
    reached = {}
    for i, leading in enumerate(("1.0", "0.98", "0.96")):
        for j, height in enumerate(("0", "1", "2", "3")):
            folder.write(
                "book-inserts.tex",
                f"% Written by fitter\n\\fitterSetting{{leading}}{{{leading}}}\n"
                f"\\fitterSetting{{text-height}}{{{height}}}\n",
            )
            if pages(folder) == 8:
                values = {"leading": leading if i else "", "text-height": height if j else ""}
                chosen = tuple(sorted((name, value) for name, value in values.items() if value))
                reached[chosen] = 2.0 * i + j
    return reached


def test_a_setting_the_source_never_uses_is_told(book_folder: BookFolder) -> None:
    make(book_folder, ("The Ferry", LOOSE, 8), yaml=SETTINGS)
    found = tighten(book_folder, "--try", "--extent", "4")
    assert found.report["settings"]["unused"] == ["leading", "text-height"]
    assert "Does the source use \\bookset{leading}?" in found.err


def test_a_value_at_which_the_build_fails_is_left_out_with_the_reason(
    with_settings: BookFolder,
) -> None:
    stop = "\\ifdim\\bookset{leading}pt<0.97pt \\undefinedcommand\\fi\n"
    book = with_settings.folder / "book.tex"
    book.write_text(book.read_text().replace("\\begin{document}", stop + "\\begin{document}"))
    found = tighten(with_settings, "--try", "--extent", "4")
    failed = found.report["settings"]["failed"]
    assert [each["settings"] for each in failed] == ["leading 0.96"]
    assert "Undefined control sequence" in failed[0]["reason"]


def test_a_target_out_of_reach_ends_with_the_nearest(with_settings: BookFolder) -> None:
    found = tighten(with_settings, "--try", "--extent", "4")
    assert found.status == 1
    nearest = found.report["settings"]["nearest"]
    assert nearest["text_pages"] < found.report["text_pages"]
    told = with_settings.fitter("tighten", "--try", "--extent", "4").out
    assert "No settings bring the book to 4 pages." in told
    values = ", ".join(f"{name} {value}" for name, value in nearest["values"].items())
    assert f"The nearest: {values} lines, {nearest['text_pages']} text pages" in told


def test_an_extent_that_does_not_fold_is_refused(over_by_one: BookFolder) -> None:
    refused = tighten(over_by_one, "--extent", "7")
    assert refused.status == 2
    assert "makes no book of 7 pages. The nearest are 8 and 4" in refused.err or (
        "The nearest are 4 and 8" in refused.err
    )


def test_a_book_too_long_for_its_printer_is_brought_within_the_limit(
    over_by_one: BookFolder,
) -> None:
    over_by_one.write("printer.yaml", "gatherings: [4]\npages: 4..8\n")
    settings = (over_by_one.folder / "book.yaml").read_text()
    over_by_one.write("book.yaml", settings + "printer: printer.yaml\n")
    refused = over_by_one.fitter("build")
    assert (refused.status, "this printer binds at most 8" in refused.err) == (1, True)
    done = tighten(over_by_one, "--apply", "--extent", "8")
    assert (done.status, done.report["paragraphs"]["text_pages_after"]) == (0, 8)
    assert pages(over_by_one) == 8


def test_the_edit_list_of_a_chapter_is_checked_in_a_copy(over_by_one: BookFolder) -> None:
    source = (over_by_one.folder / "book.tex").read_bytes()
    edits = tighten(over_by_one, "--chapter", "The Bell").report["edits"]
    assert [each["line"] for each in edits["edits"]] == [38, 40, 42]
    assert all(each["holds"] for each in edits["checked"])
    assert {"cut", "add"} == {key for each in edits["checked"] for key in each} & {"cut", "add"}
    assert (over_by_one.folder / "book.tex").read_bytes() == source


def test_a_chapter_that_is_not_there_is_told_with_those_that_are(over_by_one: BookFolder) -> None:
    refused = tighten(over_by_one, "--chapter", "The Storm")
    assert refused.status == 2
    assert "1 The Ferry" in refused.err


def test_a_book_without_chapters_has_its_paragraphs(book_folder: BookFolder) -> None:
    make(book_folder, ("The Ferry", TIGHT, 8))
    source = (book_folder.folder / "book.tex").read_text()
    article = source.replace("{book}", "{article}").replace(r"\chapter{", r"\section{")
    assert article != source
    book_folder.write("book.tex", article)
    found = tighten(book_folder)
    assert found.status in {0, 1}, found.err
    assert (found.report["chapters"], len(found.report["short_last_lines"])) == ([], 7)
    assert "The book has no chapters" in book_folder.fitter("tighten", "--quick").out
    refused = tighten(book_folder, "--chapter", "1")
    assert (refused.status, "the book has no chapters" in refused.err) == (2, True)


def test_what_must_be_added_counts_and_is_told(book_folder: BookFolder) -> None:
    make(book_folder, ("The Ferry", TIGHT, 8))
    book_folder.write(
        "fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1, required: true}\n"
    )
    found = tighten(book_folder, "--quick").report
    assert found["added"] == 1
    assert found["gatherings"][0]["over"] == (found["text_pages"] + 1) % 4
    told = book_folder.fitter("tighten", "--quick").out
    assert f"{found['text_pages']} text pages and 1 that must be added, " in told


def test_what_cannot_be_done_is_not_said_to_be_done(book_folder: BookFolder) -> None:
    make(book_folder, ("The Ferry", TIGHT, 8))
    assert book_folder.fitter("build").status == 0
    inserts = (book_folder.folder / "book-inserts.tex").read_bytes()
    assert "nothing to take back" in book_folder.fitter("tighten", "--take-back").err
    assert (book_folder.folder / "book-inserts.tex").read_bytes() == inserts
    refused = book_folder.fitter("tighten", "--try")
    assert (refused.status, refused.out) == (2, "")
    assert "book.yaml: --try tries the 'settings' of this file, and it has none" in refused.err


def test_a_long_path_keeps_its_end(book_folder: BookFolder) -> None:
    make(book_folder, ("The Ferry", TIGHT, 8))
    text = (book_folder.folder / "book.tex").read_text()
    begin, rest = text.split("\\begin{document}\n")
    name = "chapters/the-ferry-that-crossed-the-wide-river-at-night"
    book_folder.write(f"{name}.tex", rest.replace("\\end{document}\n", ""))
    book_folder.write(
        "book.tex", f"{begin}\\begin{{document}}\n\\input{{{name}}}\n\\end{{document}}\n"
    )
    lines = book_folder.fitter("tighten", "--quick").out.splitlines()
    assert any(re.search(r"…\S+-river-at-night\.tex:\d+$", line.rstrip()) for line in lines)
    assert all(len(line) <= 80 for line in lines)


def test_a_book_that_fits_is_told_so_and_a_source_that_fails_ends_with_3(
    book_folder: BookFolder,
) -> None:
    make(book_folder, ("The Ferry", LOOSE, 8))
    assert tighten(book_folder).status == 0
    make(book_folder, ("The Ferry", LOOSE, 8), more="\\nosuch\n")
    failed = tighten(book_folder)
    assert failed.status == 3
    assert "book.tex:6: Undefined control sequence" in failed.err
