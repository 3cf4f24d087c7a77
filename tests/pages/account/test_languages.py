"""Every page in French and Spanish: nothing of it is left in English but what people typed."""

import re
from html.parser import HTMLParser

import pytest
from django.urls import reverse

from jobs.services.authorities import authority_templates
from jobs.services.people import language_set
from tests.browser.test_pages import of_office
from tests.lived import lived_in

pytestmark = [pytest.mark.django_db]
SPOKEN = ("title", "alt", "placeholder", "aria-label")
SILENT = ("script", "style", "svg")
ENGLISH = re.compile(
    r"\b(the|of|is|are|and|or|not|no|to|by|in|on|at|with|from|for|nobody|every|each|has|have|was|it"
    r"|this|what|who|when|where|which|than|than|box|receptacle|room|wall|add|record|date|open)\b",
    re.IGNORECASE,
)
"""Words that hardly a sentence of ours does without, and that French and Spanish do not have."""
TYPED = ("Pat at Pellow", "no plate at the top", "by-law 12", "box-fill")
ALIKE = {"date", "in", "no"}
"""Words that French or Spanish have too; and a unit."""


class Words(HTMLParser):
    """The words of a page, with those of its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in SILENT:
            self.within.append(tag)
        self.found += [value for name, value in attrs if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        if self.within and self.within[-1] == tag:
            self.within.pop()

    def handle_data(self, data: str) -> None:
        words = " ".join(data.split())
        if words and not self.within:
            self.found.append(words)


def words_of(client, path: str, language: str) -> list[str]:
    answer = client.get(path, headers={"Accept-Language": language})
    assert answer.headers["Content-Language"] == language, path
    words = Words()
    words.feed(answer.content.decode())
    return words.found


@pytest.fixture
def lived(shop, house_bytes):
    """A shop in the middle of things."""
    return lived_in(shop, house_bytes)


def typed(house: bytes) -> list[str]:
    """What people named: of the house, and where the figures of authorities were read."""
    named = re.findall(r'"name": ?"([^"]+)"', house.decode())
    sources = [template["source"] for template in authority_templates().values()]
    return sorted({*named, *sources, *TYPED}, key=len, reverse=True)


def left_in_english(client, names: list[str], paths: dict[str, str], language: str) -> set[str]:
    """What a page says in both languages alike, and is English."""
    left = set()
    for page, path in paths.items():
        english = set(words_of(client, path, "en"))
        for words in words_of(client, path, language):
            bare = words
            for name in names:
                bare = bare.replace(name, "")
            if words in english and words not in ALIKE and ENGLISH.search(bare):
                left.add(f"{page}: {words}")
    return left


@pytest.mark.parametrize("language", ["fr", "es"])
def test_every_page_is_said_in_it(client, shop, lived, house_bytes, language) -> None:
    names = typed(house_bytes)
    outside = {"sign-in": "/sign-in/", "join": f"/join/{lived['join']}"}
    outside |= {"link-cover": f"/l/{lived['cover']}"}
    left = left_in_english(client, names, outside, language)
    client.force_login(shop.office)
    left |= left_in_english(client, names, of_office(lived), language)
    client.force_login(shop.lead)
    crew = shop.shop.crews.get(lead=shop.lead)
    site = {"lead-job": f"/jobs/{lived['job'].id}/", "walks": "/walk/"}
    site |= {"walk": f"/walk/{lived['job'].id}/"}
    left |= left_in_english(
        client, names, site | {"day": reverse("crew-day", args=[crew.id])}, language
    )
    client.force_login(shop.builder)
    left |= left_in_english(client, names, {"cover": f"/jobs/{lived['job'].id}/"}, language)
    assert not left, "\n".join(sorted(left))


def test_a_choice_is_kept_for_a_person_and_for_a_browser(client, shop) -> None:
    client.force_login(shop.office)
    answer = client.post("/language/", {"language": "fr", "next": "/people/"})
    assert answer.url == "/people/"
    shop.office.refresh_from_db()
    assert shop.office.language == "fr"
    client.post("/sign-out/")
    assert client.get("/sign-in/").headers["Content-Language"] == "fr"


def test_a_person_keeps_a_language_on_any_browser(client, shop) -> None:
    language_set(shop.office, language="es")
    client.force_login(shop.office)
    assert client.get("/people/").headers["Content-Language"] == "es"


def test_an_unknown_language_changes_nothing_and_nobody_is_sent_elsewhere(client, shop) -> None:
    client.force_login(shop.office)
    answer = client.post("/language/", {"language": "xx", "next": "https://elsewhere.example/"})
    assert answer.url == "/"
    shop.office.refresh_from_db()
    assert shop.office.language == ""
    assert "studbay_language" not in answer.cookies


def test_programs_read_english_whatever_their_machine_prefers(client, shop) -> None:
    client.force_login(shop.office)
    language_set(shop.office, language="fr")
    answer = client.get("/api/nothing", headers={"Accept-Language": "fr"})
    assert answer.json()["detail"].startswith("There is nothing here")
