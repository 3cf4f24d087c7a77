"""Sentences are read back: which phrase they were made from, and what filled its holes."""

from string import ascii_lowercase

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config.languages.measures import Manner, date_names
from config.languages.phrases import Phrases

pytestmark = pytest.mark.any_database
FRENCH = Manner(
    " ",
    ",",
    {"in": "po", "in³": "po³"},
    date_names("fr"),
)
JOINERS = {" and ": " et "}


def spoken(**phrases: str) -> Phrases:
    return Phrases(phrases, FRENCH, JOINERS)


def said(text: str, phrases: dict[str, str]) -> str:
    return Phrases(phrases, FRENCH, JOINERS).say(text)


def test_a_sentence_is_said_with_what_filled_its_holes() -> None:
    phrases = {
        "The box holds {has}; its fill is {fill}.": "La boîte contient {has} (rempli : {fill}).",
        "not recorded": "non consigné",
    }
    text = "The box holds 1,229.4 mL (14.00 in³); its fill is not recorded."
    want = "La boîte contient 1 229,4 mL (14,00 po³) (rempli : non consigné)."
    assert said(text, phrases) == want


def test_holes_may_stand_in_another_order() -> None:
    phrases = {"{n} of {n2} items": "des {n2} points, {n}"}
    assert said("3 of 12 items", phrases) == "des 12 points, 3"


def test_the_most_literal_phrase_wins() -> None:
    phrases = {
        "{what} is {state}.": "{what} est {state}.",
        "1 rough-in item is failing.": "1 point en défaut.",
    }
    assert said("1 rough-in item is failing.", phrases) == "1 point en défaut."


def test_a_count_is_filled_by_a_number_alone() -> None:
    phrases = {"{n} boxes": "{n} boîtes"}
    assert said("12 boxes", phrases) == "12 boîtes"
    assert said("some boxes", phrases) == "some boxes"


def test_what_people_typed_is_never_said_otherwise() -> None:
    phrases = {"{name}: clear it": "{name} : l'autoriser", "and": "et", "open": "ouvert"}
    assert said("open and 1,200 mm: clear it", phrases) == "open and 1,200 mm : l'autoriser"


def test_one_capitalised_word_in_a_hole_is_a_name() -> None:
    phrases = {"the light of {room} is off": "la lumière de {room} est éteinte", "Final": "Finale"}
    assert said("the light of Final is off", phrases) == "la lumière de Final est éteinte"
    assert said("Final", phrases) == "Finale"


def test_lists_and_lines_are_said_part_by_part() -> None:
    phrases = {"a sink": "un évier", "a range": "une cuisinière", "missing": "il manque"}
    assert said("missing: a sink, a range and a sink", phrases) == (
        "il manque: un évier, une cuisinière et un évier"
    )


@pytest.mark.parametrize(
    ("english", "french"),
    [
        ("1,234.5 mL", "1 234,5 mL"),
        ("12", "12"),
        ("-0.25", "-0,25"),
        ("20 A", "20 A"),
        ("1,829 mm (6 ft 0 in)", "1 829 mm (6 ft 0 po)"),
        ("3 1/2 in", "3 1/2 po"),
        ("Mon 30 Nov", "lun. 30 nov."),
        ("Fri 4 Dec 2026", "ven. 4 déc. 2026"),
        ("Monday 30 November", "lundi 30 novembre"),
        ("Tuesday 01 December, 08:00", "mardi 01 décembre, 08:00"),
        ("Pellow 30 November", "Pellow 30 November"),
        ("12-3034 2) c)", "12-3034 2) c)"),
        ("2026-11-28", "2026-11-28"),
        ("box 12", "box 12"),
    ],
)
def test_measures_and_dates_are_written_as_the_language_does(english: str, french: str) -> None:
    assert spoken().say(english) == french


def test_what_is_not_known_is_told_apart() -> None:
    phrases = Phrases({"Add {what}.": "Ajouter {what}."}, FRENCH, JOINERS)
    assert phrases.said("Add a sink.").unknown == ("a sink",)
    assert phrases.said("Add 12 mm.").unknown == ()


def test_what_somebody_typed_is_left_as_it_is() -> None:
    phrases = {"a sink": "un évier"}
    assert said("moved it and strapped it", phrases) == "moved it and strapped it"


def test_an_id_has_no_space_in_it() -> None:
    phrases = {"how high box {id} stands": "la hauteur de {id}"}
    text = "how high box R1 stands and how high box R2 stands"
    assert said(text, phrases) == "la hauteur de R1 et la hauteur de R2"


def test_of_a_list_of_names_only_the_last_joiner_is_said() -> None:
    phrases = {"{n} on {names}": "{n} sur {names}", "open": "ouvert"}
    text = "3 on open, Salt and Sons and open"
    assert said(text, phrases) == "3 sur open, Salt and Sons et open"


def test_what_comes_after_a_colon_is_a_sentence_of_its_own() -> None:
    phrases = {"drop": "chute", "run {n} m: {n2} V": "câble {n} m : {n2} V"}
    assert said("drop: run 3 m: 2 V", phrases) == "chute: câble 3 m : 2 V"


def test_space_round_a_sentence_stays() -> None:
    assert said("  a sink \n", {"a sink": "un évier"}) == "  un évier \n"


@given(st.text(st.characters(codec="utf-8"), max_size=80))
def test_any_text_comes_through_where_nothing_is_known(text: str) -> None:
    phrases = Phrases({"The {box} holds {has}.": "{has} dans {box}"}, Manner(), {})
    if not (text.strip().startswith("The ") and " holds " in text):
        assert phrases.say(text) == text


@given(
    st.lists(st.text(ascii_lowercase, min_size=1, max_size=9), min_size=2, max_size=2, unique=True)
)
def test_holes_come_out_whole(parts: list[str]) -> None:
    one, other = parts
    phrases = Phrases({"from <{a}> until <{b}>": "de [{a}] à [{b}]"}, Manner(), {})
    assert phrases.say(f"from <{one}> until <{other}>") == f"de [{one}] à [{other}]"
