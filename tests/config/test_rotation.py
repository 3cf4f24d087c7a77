"""A new SECRET_KEY: what the old one signed is good until the old one is dropped."""

from urllib.parse import urlsplit

import pytest
from django.test import Client

from config.environment import read_environment
from inspections.record.checks import check_address
from notifications.links import stop_link
from notifications.models import Channel
from notifications.services.wishes import address_add
from tests.config.test_deploy import manage

OLD, NEW = "an old key of tests alone, " * 3, "a new key of tests alone, " * 3


def signed_before(shop, house: bytes) -> tuple[Client, list[str]]:
    """Somebody who signed in, a paper and a link in a message, made under the key of the moment."""
    job = shop.roughed_in(house)
    person = Client()
    signed_in = {"login": shop.lead.username, "password": "rough-in"}
    assert person.post("/sign-in/", signed_in).status_code == 302
    given = {"person": shop.lead, "shop": shop.shop, "channel": Channel.EMAIL}
    target = address_add(shop.lead, target="lead@studbay.example", **given)
    paper = check_address(job, job.revisions.last())
    return person, [urlsplit(each).path for each in (paper, stop_link(target.id, "inspection"))]


@pytest.mark.django_db
def test_nobody_is_signed_out_until_the_old_key_is_dropped(
    shop, stranger_shop, house_bytes, settings, client
) -> None:
    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = OLD, []
    person, paths = signed_before(shop, house_bytes)
    idle, _ = signed_before(stranger_shop, house_bytes)

    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = NEW, [OLD]
    assert person.get("/").status_code == 200
    assert [client.get(path).status_code for path in paths] == [200, 200]

    settings.SECRET_KEY_FALLBACKS = []
    assert all(client.get(path).status_code in (404, 410) for path in paths)
    moved = person.get("/")
    assert moved.status_code == 200, "a session that was used under the new key is the new key's"
    out = idle.get("/")
    assert (out.status_code, out.headers["Location"]) == (302, "/sign-in/?next=/")


@pytest.mark.django_db
def test_nothing_new_is_signed_with_an_old_key(shop, house_bytes, settings, client) -> None:
    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = NEW, [OLD]
    job = shop.roughed_in(house_bytes)
    path = urlsplit(check_address(job, job.revisions.last())).path
    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = OLD, []
    assert client.get(path).status_code == 404


def test_old_keys_come_from_the_environment() -> None:
    assert read_environment({}).secret_key_fallbacks == []
    given = read_environment({"SECRET_KEY_FALLBACKS": "one-old, older"})
    assert given.secret_key_fallbacks == ["one-old", "older"]
    said = "from django.conf import settings as s; print(s.SECRET_KEY, s.SECRET_KEY_FALLBACKS)"
    done = manage("shell", "-v0", "-c", said, SECRET_KEY="new", SECRET_KEY_FALLBACKS="old,older")
    assert done.stdout.strip() == "new ['old', 'older']", done.stderr
