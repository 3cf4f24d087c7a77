"""Load calculation, panel schedule and hookup sheet of a job, for its office alone."""

import json
from datetime import timedelta
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from config.messages.saying import said
from inspections.houses.circuits import circuits_of
from inspections.models import Outcome
from inspections.papers.load_sheets import LoadSheet, outside_of
from inspections.selectors import latest_revision
from inspections.services.houses import house_record
from inspections.services.milestones import milestone_record
from inspections.services.observations import item_observe
from inspections.services.permits import permit_extend
from inspections.standing.stages import Milestone
from tests.clocks import house_day
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop, house_bytes):
    return shop.roughed_in(house_bytes)


def get(client, person, name, job, which):
    client.force_login(person)
    return client.get(reverse(name, args=[job.id, which]))


def test_the_office_reaches_each_sheet_from_the_job(client, shop, job) -> None:
    client.force_login(shop.office)
    page = client.get(reverse("job", args=[job.id])).text
    for which in LoadSheet:
        address = reverse("load-sheet", args=[job.id, which.value])
        assert address in page
        text = client.get(address).text
        assert "licenses nobody" in text
        assert "title-block" in text


def test_each_sheet_shows_what_it_is_for(client, shop, job) -> None:
    assert "Basic load" in get(client, shop.office, "load-sheet", job, "load").text
    panel = get(client, shop.office, "load-sheet", job, "panel").text
    assert "Card for the door of panel P1" in panel
    assert "Receptacles: Bedroom 2" in panel
    hookup = get(client, shop.office, "load-sheet", job, "hookup").text
    assert "LOCKED OUT and labelled" in hookup
    assert "Permit issued" in hookup


@pytest.mark.parametrize("which", [each.value for each in LoadSheet])
def test_each_sheet_is_there_on_paper_with_the_job_s_title_block(client, shop, job, which) -> None:
    answer = get(client, shop.office, "load-sheet-pdf", job, which)
    assert answer.headers["Content-Type"] == "application/pdf"
    pages = [page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages]
    assert all(job.name in text for text in pages)


def test_a_program_reads_the_same_figures(client, shop, job) -> None:
    load = get(client, shop.office, "load-sheet-json", job, "load").json()
    assert load["ways"][0]["lines"][0]["key"] == "basic"
    panel = get(client, shop.office, "load-sheet-json", job, "panel").json()
    assert panel["panels"][0]["panel"] == "P1"
    hookup = get(client, shop.office, "load-sheet-json", job, "hookup").json()
    assert hookup["readiness"][0]["verdict"] == "ok"


@pytest.mark.parametrize("who", ["lead", "member", "builder", "other_builder"])
@pytest.mark.parametrize("name", ["load-sheet", "load-sheet-pdf", "load-sheet-json"])
def test_nobody_else_meets_them(client, shop, job, who, name) -> None:
    assert get(client, getattr(shop, who), name, job, "load").status_code == 404
    client.force_login(getattr(shop, who))
    assert "/power/" not in client.get(reverse("job", args=[job.id])).text


def test_another_shop_and_a_stranger_meet_nothing(client, stranger_shop, shop, job) -> None:
    assert get(client, stranger_shop.office, "load-sheet", job, "load").status_code == 404
    client.logout()
    answer = client.get(reverse("load-sheet", args=[job.id, "load"]))
    assert answer.headers["Location"].startswith("/sign-in/")


def test_a_sheet_that_is_none_and_a_job_without_a_house_give_404(client, shop, job) -> None:
    assert get(client, shop.office, "load-sheet", job, "water").status_code == 404
    bare = shop.job("Lot 99")
    assert get(client, shop.office, "load-sheet", bare, "load").status_code == 404


def test_the_record_tells_the_hookup_of_permit_and_rough_in(shop, job) -> None:
    told = outside_of(job)
    assert told.permit_issued
    assert told.permit_reference
    assert told.rough_in_accepted is False
    bare = outside_of(shop.job("Lot 99"))
    assert (bare.permit_issued, bare.rough_in_accepted) == (False, False)


@pytest.fixture
def authorised(shop, job):
    """A hookup recorded with the last two circuits of the panel."""
    chosen = circuits_of(latest_revision(job))[-2:]
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reached_on=house_day(),
        reference="TC-99/H",
        circuits=[each.id for each in chosen],
    )
    return chosen


def test_before_a_hookup_is_on_record_the_list_is_headed_as_a_proposal(client, shop, job) -> None:
    text = get(client, shop.office, "load-sheet", job, "hookup").text
    assert "PROPOSED to be live, not authorized" in text
    assert "LIVE during construction" not in text


def test_every_form_of_the_sheet_says_live_what_was_authorised(
    client, shop, job, authorised
) -> None:
    named = [each.id for each in authorised]
    told = get(client, shop.office, "load-sheet-json", job, "hookup").json()
    assert [line["circuit"] for line in told["live"]] == named
    every = {each.id for each in circuits_of(latest_revision(job))}
    assert {line["circuit"] for line in told["locked_off"]} == every - set(named)
    assert told["reference"] == "TC-99/H"
    page = get(client, shop.office, "load-sheet", job, "hookup").text
    answer = get(client, shop.office, "load-sheet-pdf", job, "hookup")
    paper = "".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
    for text in (page, " ".join(paper.split())):
        assert "LIVE during construction" in text
        assert f"on {said(house_day())}, reference TC-99/H: these circuits and no others." in text
        assert "PROPOSED" not in text
        assert "No circuit is chosen to be live." not in text


def test_a_circuit_that_left_the_house_or_changed_its_name_is_warned_of(
    client, shop, job, authorised
) -> None:
    house = json.loads(sure(latest_revision(job)).house)
    circuits = {each["id"]: each for each in house["circuits"]}
    circuits[authorised[0].id]["name"] = "Something else"
    house_record(shop.lead, job=job, house=json.dumps(house).encode())
    told = get(client, shop.office, "load-sheet-json", job, "hookup").json()
    assert [line["circuit"] for line in told["live"]] == [each.id for each in authorised]
    assert any("Something else”. Verify at the panel" in each for each in told["warnings"])


def test_a_look_that_fails_at_an_authorised_circuit_is_warned_of(
    client, shop, job, authorised
) -> None:
    cables = json.loads(sure(latest_revision(job)).house)["cables"]
    mine = [each["id"] for each in cables if each.get("circuit") == authorised[0].id]
    item = job.items.filter(current=True, verdict="verify", subject__in=[authorised[0].id, *mine])
    item_observe(shop.lead, item=item.select_related("job__shop").first(), outcome=Outcome.FIX)
    told = get(client, shop.office, "load-sheet-json", job, "hookup").json()
    assert any(
        "is authorized, but an item about it is to be fixed: " in each for each in told["warnings"]
    )


def test_a_permit_that_expired_says_so_with_its_day(client, shop, job, monkeypatch) -> None:
    day = house_day()
    permit = permit_extend(shop.office, permit=job.permit, expires_on=day)
    after = house_day() + timedelta(days=2)
    monkeypatch.setattr("inspections.overview.hookup_authorization.today_at", lambda *_: after)
    (line, *_) = get(client, shop.office, "load-sheet-json", job, "hookup").json()["readiness"]
    assert (line["verdict"], line["says"]) == (
        "not_to_code",
        f"expired on {said(day)}, reference {permit.number}",
    )
