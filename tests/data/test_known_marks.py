import pytest

from fitter.data.known_marks import known_marks, mark_in
from fitter.package import data_file

# One wording for each language; sources stand in marks.yaml.
WORDINGS = {
    "English": "This page is intentionally left blank.",
    "German": "Diese Seite wurde absichtlich leer gelassen.",
    "French": "Cette page a été volontairement laissée vide.",
    "Spanish": "Esta página ha sido expresamente dejada en blanco.",
    "Italian": "Questa pagina è stata lasciata intenzionalmente vuota.",
    "Portuguese": "Esta página foi intencionalmente deixada em branco.",
    "Dutch": "Deze bladzijde werd met opzet blanco gelaten.",
    "Polish": "Ta strona została celowo pozostawiona pusta.",
    "Czech": "Tato stránka byla záměrně ponechána prázdná.",
    "Swedish": "Denna sida har avsiktligen lämnats blank.",
    "Japanese": "このページは白紙です。",
    "Chinese": "本页有意留空",
    "examination paper": "NO QUESTIONS PRINTED ON THIS PAGE",
    "examination paper, stop": "STOP. Do not turn the page until you are told to do so.",
}


@pytest.mark.parametrize("wording", WORDINGS.values(), ids=WORDINGS.keys())
def test_a_wording_in_each_language(wording: str) -> None:
    assert known_marks().recognises(wording)
    assert known_marks().recognises(wording.upper())


def test_the_book_has_a_mark_of_its_own() -> None:
    assert not known_marks().recognises("For your thoughts")
    assert known_marks(["For your thoughts"]).recognises("for your\nthoughts")


def test_every_phrase_has_its_source_beside_it() -> None:
    lines = data_file("marks.yaml").read_text("utf-8").splitlines()
    phrases = [line for line in lines if line.lstrip().startswith("- ")]
    assert len(phrases) > 300
    assert all("  # " in line for line in phrases)


@pytest.mark.parametrize(
    ("language", "mark"),
    [
        ("de", "Diese Seite wurde absichtlich leer gelassen."),
        ("pt-BR", "Esta página foi intencionalmente deixada em branco."),
        ("ja", "This page is intentionally left blank."),
        ("eo", "This page is intentionally left blank."),
    ],
)
def test_a_new_book_gets_a_mark_in_its_language(language: str, mark: str) -> None:
    assert mark_in(language) == mark
    assert known_marks().recognises(mark_in(language))
