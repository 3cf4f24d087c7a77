"""A line that is OK says how that is known: drawn, stated on site, or measured there."""

import pytest
from django.urls import reverse

from config.languages import say
from inspections.models import Item, Outcome
from inspections.papers.documents import job_checklist_pdf
from inspections.selectors import latest_revision, line_of
from inspections.services.observations import item_observe
from inspections.standing.holds import Standing
from inspections.standing.sources import KnownBy, how_known
from pages.templatetags.shown import state_words
from tests.inspections.tiny import HOUSES
from tests.sheets.test_checklist_sheet import pages, squeezed
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


def shown(item: Item) -> tuple[KnownBy | None, str]:
    line = line_of(item)
    return line.known_by, say(state_words(line), "en")


@pytest.mark.parametrize("standing", [each for each in Standing if each is not Standing.OK])
def test_what_is_not_ok_is_known_by_nothing(standing: Standing) -> None:
    assert how_known(standing, seen=True, measured=True) is None
    assert how_known(standing, seen=False, measured=False) is None


def test_of_the_plan_alone_it_is_drawn(job) -> None:
    design = the_first(job.items.filter(verdict="ok", workmanship=False))
    assert shown(design) == (KnownBy.DRAWN, "OK on plan (drawn)")
    by_hand = the_first(job.items.filter(verdict="ok", workmanship=True))
    assert shown(by_hand) == (None, "OK on plan")


def test_by_eye_it_is_stated_and_by_tape_measured(shop, job) -> None:
    measured = the_first(job.items.filter(verdict="verify", measure_min_mm__gt=0))
    item_observe(shop.lead, item=measured, outcome=Outcome.OK)
    assert shown(measured) == (KnownBy.STATED, "OK on site: seen by Lead Tester")
    item_observe(shop.member, item=measured, outcome=Outcome.OK, measured_typed='6 1/4"')
    words = 'OK on site: measured 6 1/4" by Member Tester'
    assert shown(measured) == (KnownBy.MEASURED, words)


def test_a_look_at_facts_that_have_changed_makes_nothing_known(shop, job) -> None:
    design = the_first(job.items.filter(verdict="ok", workmanship=False))
    item_observe(shop.lead, item=design, outcome=Outcome.OK)
    assert shown(design)[0] is KnownBy.STATED
    Item.objects.filter(id=design.id).update(fingerprint="0" * 16)
    assert shown(design)[0] is KnownBy.DRAWN


def test_an_na_is_stated_and_reads_as_itself(shop, job) -> None:
    eyes = job.items.filter(verdict="verify", measure_min_mm=None, measure_max_mm=None)
    item = the_first(eyes)
    item_observe(shop.lead, item=item, outcome=Outcome.NA, note="no such box")
    assert shown(item) == (KnownBy.STATED, "N/A")


def test_pages_and_programs_and_the_sheet_say_it(client, shop, job) -> None:
    client.force_login(shop.lead)
    measured = the_first(job.items.filter(verdict="verify", measure_min_mm__gt=0))
    item_observe(
        shop.lead, item=measured, outcome=Outcome.OK, measured_typed='6 1/8"', note="by the door"
    )
    page = client.get(reverse("item", args=[measured.id])).text
    assert page.count("OK on site: measured 6 1/8&quot; by Lead Tester") == 1
    assert page.count("6 1/8&quot;") == 1
    assert page.count("by the door") == 1
    found = client.get(f"/api/jobs/{job.id}/items").json()["results"]
    known = {each["id"]: (each["standing"], each["known_by"]) for each in found}
    assert known[str(measured.id)] == ("ok", "measured")
    assert {by for standing, by in known.values() if standing != "ok"} == {None}
    assert {by for standing, by in known.values() if standing == "ok"} == {"drawn", "measured"}
    sheet = "".join(pages(job_checklist_pdf(job, sure(latest_revision(job)))))
    assert squeezed('Measured: 6 1/8", Lead Tester, ') in sheet
    assert squeezed(": by the door") in sheet
