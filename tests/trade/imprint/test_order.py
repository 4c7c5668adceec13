from __future__ import annotations

from dataclasses import replace

import pytest

from fitter.trade.imprint.order import KINDS, ORDERS, Imprint, history, lines_in_order
from fitter.trade.printing.printings import Printing

BOOK = Imprint(
    year=2026,
    holder="Elin Tarrowby",
    edition="First edition",
    isbn="978-1-234-56789-7",
    key="1 2 3 4 5",
    said={
        "publisher": ("Wetherlode Press, 4 Ropewalk, Ansey",),
        "rights": ("All rights reserved.",),
        "printed": ("Printed in Ruritania",),
        "doi": ("https://doi.org/10.99999/ansey",),
        "cataloguing": ("A record of this book lies in the library of Ansey.",),
        "paper": ("This paper meets the requirements of ANSI/NISO Z39.48-1992.",),
        "credits": ("Cover: the tar house",),
        "disclaimer": ("The people in this book are invented.",),
    },
    record=(Printing(1, 2026),),
)


def kinds(order: str) -> list[str]:
    return [kind for kind, _ in lines_in_order(BOOK, ORDERS[order])]


def test_the_american_order() -> None:
    """Source: The Chicago Manual of Style, 17th ed., copyright page: publisher addresses; ©
    year; rights; edition history; Printed in; impression line; ISBN; DOI; cataloguing block."""
    wanted = [
        "publisher",
        "copyright",
        "rights",
        "history",
        "printed",
        "key",
        "isbn",
        "doi",
        "cataloguing",
    ]
    assert kinds("american")[:9] == wanted


def test_the_european_order() -> None:
    """Source: European Union, Interinstitutional Style Guide, 5.3.1 (7 Mar 2011): disclaimer;
    cataloguing note; place, publisher and year; identifiers; copyright; "Printed in"; paper;
    picture credits: "in this order"."""
    wanted = [
        "disclaimer",
        "cataloguing",
        "publisher",
        "isbn",
        "doi",
        "copyright",
        "printed",
        "paper",
        "credits",
    ]
    assert [kind for kind in kinds("european") if kind in wanted] == wanted


def test_the_year_of_publication_is_kept_apart_from_that_of_copyright() -> None:
    """Source: European Union, Interinstitutional Style Guide, 5.3.1, NB: "in order to distinguish
    it clearly from the year of copyright"."""
    later = replace(BOOK, year=2024, record=(Printing(1, 2026),), dated=True)
    said = dict(lines_in_order(later, ORDERS["european"]))
    assert said["publisher"] == ("Wetherlode Press, 4 Ropewalk, Ansey, 2026",)
    assert said["copyright"] == ("© 2024 Elin Tarrowby",)


def test_the_isbn_is_preceded_by_the_word_and_hyphenated() -> None:
    """Source: U.S. ISBN Agency, "major" page: "it must be preceded by the letters "ISBN" and each
    part must be separated by a hyphen"."""
    assert dict(lines_in_order(BOOK, ["isbn"])) == {"isbn": ("ISBN 978-1-234-56789-7",)}


def test_a_paper_statement_stands_as_it_is_typed() -> None:
    """Source: ANSI/NISO Z39.48-1992 (R2002), its own imprint: "This paper meets the requirements
    of ANSI/NISO Z39.48-1992 (Permanence of Paper)."; the long form in liquisearch's copy of
    Wikipedia, "Acid-free paper"."""
    for statement in (
        "This paper meets the requirements of ANSI/NISO Z39.48-1992 (Permanence of Paper).",
        "meets the minimum requirements of the American National Standards Institute for "
        "Information Sciences — Permanence of Paper for Printed Library Materials",
    ):
        book = replace(BOOK, said={"paper": (statement,)})
        assert dict(lines_in_order(book, ORDERS["american"]))["paper"] == (statement,)


def test_every_line_is_optional() -> None:
    assert lines_in_order(Imprint(), ORDERS["american"]) == ()
    assert lines_in_order(Imprint(key="1 2 3"), ORDERS["american"]) == (("key", ("1 2 3",)),)


def test_both_orders_have_every_kind() -> None:
    assert set(ORDERS["european"]) == set(ORDERS["american"]) == KINDS


def test_the_required_elements_have_a_kind() -> None:
    """Source: U.S. GPO Style Manual 2008, rule 2.2: among them date, availability and ISBN (title,
    department and author stand on the title page)."""
    assert {"publisher", "history", "isbn"} <= KINDS


def test_the_history_of_a_first_printing() -> None:
    """Source: The Chicago Manual of Style, 17th ed., copyright page: "Seventeenth edition 2017"."""
    assert history(BOOK) == ("First edition 2026",)
    assert history(replace(BOOK, edition="")) == ("First published 2026",)
    assert history(replace(BOOK, record=())) == ("First edition 2026",)
    assert history(Imprint()) == ()


@pytest.mark.parametrize(
    ("language", "line"),
    [
        ("en-GB", "Second printing 2028"),
        ("de", "2. Druck 2028"),
        ("fr", "2e tirage 2028"),
        ("es", "2.ª impresión 2028"),
        ("eo", "Second printing 2028"),
    ],
)
def test_later_printings_in_the_book_s_language(language: str, line: str) -> None:
    """The wording is common practice, no source."""
    book = replace(BOOK, language=language, record=(Printing(1, 2026), Printing(2, 2028)))
    assert history(book) == ("First edition 2026", line)


def test_the_wording_may_be_the_book_s_own() -> None:
    wording = {"published": "Aperis en {year}", "printing": "{n}-a presado, {year}"}
    book = replace(BOOK, edition="", wording=wording, record=(Printing(1, 2026), Printing(2, 2028)))
    assert history(book) == ("Aperis en 2026", "2-a presado, 2028")


def test_ordinals() -> None:
    record = tuple(Printing(n, 2026) for n in range(1, 114))
    lines = history(replace(BOOK, record=record))
    assert lines[2] == "Third printing 2026"
    assert [lines[n - 1].split()[0] for n in (11, 12, 21, 22, 23, 111, 113)] == [
        *("11th", "12th", "21st", "22nd", "23rd", "111th", "113th")
    ]


def test_the_house_rule_takes_its_words_off_everywhere() -> None:
    """Source: C. Stark, BookThink 91, answer 1: "the statement is still removed on the second
    printing"."""
    book = replace(BOOK, key_words="First Edition")
    assert history(book) == ("First edition 2026",)
    later = replace(book, record=(Printing(1, 2026), Printing(2, 2028)))
    assert history(later) == ("First published 2026", "Second printing 2028")
