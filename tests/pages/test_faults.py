"""The pages that say what went wrong, and the ways that each reader is offered."""

import pytest
from django.test import Client

pytestmark = pytest.mark.django_db


def test_a_page_that_is_not_there_says_so_in_the_site_s_own_words(client, shop) -> None:
    client.force_login(shop.lead)
    answer = client.get("/nothing/")
    assert answer.status_code == 404
    assert "Page not found" in answer.text
    assert 'href="/walk/"' in answer.text


def test_a_program_is_told_so_in_its_own_form(client, shop) -> None:
    client.force_login(shop.lead)
    answer = client.get("/api/nothing")
    assert (answer.status_code, answer.json()["title"]) == (404, "Not Found")
    assert answer.headers["Content-Type"] == "application/problem+json"


def test_one_that_breaks_says_whose_fault_it_is(shop, monkeypatch) -> None:
    monkeypatch.setattr("pages.jobs.job_list.jobs_with_areas", lambda _person: 1 / 0)
    client = Client(raise_request_exception=False)
    client.force_login(shop.office)
    answer = client.get("/")
    assert answer.status_code == 500
    assert "Something went wrong on our side" in answer.text


def test_one_that_was_open_too_long_says_to_send_it_again(shop) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(shop.office)
    answer = client.post("/people/firm/", {"name": "x"})
    assert answer.status_code == 403
    assert "open too long" in answer.text
    assert not shop.shop.builders.filter(name="x").exists()


@pytest.mark.parametrize(
    ("who", "offered", "not_offered"),
    [
        ("office", ["/today/", "/figures/", "/people/", "/walk/"], []),
        ("lead", ["/walk/", "/crews/day/"], ["/today/", "/figures/", "/people/"]),
        ("builder", ["/wishes/"], ["/today/", "/walk/", "/people/"]),
    ],
)
def test_each_reader_is_offered_what_is_theirs(client, shop, who, offered, not_offered) -> None:
    client.force_login(getattr(shop, who))
    strip = client.get("/").text.partition("</nav>")[0]
    for address in offered:
        assert f'href="{address}"' in strip
        assert client.get(address).status_code == 200
    for address in not_offered:
        assert f'href="{address}"' not in strip
        assert client.get(address).status_code == 404 or address == "/walk/"
