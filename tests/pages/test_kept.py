"""Pages that are drawn once: they tell what the database says now, to whoever reads them."""

import re
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test import Client, RequestFactory
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from inspections.models import AreaStanding, JobStanding, Link
from inspections.services import clearance_withdraw, cover_link_make, link_withdraw, trade_report
from jobs.models import Membership, Role, Shop
from pages import kept
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


@pytest.fixture
def address(shop, job) -> str:
    _, secret = cover_link_make(shop.office, job=job, for_whom="Drywall crew")
    return reverse("link", args=[secret])


@pytest.fixture
def drawn(monkeypatch) -> list[str]:
    """The templates that were drawn rather than taken from what is kept."""
    names: list[str] = []
    draw = kept.render_to_string

    def told(name, *given):
        names.append(name)
        return draw(name, *given)

    monkeypatch.setattr(kept, "render_to_string", told)
    kept._drawn.cache_clear()
    return names


def bare(page: str) -> str:
    """A page without what differs at each request."""
    return re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", page)


def test_a_page_is_drawn_once_and_given_with_a_token_of_each_request(
    client, address, drawn
) -> None:
    first, second = client.get(address), client.get(address)
    assert drawn == ["open/link_cover.html"]
    assert bare(first.text) == bare(second.text)
    assert kept.TOKEN not in first.text + second.text
    strict = Client(enforce_csrf_checks=True)
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', strict.get(address).text)[1]
    secret = address.rsplit("/", 1)[-1]
    said = reverse("link-acknowledge", args=[secret])
    assert strict.post(said, {"csrfmiddlewaretoken": token}).status_code == 302
    assert strict.post(said).status_code == 403
    assert "last on" in client.get(address).text


def test_a_hold_shows_at_once_whoever_wrote_it(client, shop, area, address, drawn) -> None:
    clearance = shop.clear(area)
    for headers in ({}, {"HX-Request": "true"}):
        assert client.get(address, headers=headers).text.count("This area may be covered.") == 1
    AreaStanding.objects.filter(area=area).update(
        hold_count=1, cleared=False, holds=[{"reason": "x", "says": "Wet.", "lifted_by": "sun"}]
    )
    for headers in ({}, {"HX-Request": "true"}):
        text = client.get(address, headers=headers).text
        assert "may be covered" not in text
        assert "Wet." in text
    clearance_withdraw(shop.office, area=clearance.area, because="flooded")
    assert "may be covered" not in client.get(address).text


def test_what_is_reported_or_set_shows_at_once(client, shop, job, area, address) -> None:
    shop.clear(area)
    assert "vapour barrier: wait" in client.get(address).text
    trade_report(shop.office, job=job, trade="insulation", area=area)
    assert "vapour barrier: may start" in client.get(address).text
    shop.own(Shop).update(layers=["tiles"])
    text = client.get(address).text
    assert "tiles: may start" in text
    assert "vapour barrier" not in text


def test_each_reader_has_a_strip_of_their_own(client, shop, address, drawn) -> None:
    nobody = client.get(address).text
    assert "Sign out" not in nobody
    seen = {}
    for person in (shop.office, shop.builder):
        client.force_login(person)
        seen[person] = client.get(address).text
        assert str(person) in seen[person]
    assert reverse("people") in seen[shop.office]
    assert reverse("people") not in seen[shop.builder]
    client.force_login(shop.office)
    Membership.objects.filter(person=shop.office).update(role=Role.CREW_MEMBER)
    assert reverse("people") not in client.get(address).text
    client.logout()
    assert bare(client.get(address).text) == bare(nobody)
    assert len(drawn) == 4


def test_a_message_is_told_once_and_to_its_reader_alone(client, shop, job, address) -> None:
    other = Client()
    client.force_login(shop.office)
    client.post(reverse("link-make", args=[job.id]), {"for_whom": "Painters"})
    assert "shown this once" in client.get(address).text
    assert "shown this once" not in client.get(address).text
    assert "shown this once" not in other.get(address).text


def test_each_language_and_each_address_is_drawn_by_itself(client, address, drawn) -> None:
    for language, words in (("fr", '<html lang="fr">'), ("en", '<html lang="en">')) * 2:
        assert words in client.get(address, headers={"Accept-Language": language}).text
    assert len(drawn) == 2
    spanish = {"Accept-Language": "es"}
    assert "from=mail" in client.get(address, {"from": "mail"}, headers=spanish).text
    assert "from=mail" not in client.get(address, headers=spanish).text


def test_a_page_of_yesterday_is_drawn_anew(client, address, drawn, monkeypatch) -> None:
    client.get(address)
    monkeypatch.setattr(kept, "today_at", lambda *_: date(2026, 3, 2))
    client.get(address)
    client.get(address)
    assert drawn == ["open/link_cover.html"] * 2


def test_a_page_is_kept_no_longer_than_what_it_tells_is_so(
    client, shop, area, address, drawn, monkeypatch
) -> None:
    shop.clear(area)
    noon = timezone.now().replace(hour=19)  # in Edmonton
    JobStanding.objects.update(next_at=noon + timedelta(hours=2))
    clock = Clock(noon).put(monkeypatch)
    assert "This area may be covered." in client.get(address).text
    clock.now += timedelta(hours=1)
    assert "This area may be covered." in client.get(address).text
    assert len(drawn) == 1
    clock.now += timedelta(hours=1)
    text = client.get(address).text
    assert "may be covered" not in text
    assert "NOT CHECKED" in text


def test_a_kept_page_opens_no_longer_than_its_link(client, shop, address) -> None:
    assert client.get(address).status_code == 200
    link = shop.own(Link).get()
    link_withdraw(shop.office, link=link)
    assert client.get(address).status_code == 410


def test_a_cover_page_asks_three_things_of_the_database(client, address) -> None:
    for headers in ({}, {"HX-Request": "true"}):
        client.get(address, headers=headers)
        with CaptureQueriesContext(connection) as asked:
            client.get(address, headers=headers)
        assert len(asked) == 3, [query["sql"] for query in asked]


def test_drawing_may_not_ask_for_what_was_not_compared(shop, job, rf: RequestFactory) -> None:
    request = rf.get("/")
    context = {"covers": job.areas.all()}
    with pytest.raises(kept.AskedMore, match="jobs_area"):
        kept.render_kept(request, job, "jobs/parts/covers.html", "", lambda: context, strip=False)
