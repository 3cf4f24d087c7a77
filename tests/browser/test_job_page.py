"""The page of a job under a thumb: its plan is tapped, its lines are opened, keys move in it."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, ViewportSize, expect, sync_playwright

from inspections.models import Item
from inspections.overview.line_states import LineState, line_state
from inspections.selectors import checklist
from inspections.services.photographs import photograph_add
from tests.browser.test_tour import FLAGS, sign_in
from tests.browser.walking import open_all
from tests.conftest import CHROMIUM
from tests.inspections.test_photographs import picture, upload
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
]
PHONE: ViewportSize = {"width": 390, "height": 844}
SCREENS = 3
"""So many screens of a phone the page of a house with 64 defects has before anything is opened."""
HEIGHT = "document.documentElement.scrollHeight"


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser.new_page(viewport=PHONE)
        browser.close()


@pytest.fixture
def job(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


@pytest.fixture
def at_job(page: Page, live_server, shop, job) -> Page:
    sign_in(page, live_server.url, shop.lead)
    page.goto(f"{live_server.url}/jobs/{job.id}/")
    return page


def reads_well(page: Page) -> None:
    found = Axe().run(page).response["violations"]
    assert [(each["id"], each["nodes"][0]["target"]) for each in found] == []


def test_a_lead_finds_and_opens_what_is_not_to_code(at_job: Page, job) -> None:
    page = at_job
    assert page.evaluate(HEIGHT) <= SCREENS * PHONE["height"]
    reads_well(page)

    page.locator("svg .ring[data-lines~='28']").first.click()
    dining = page.locator("details.room[data-room='dining']")
    line = dining.locator("details[data-number='28']")
    expect(line.get_by_role("button", name="Not fixed yet")).to_be_visible()
    expect(page.locator("details.room:visible")).to_have_count(1)
    reads_well(page)
    page.locator("svg use[data-node='R16']").first.click(force=True)
    expect(page.locator("svg g.runs path")).to_have_count(1)
    expect(page.locator(".runs-said")).not_to_be_empty()
    page.get_by_role("button", name="All rooms").click()
    expect(page.locator("#areas details.room:visible")).to_have_count(16)

    page.locator("a.next").click()
    first = page.locator("details[data-number='1']")
    expect(first.get_by_role("button", name="Not fixed yet")).to_be_in_viewport()

    page.locator("nav.counts .info_needed").click()
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    unknown = [each for each in lines if line_state(each) is LineState.INFO_NEEDED]
    expect(page.locator("#areas details.open-line:visible")).to_have_count(len(unknown))
    reads_well(page)


def test_what_is_searched_for_comes_while_it_is_typed(at_job: Page) -> None:
    page = at_job
    page.keyboard.press("/")
    search = page.get_by_role("searchbox")
    expect(search).to_be_focused()
    search.press_sequentially("R16")
    expect(page.locator("#areas details.room")).to_have_count(1)
    expect(page).to_have_url(f"{page.url.partition('?')[0]}?q=R16")
    expect(page.get_by_role("searchbox")).to_be_focused()
    expect(page.get_by_role("searchbox")).to_have_value("R16")
    page.keyboard.press("Escape")
    page.keyboard.press("j")
    expect(page.locator("details.room > summary").first).to_be_focused()
    page.keyboard.press("j")
    expect(page.locator("details.open-line > summary").first).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Not fixed yet").first).to_be_visible()
    page.keyboard.press("k")
    expect(page.locator("details.room > summary").first).to_be_focused()


def test_the_menu_of_papers_closes_when_one_goes_on(at_job: Page) -> None:
    page = at_job
    page.get_by_text("Papers and files").click()
    expect(page.get_by_role("link", name="Take-off")).to_be_visible()
    reads_well(page)
    page.get_by_role("heading", level=1).click()
    expect(page.get_by_role("link", name="Take-off")).to_be_hidden()


def test_a_defect_is_closed_where_it_is_read_and_undone(at_job: Page, job) -> None:
    page = at_job
    item = job.items.get(rule="free-conductors", subject="R15")
    room = item.finding["room"]
    page.goto(f"{page.url.partition('?')[0]}?room={room}&item={item.id}#item-{item.id}")
    fixed = page.locator(".recorded")
    line = page.locator(f"#item-{item.id}")
    line.get_by_role("button", name="Fixed", exact=True).click()
    figure = line.locator("input[name=figure]").first
    figure.fill('4"')
    expect(line.locator("output").first).to_contain_text("Still not to code")
    figure.fill('6 1/4"')
    reads_well(page)
    line.get_by_role("button", name="Record as fixed").first.click()
    expect(fixed).to_contain_text("Recorded.")
    item.refresh_from_db()
    assert item.verdict == "ok"
    assert job.revisions.count() == 2
    expect(page.locator("nav.counts .not_to_code b")).to_have_text("63")
    fixed.get_by_role("button", name="Undo").click()
    expect(page.locator("nav.counts .not_to_code b")).to_have_text("64")
    item.refresh_from_db()
    assert item.verdict == "not_to_code"


@pytest.mark.parametrize("language", ["en", "fr", "es"])
def test_a_room_that_is_opened_reads_well_on_page_and_walk(
    page, live_server, shop, language
) -> None:
    job = shop.roughed_in(HOUSES["short"])
    shop.lead.language = language
    shop.lead.save()
    sign_in(page, live_server.url, shop.lead)
    page.goto(f"{live_server.url}/jobs/{job.id}/?room=east")
    page.locator("details.open-line > summary").first.click()
    expect(
        page.locator("details.open-line[open] form:has(button[name=outcome])").first
    ).to_be_visible()
    in_light_and_dark(page)
    page.goto(f"{live_server.url}/walk/{job.id}/")
    expect(page.locator("body")).to_have_attribute("data-ready", "yes")
    open_all(page)
    in_light_and_dark(page)


def in_light_and_dark(page: Page) -> None:
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        reads_well(page)


def test_photographs_lie_on_the_plan_where_they_were_taken(at_job: Page, shop, job) -> None:
    page = at_job
    button = page.get_by_role("button", name="Photos", exact=True)
    button.click()
    expect(page.get_by_text("No photos on this storey yet.")).to_be_visible()
    for subject in ("R3", "R3", "R22"):
        item = the_first(job.items.filter(subject=subject, current=True))
        photograph_add(shop.lead, item=item, upload=upload(picture()))
    page.reload()
    button.click()
    pictures = page.locator(".photographs-shown img")
    expect(pictures).to_have_count(3)
    mark = page.locator("svg g.photograph").filter(has_text="2")
    mark.click()
    expect(pictures).to_have_count(2)
    assert pictures.first.evaluate("each => each.decode().then(() => each.naturalWidth)") == 40
    expect(page.locator(".photographs-shown")).to_contain_text(str(shop.lead))
    reads_well(page)
    button.click()
    expect(mark).to_be_hidden()
    expect(pictures).to_have_count(0)


def test_a_ring_opens_its_line_also_where_that_is_listed_in_another_room(at_job: Page) -> None:
    page = at_job
    ring = page.locator("svg .ring[data-room='garage'][data-in='utility']").first
    number = ring.get_attribute("data-opens")
    ring.click(force=True)
    line = page.locator(f"details.room[data-room='utility'] details[data-number='{number}']")
    expect(line.get_by_role("button", name="Not fixed yet")).to_be_visible()
