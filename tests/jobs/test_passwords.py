"""Which passwords are refused, and that nothing else is asked of one.

OWASP ASVS 5.0.0, V6.2; NIST SP 800-63B, 3.1.1.2.
"""

from itertools import pairwise

import pytest
from django.conf import settings
from django.contrib.auth.hashers import (
    ScryptPasswordHasher,
    check_password,
    get_hasher,
    make_password,
)
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from jobs.models import Person
from jobs.passwords import BREACHED, WIDTH, WORDS

SITES_OWN = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
GOOD = "tulip kettle ninety-two"


def codes(password: str, person: Person | None = None) -> set[str | None]:
    try:
        validate_password(password, person)
    except ValidationError as refused:
        return {each.code for each in refused.error_list}
    return set()


@pytest.mark.parametrize("known", ["123qweasdzxc", "1QAZ2wsx3edc", "qwertyqwerty", "leavemealone"])
def test_one_from_a_breach_is_refused_whatever_its_case(known: str) -> None:
    assert "password_breached" in codes(known)


def test_fewer_than_twelve_characters_are_refused() -> None:
    assert codes("tulipkettle") == {"password_too_short"}
    assert codes("tulipkettle9") == set()


def test_there_are_more_than_the_3000_that_are_asked_for_and_each_is_found() -> None:
    kept = BREACHED.read_bytes()
    rows = [kept[start : start + WIDTH] for start in range(0, len(kept), WIDTH)]
    assert len(rows) > 40_000
    assert all(one < next_one for one, next_one in pairwise(rows))


@pytest.mark.parametrize("word", ["Studbay2026!", "electrician1234", "roughin-roughin"])
def test_a_word_of_the_place_with_little_else_is_refused(word: str) -> None:
    assert codes(word) == {"password_of_this_place"}


@pytest.mark.django_db
def test_so_is_a_name_of_the_person_or_their_shop(shop) -> None:
    shop.shop.name = "Fernhollow Wiring"
    shop.shop.save()
    person = shop.lead
    person.first_name, person.last_name = "Marigold", "Tanglewood"
    person.save()
    for password in ("Fernhollow12", "marigold2026", "TanglewoodX1"):
        assert codes(password, person) == {"password_of_this_place"}
    assert codes(f"{GOOD} Marigold", person) == set()


def test_nothing_else_is_asked_of_one() -> None:
    for password in (GOOD, "a" * 13 + "bcdef", "лошадь скрепка батарея", "x7" + "ä🙂" * 31 + " y"):
        assert codes(password) == set()
    long = "words of my own " * 8
    assert codes(long) == set()
    assert check_password(long, make_password(long))
    assert not check_password(long[:72], make_password(long))
    assert not check_password(long.upper(), make_password(long))


@pytest.mark.django_db
def test_passwords_are_kept_by_scrypt_and_older_ones_renewed(shop, settings) -> None:
    """OWASP ASVS 5.0.0, 11.4.2; parameters after the OWASP password storage cheat sheet."""
    settings.PASSWORD_HASHERS = SITES_OWN  # tests have a fast one
    assert make_password(GOOD).startswith("scrypt$")
    hasher = get_hasher("default")
    assert isinstance(hasher, ScryptPasswordHasher)
    assert hasher.work_factor * hasher.block_size * hasher.parallelism >= 2**14 * 8 * 5
    person = shop.lead
    person.password = make_password(GOOD, hasher="pbkdf2_sha256")
    assert person.check_password(GOOD)
    assert person.password.startswith("scrypt$")


def test_those_are_the_sites_own() -> None:
    text = (settings.ROOT / "config" / "settings.py").read_text("utf-8")
    assert all(f'"{name}"' in text for name in SITES_OWN)


def test_the_documentation_lists_each_word() -> None:
    text = (settings.ROOT / "docs" / "security.md").read_text("utf-8")
    assert [word for word in WORDS if f"`{word}`" not in text] == []
