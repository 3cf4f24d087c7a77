"""A refused answer in the office's browser: what was typed is there, unfolded and in sight."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, ViewportSize, expect, sync_playwright

from tests.browser.test_tour import FLAGS, sign_in
from tests.browser.widths import overflow
from tests.conftest import CHROMIUM

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
PHONE: ViewportSize = {"width": 390, "height": 844}


@pytest.fixture
def browser(monkeypatch):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield made
        made.close()


@pytest.fixture
def page(browser):
    return browser.new_page(viewport=PHONE)


@pytest.fixture
def inspection(shop, house_bytes):
    """An inspection that has begun, on a house whose shop used R7 for another house already."""
    garage = shop.roughed_in(house_bytes).areas.get(code="garage")
    shop.look_at(garage)
    shop.accept(garage, reference="R7")
    job = shop.roughed_in(house_bytes)
    job.name = "Lot 16"
    job.save()
    return shop.booked(job.areas.get(code="bedroom"), insist=True)


def answer(page: Page):
    return page.locator('form[action$="/answer/"]')


@pytest.mark.parametrize("scripts", [True, False])
def test_a_refused_answer_keeps_what_was_typed_where_it_was_typed(
    browser, live_server, shop, inspection, scripts
) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=scripts)
    sign_in(page, live_server.url, shop.office)
    page.goto(f"{live_server.url}/jobs/{inspection.job_id}/")
    page.locator("#inspections > summary").click()
    page.get_by_text("Record the inspector's result", exact=True).click()
    form = answer(page)
    form.get_by_label("Result for").select_option("with_deficiencies")
    written = "no plate at the top\nbox R2 is loose"
    form.get_by_label("Deficiencies in").fill(written)
    form.get_by_label("The authority's reference").fill("R7")
    with page.expect_response(lambda each: each.url.endswith("/answer/")) as sent:
        form.get_by_role("button", name="Record result").click()
    assert sent.value.status == 422
    form = answer(page)
    expect(form.get_by_text("R7 is already used on")).to_be_visible()
    expect(form.get_by_label("Deficiencies in")).to_have_value(written)
    expect(form.get_by_label("Result for")).to_have_value("with_deficiencies")
    expect(form.get_by_label("The authority's reference")).to_have_value("R7")
    form.get_by_label("The authority's reference").fill("R8")
    form.get_by_role("button", name="Record result").click()
    if not scripts:
        page.locator("#inspections > summary").click()
    expect(page.get_by_text("no plate at the top")).to_be_visible()
    assert {each.what for each in inspection.job.deficiencies.all()} == set(written.splitlines())


def test_the_fault_has_the_focus_and_is_in_sight(page, live_server, shop, inspection) -> None:
    sign_in(page, live_server.url, shop.office)
    page.goto(f"{live_server.url}/jobs/{inspection.job_id}/")
    page.locator("#inspections > summary").click()
    page.get_by_text("Record the inspector's result", exact=True).click()
    form = answer(page)
    form.get_by_label("The authority's reference").fill("R7")
    form.get_by_role("button", name="Record result").click()
    fault = answer(page).get_by_role("alert")
    expect(fault).to_be_focused()
    expect(fault).to_be_in_viewport()
    languages = page.locator("form.languages")
    expect(languages.locator("[name=next]")).to_have_value(f"/jobs/{inspection.job_id}/")
    languages.get_by_role("button", name="Español").click()
    expect(page).to_have_url(f"{live_server.url}/jobs/{inspection.job_id}/")


def test_a_page_with_faults_reads_well(page, live_server, shop, inspection) -> None:
    sign_in(page, live_server.url, shop.office)
    page.goto(f"{live_server.url}/jobs/{inspection.job_id}/")
    page.locator("#builder-links > summary").click()
    form = page.locator('form[action$="/links/"]')
    form.get_by_label("For whom").fill("  ")
    form.get_by_role("button", name="Make a link").click()
    field = page.locator('form[action$="/links/"]').get_by_label("For whom")
    expect(field).to_be_focused()
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description("Enter who the link is for.")
    expect(field).to_be_in_viewport()
    found = Axe().run(page).response["violations"]
    assert not found, [each["id"] for each in found]
    page.set_viewport_size({"width": 320, "height": 640})
    assert overflow(page) <= 0
