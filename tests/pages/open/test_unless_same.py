"""What a page behind a link asks for anew: sent only when it differs, and never what was."""

from contextlib import suppress
from datetime import timedelta
from random import Random
from typing import Any

import pytest
from django.apps import apps
from django.db import Error, connection, transaction
from django.db.models import Field, Model, QuerySet
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from inspections.models import AreaStanding, JobStanding, Link
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.links import cover_link_make, link_withdraw, placard_make
from inspections.services.trades import trade_report
from jobs.models import Membership, Person, Role, Shop
from tests import random_rows
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.people import Shopful
from tests.sure import sure

pytestmark = pytest.mark.django_db

PART = {"HX-Request": "true"}
ROWS = {"area", "areastanding", "coverrelease", "job", "jobstanding", "link", "permit", "shop"}
READ = {"cover": {*ROWS, "tradereport"}, "placard": {*ROWS, "acceptance", "person"}}
"""The kinds of rows that each kind of link reads."""
SHOWS = {
    "cover": {"area", "areastanding", "jobstanding", "shop"},
    "placard": {"areastanding", "coverrelease", "job", "jobstanding"},
}
"""Those of which a column by itself changes what is shown while an area may be covered."""
OTHER = {
    "time_zone": "America/Halifax",
    "layers": ["tiles"],
    "holds": [{"reason": "x", "says": "Wet.", "lifted_by": "sun"}],
}
"""Of columns that hold only some values."""


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


def cover_address(shop, job) -> str:
    _, secret = cover_link_make(shop.office, job=job, for_whom="Drywall crew")
    return reverse("link", args=[secret])


def placard_address(shop, area) -> str:
    _, secret = placard_make(shop.office, area=area)
    return reverse("link", args=[secret])


@pytest.fixture
def address(shop, job) -> str:
    return cover_address(shop, job)


def ask(client, address, tag="", **headers):
    if tag:
        headers["If-None-Match"] = tag
    return client.get(address, headers=PART | headers)


def tag_of(client, address, **headers) -> str:
    return str(ask(client, address, **headers).headers["ETag"])


def test_a_part_is_sent_once_for_as_long_as_it_is_the_same(client, address) -> None:
    first = ask(client, address)
    assert first.headers["Cache-Control"] == "private, no-cache"
    assert {"HX-Request", "Cookie", "Accept-Language"} <= set(first.headers["Vary"].split(", "))
    again = ask(client, address, first.headers["ETag"])
    assert (again.status_code, again.content) == (304, b"")
    for name in ("ETag", "Cache-Control", "Vary"):
        assert again.headers[name] == first.headers[name]


def test_a_whole_page_is_kept_by_nobody_and_always_sent(client, address) -> None:
    tag = tag_of(client, address)
    page = client.get(address, headers={"If-None-Match": tag})
    assert (page.status_code, page.headers["Cache-Control"]) == (200, "no-store, private")
    assert "ETag" not in page.headers
    assert "</html>" in page.text


@pytest.mark.parametrize("kind", ["cover", "placard"])
def test_each_change_of_what_is_shown_changes_the_tag(client, shop, job, area, kind) -> None:
    """Each column of each row that is read is changed by itself, and changed back."""
    shop.release(area)
    trade_report(shop.office, job=job, trade="insulation", area=area)
    address = cover_address(shop, job) if kind == "cover" else placard_address(shop, area)
    with CaptureQueriesContext(connection) as asked:
        first = ask(client, address)
    models = models_in(asked)
    assert {model._meta.model_name for model in models} == READ[kind]
    tags, chance, shows = {first.content: first.headers["ETag"]}, Random(1), set()
    for model in models:
        for _ in range(3):
            for field in model._meta.concrete_fields:
                if field.primary_key or field.is_relation:
                    continue
                with suppress(Error), transaction.atomic():
                    rows_of(shop, model).update(**{field.attname: other_value(field, chance)})
                    answer = ask(client, address, first.headers["ETag"])
                    transaction.set_rollback(True)
                    if answer.status_code == 200:
                        shows.add(model._meta.model_name)
                        tags[answer.content] = answer.headers["ETag"]
                    elif model is not Link:  # one that is gone is told without a tag
                        assert answer.status_code == 304, field
    assert shows == SHOWS[kind]
    assert len(set(tags.values())) == len(tags) > 5
    assert ask(client, address, first.headers["ETag"]).status_code == 304


def rows_of(shop, model: type[Model]) -> QuerySet[Any]:
    return shop.own(model) if model is not Person else Person.objects.filter(id=shop.office.id)


def models_in(asked: CaptureQueriesContext) -> list[type[Model]]:
    """The models of whose tables something was read."""
    read = " ".join(query["sql"] for query in asked)
    found = [model for model in apps.get_models() if f'"{model._meta.db_table}"' in read]
    return sorted(found, key=lambda model: sure(model._meta.model_name))


def other_value(field: "Field[Any, Any]", chance: Random) -> object:
    return OTHER.get(field.name) or random_rows.value(field, chance)


def test_what_is_no_longer_so_is_never_said_to_be_the_same(client, shop, job, area) -> None:
    """Whoever wrote it, and by which way: a reader who has the tag of before gets what is now."""
    address, cover_release = cover_address(shop, job), shop.release(area)
    said: list[Any] = []

    def now(words: str) -> None:
        tag = said[-1].headers["ETag"] if said else ""
        answer = ask(client, address, tag)
        assert answer.status_code == 200
        assert words in answer.text
        said.append(answer)

    now("vapour barrier: wait")
    trade_report(shop.office, job=job, trade="insulation", area=area)
    now("vapour barrier: OK to start")
    shop.own(Shop).update(layers=["tiles"])
    now("tiles: OK to start")
    held = {"reason": "x", "says": "Wet.", "lifted_by": "sun"}
    AreaStanding.objects.filter(area=area).update(hold_count=1, released=False, holds=[held])
    now("Wet.")
    AreaStanding.objects.filter(area=area).update(hold_count=0, released=True, holds=[])
    now("OK to cover this area.")
    cover_release_withdraw(shop.office, area=cover_release.area, because="flooded")
    now("Do not cover")
    assert "OK to cover" not in said[-1].text


def test_a_tag_ends_with_the_time_for_which_it_is_so(client, shop, job, area, monkeypatch) -> None:
    address = cover_address(shop, job)
    shop.release(area)
    noon = timezone.now().replace(hour=19)  # in Edmonton
    JobStanding.objects.update(next_at=noon + timedelta(hours=2))
    clock = Clock(noon).put(monkeypatch)
    tag = tag_of(client, address)
    clock.now += timedelta(hours=1)
    assert ask(client, address, tag).status_code == 304
    clock.now += timedelta(hours=1)
    answer = ask(client, address, tag)
    assert answer.status_code == 200
    assert "may be covered" not in answer.text
    assert "NOT CHECKED" in answer.text


def test_a_tag_is_of_one_address_one_reader_and_one_language(client, shop, job, address) -> None:
    """Though each may show the very same."""
    other_shop = Shopful("Next door")
    other_job = other_shop.roughed_in(HOUSES["clean"])
    addresses = (address, f"{address}?from=mail", cover_address(shop, job))
    readers = [Client(), Client(), Client()]
    readers[1].force_login(shop.office)
    readers[2].force_login(shop.builder)
    tags = set()
    for where in (*addresses, cover_address(other_shop, other_job)):
        for reader in readers:
            for language in ("en", "fr", "es"):
                tags.add(tag_of(reader, where, **{"Accept-Language": language}))
    assert len(tags) == 4 * 3 * 3
    for tag in tags - {tag_of(client, address)}:
        assert ask(client, address, tag).status_code == 200


def test_a_link_that_was_withdrawn_is_gone_whatever_tag_is_shown(client, shop, address) -> None:
    tag = tag_of(client, address)
    link_withdraw(shop.office, link=shop.own(Link).get())
    assert ask(client, address, tag).status_code == 410


def test_each_reader_has_a_strip_of_their_own(client, shop, address) -> None:
    nobody = client.get(address).text
    assert "Sign out" not in nobody
    for person in (shop.office, shop.builder):
        client.force_login(person)
        assert str(person) in client.get(address).text
    assert reverse("people") not in client.get(address).text
    client.force_login(shop.office)
    assert reverse("people") in client.get(address).text
    Membership.objects.filter(person=shop.office).update(role=Role.CREW_MEMBER)
    assert reverse("people") not in client.get(address).text


def test_a_message_is_told_once_and_to_its_reader_alone(client, shop, job, address) -> None:
    other = Client()
    client.force_login(shop.office)
    client.post(reverse("link-make", args=[job.id]), {"for_whom": "Painters"})
    assert ask(client, address).status_code == 200
    assert "shown only once" in client.get(address).text
    assert "shown only once" not in client.get(address).text
    assert "shown only once" not in other.get(address).text


def test_a_cover_page_asks_three_things_of_the_database(client, address) -> None:
    for headers in ({}, PART):
        with CaptureQueriesContext(connection) as asked:
            client.get(address, headers=headers)
        assert len(asked) == 3, [query["sql"] for query in asked]
