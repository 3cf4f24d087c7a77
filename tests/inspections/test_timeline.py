"""The history of an area reads as it happened, and tells of no other area."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse

from config.languages import say
from inspections.models import Answer
from inspections.overview.timeline import area_timeline
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.deficiencies import deficiency_correct
from inspections.services.houses import house_record
from inspections.services.trades import trade_report
from tests.clock import Clock
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db
BEGIN = datetime(2026, 3, 2, 9, tzinfo=ZoneInfo("America/Edmonton"))


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(BEGIN).put(monkeypatch)


def lived(shop, clock):
    """An area that was failed, corrected, released, changed and taken back."""
    shop.shop.trades = ["plumbing"]
    shop.shop.save()
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    west = job.areas.select_related("job__shop", "job__authority").get(code="west")

    def later() -> None:
        clock.now += timedelta(hours=1)

    later()
    shop.look_at(area)
    later()
    trade_report(shop.office, job=job, trade="plumbing")
    later()
    shop.accept(area, Answer.NOT_ACCEPTED, "R1", ("no plate",))
    later()
    deficiency_correct(shop.lead, deficiency=job.deficiencies.get())
    job.deficiencies.update(accepted_at=clock.now)
    later()
    shop.release(area, "R2")
    later()
    house_record(shop.lead, job=job, house=HOUSES["rerouted"], why="moved a run")
    later()
    shop.look_at(west)
    return job, area, west


def test_a_life_in_order(shop, clock) -> None:
    _, area, _ = lived(shop, clock)
    found = area_timeline(area)
    assert [each.at for each in found] == sorted(each.at for each in found)
    words = [say(each.what, "en") for each in found]
    told = [
        "House recorded, revision 1.",
        " OK on site: ",
        "Reported done: plumbing.",
        "Requested: rough-in inspection.",
        "rough-in inspection: booked, Mar 2, 2026, 10:00\u202fAM to Mar 2, 2026, 2:00\u202fPM.",
        "Defect notice: the inspector's result, reference R1.",
        "Deficiency written up: no plate.",
        "Deficiency corrected: no plate.",
        "Accepted: the inspector's result, reference R2.",
        "Released for cover, reference R2.",
        "Cover release withdrawn: ",
        "House recorded, revision 2: moved a run",
    ]
    places = [next(i for i, said in enumerate(words) if tell in said) for tell in told]
    assert places[:-2] == sorted(places[:-2])
    withdrawn = found[words.index(next(each for each in words if "release withdrawn" in each))]
    assert (withdrawn.by, withdrawn.weighty) == ("Studbay", True)


def test_another_area_has_a_life_of_its_own(shop, clock) -> None:
    _, _, west = lived(shop, clock)
    words = " ".join(say(each.what, "en") for each in area_timeline(west))
    assert "no plate" not in words
    assert "Released" not in words
    assert "Reported done: plumbing." in words


def test_by_hand_it_names_who_took_it_back(shop, clock) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(area)
    cover_release_withdraw(shop.office, area=area, because="the plan changed")
    last = area_timeline(area)[-1]
    assert (say(last.what, "en"), last.by) == (
        "Cover release withdrawn: the plan changed",
        str(shop.office),
    )


def test_the_page_is_for_the_shops_own_people(client, shop, clock, stranger_shop) -> None:
    _, area, _ = lived(shop, clock)
    url = reverse("timeline", args=[area.id])
    client.force_login(shop.member)
    assert "Deficiency written up: no plate." in client.get(url).text
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(url).status_code == 404
