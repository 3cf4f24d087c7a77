"""A tape that contradicts its tick: told on the phone itself, with signal and without."""

import pytest
from playwright.sync_api import Page, expect, sync_playwright

from inspections.models import Item, Observation
from jobs.models import Job
from tests.browser.test_tour import FLAGS, sign_in
from tests.browser.walking import open_anywhere
from tests.conftest import CHROMIUM
from tests.sure import the_first

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
CONTRADICTED = (
    "Free conductor: 3/8 in. measured, minimum 5 15/16 in. Record it as Fix, or correct the figure."
)
"""As the site says it, and the phone."""
QUEUE = """async () => {
    const { entries } = await import("/static/js/walk/store.js");
    const { person, job } = document.body.dataset;
    return (await entries(person, job)).map((entry) => [entry.outcome, entry.state]);
}"""


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        opened = browser.new_page(viewport={"width": 390, "height": 844})
        yield opened
        opened.wait_for_load_state("networkidle")  # nothing is asked of a site that is gone
        browser.close()


@pytest.fixture
def item(shop, house_bytes) -> Item:
    job: Job = shop.roughed_in(house_bytes)
    return the_first(job.items.filter(rule="free-conductors", verdict="verify"))


def card_of(page: Page, address: str, shop, item: Item):
    """The item's card on a walk that is open in its room."""
    sign_in(page, address, shop.member)
    page.goto(f"{address}/walk/{item.job_id}/")
    expect(page.locator("body")).to_have_attribute("data-ready", "yes", timeout=30_000)
    return open_anywhere(page, item.id)


@pytest.mark.parametrize("signal", [True, False])
def test_the_phone_says_why_keeps_the_figure_and_no_tick(
    page, live_server, shop, item, signal: bool
) -> None:
    card = card_of(page, live_server.url, shop, item)
    page.context.set_offline(not signal)
    tape = card.get_by_label(", measured")
    label = card.get_by_text("Free conductor, measured (minimum 5 15/16 in.)")
    expect(label).to_be_visible()
    tape.fill("10 mm")
    expect(card.get_by_text("≈ 3/8 in.")).to_be_visible()
    card.get_by_role("button", name="OK", exact=True).click()
    expect(card.get_by_role("alert")).to_have_text(CONTRADICTED)
    expect(tape).to_have_value("10 mm")
    tape.fill("about six")
    card.get_by_role("button", name="OK", exact=True).click()
    expect(card.get_by_role("alert")).to_have_text(
        '“about six” cannot be read as a length. Enter a length such as 6 1/4" or 160 mm.'
    )
    expect(tape).to_have_value("about six")
    assert page.evaluate(QUEUE) == []
    tape.fill('6 1/4"')
    expect(card.get_by_text("= 6 1/4 in.")).to_be_visible()
    card.get_by_role("button", name="OK", exact=True).click()
    expect(card.get_by_text('OK, 6 1/4",')).to_have_count(1)
    page.context.set_offline(False)
    page.get_by_role("button", name="Send and refresh").click()
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=20_000)
    seen = shop.own(Observation).get()
    assert (seen.outcome, seen.measured_mm, seen.measured_typed) == ("ok", 158.75, '6 1/4"')
    expect(card.get_by_text('6 1/4" measured')).to_have_count(1)


def test_what_the_site_refuses_stays_on_the_card_with_its_figure(
    page, live_server, shop, item
) -> None:
    """A phone that has kept a job from before its limit was made stricter."""

    def looser(route) -> None:
        answer = route.fetch()
        told = answer.json()
        for room in told["rooms"]:
            for card in room["items"]:
                del card["known_at"]
                if card["measure"]:
                    card["measure"]["min_mm"] = 5
        route.fulfill(response=answer, json=told)

    page.context.route(f"**/walk/{item.job_id}/data", looser)
    card = card_of(page, live_server.url, shop, item)
    card.get_by_label(", measured").fill("10 mm")
    card.get_by_label("Note on").fill("by the stair")
    card.get_by_role("button", name="OK", exact=True).click()
    expect(card.get_by_text(CONTRADICTED)).to_be_visible(timeout=20_000)
    expect(card.locator("[data-state=refused]")).to_contain_text("OK, 10 mm (by the stair),")
    expect(card.get_by_label(", measured")).to_have_value("10 mm")
    expect(card.get_by_label("Note on")).to_have_value("by the stair")
    expect(card.get_by_role("button", name="OK", exact=True)).to_have_attribute(
        "aria-pressed", "false"
    )
    assert page.evaluate(QUEUE) == [["ok", "refused"]]
    assert not shop.own(Observation).exists()
    card.get_by_role("button", name="Fix").click()
    expect(card.get_by_text("Fix, 10 mm (by the stair),")).to_have_count(1)
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=20_000)
    assert [(seen.outcome, seen.measured_mm) for seen in shop.own(Observation).all()] == [
        ("fix", 10)
    ]
