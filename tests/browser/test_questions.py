"""One question for a fact that many boxes lack, and one answer that closes all their lines."""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from inspections.checker.finding import Verdict
from inspections.models import FactCorrection, HouseRevision
from inspections.selectors import latest_revision
from tests.browser.test_job_page import page  # noqa: F401  (a fixture)
from tests.browser.test_tour import sign_in
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
]


@pytest.fixture
def job(shop, planted_bytes):
    """A house of which nobody knows how deep its switches are."""
    house = json.loads(planted_bytes)
    house["device_depth_mm"].pop("switch", None)
    return shop.roughed_in(json.dumps(house).encode())


@pytest.fixture
def at_questions(page: Page, live_server, shop, job) -> Page:  # noqa: F811
    sign_in(page, live_server.url, shop.lead)
    page.goto(f"{live_server.url}/jobs/{job.id}/?show=info_needed#lines")
    return page


def test_one_answer_closes_the_lines_of_many_boxes(at_questions: Page, job) -> None:
    shown = at_questions
    missing = job.items.filter(current=True, verdict=Verdict.INFO_NEEDED)
    deep = missing.filter(rule="box-fill")
    before = deep.count()
    assert before > 1
    form = shown.locator("#questions form.fix").filter(has_text="How deep is the switch you use?")
    form.get_by_text("alike. Which are not?").click()
    found = Axe().run(shown).response["violations"]
    assert [(each["id"], each["nodes"][0]["target"]) for each in found] == []
    odd = form.locator(".parts-asked li").first
    odd_box = odd.inner_text().strip()
    odd.get_by_role("checkbox").check()
    form.locator("[name=figure]").fill("1 1/4")

    form.get_by_role("button", name="Record", exact=True).click()
    expect(form.get_by_role("alert").filter(has_text="enter its own figure")).to_be_visible()
    assert not FactCorrection.objects.filter(job=job).exists()
    odd.get_by_label("its own figure").fill('1 1/2"')
    form.get_by_role("button", name="Record", exact=True).click()
    expect(shown.locator(".recorded")).to_be_visible(timeout=30_000)
    assert not deep.filter(verdict=Verdict.INFO_NEEDED).count() >= before
    house = json.loads(sure(latest_revision(job)).house)
    assert house["device_depth_mm"]["switch"] == 31.75
    box = next(each for each in house["boxes"] if each["id"] == odd_box)
    assert 38.1 in [device.get("depth_mm") for device in box["devices"]]
    assert FactCorrection.objects.filter(job=job).count() == 1

    revisions = HouseRevision.objects.filter(job=job).count()
    shown.get_by_role("button", name="Undo").click()
    expect(shown.locator("#questions form.fix").filter(has_text="How deep is")).to_be_visible()
    assert HouseRevision.objects.filter(job=job).count() == revisions + 1
