"""Two phones in a basement: ticks without signal, browsers and a site that are killed."""

import io
import time
from itertools import pairwise
from pathlib import Path

import pytest
from django.test import Client
from PIL import Image
from playwright.sync_api import FilePayload, expect, sync_playwright

from inspections.models import Item, Observation, Photograph
from inspections.record.chain import record_faults
from tests.browser.phones import Phone, Site
from tests.browser.walking import opened

pytestmark = [
    pytest.mark.browser,
    pytest.mark.postgresql,
    pytest.mark.django_db(transaction=True),
]
EACH, PICTURES = 60, 10
FAR_AHEAD = 2_200_000_000
"""Seconds: a browser has the machine's clock, not that of the run."""
WRITTEN = 8_000
"""Milliseconds after which the browser has written to disk that it keeps the page itself."""
SCREENS = Path(__file__).resolve().parents[2] / "var" / "screenshots"


@pytest.fixture
def driver(monkeypatch):
    # The browser's driver runs an event loop in this thread; Django is called from it no less.
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as started:
        yield started


@pytest.fixture
def site():
    made = Site()
    made.start()
    yield made
    made.kill()


@pytest.fixture
def phones(driver, tmp_path):
    made = [Phone(driver, tmp_path / name) for name in ("lead", "member")]
    for phone in made:
        phone.start()
    yield made
    for phone in made:
        phone.kill()


def picture(number: int) -> FilePayload:
    """A photograph like no other."""
    held = io.BytesIO()
    Image.new("RGB", (640, 480), (number * 11 % 256, number * 37 % 256, 90)).save(held, "JPEG")
    return {"name": f"{number}.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()}


def sign_in(phone: Phone, address: str, person) -> None:
    """A browser that was killed may have forgotten who is signed in, never what was ticked."""
    client = Client()
    client.force_login(person)
    key = client.cookies["sessionid"].value
    phone.page.context.add_cookies(
        [{"name": "sessionid", "value": key, "url": address, "expires": FAR_AHEAD}]
    )


def open_walk(phone: Phone, address: str, person, job) -> None:
    """The person opens the walk where there is still signal."""
    sign_in(phone, address, person)
    phone.page.goto(f"{address}/walk/{job.id}/")
    expect(phone.page.locator("body")).to_have_attribute("data-ready", "yes", timeout=30_000)


def tick(phone: Phone, rooms: dict[str, list[str]], numbers: range) -> None:
    """Tick these of the items, each in its room, and take a photograph of every sixth."""
    page, where = phone.page, None
    items = [(room, item) for room, found in rooms.items() for item in found]
    for number in numbers:
        room, item = items[number]
        if room != where:
            page.get_by_label("Room", exact=True).select_option(index=int(room))
            where = room
        card = opened(page, item)
        if number % 6 == 0:
            card.get_by_label("Photo of").set_input_files(picture(hash(item) % 1000))
            expect(card.get_by_text("Photo,")).to_have_count(1)
        card.get_by_role("button", name="OK", exact=True).click()
        expect(card.get_by_text("OK,")).to_have_count(1)


def rooms_of(phone: Phone) -> list[list[str]]:
    """The ids of the open items that a tick can pass, room by room, as the phone has them."""
    found: list[list[str]] = phone.page.evaluate(
        """async () => {
            const { keptJob } = await import("/static/js/walk/store.js");
            const { person, job } = document.body.dataset;
            const data = await keptJob(person, job);
            return data.rooms.map((room) => room.items
                .filter((i) => i.standing === "open" && i.verdict === "verify").map((i) => i.id));
        }"""
    )
    return found


def assert_all_came_in_once(job, people, shares) -> None:
    """Every tick and photograph once, each by its maker, in the order made."""
    assert Observation.objects.filter(item__job=job).count() == 2 * EACH
    assert Photograph.objects.filter(item__job=job).count() == 2 * PICTURES
    for person, share in zip(people, shares, strict=True):
        order = [item for found in share.values() for item in found]
        made = Observation.objects.filter(seen_by=person).order_by("seen_at")
        assert [str(each.item_id) for each in made] == order
        assert all(a.seen_at < b.seen_at for a, b in pairwise(made))
        assert not made.exclude(outcome="ok").exists()
        taken = Photograph.objects.filter(taken_by=person).values_list("item", flat=True)
        assert sorted(map(str, taken)) == sorted(order[::6])
    assert list(record_faults(job.id)) == []
    assert Item.objects.filter(job=job, observations__stale=True).count() == 0


def test_nothing_is_lost_or_doubled_whatever_is_killed(site, phones, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    people = (shop.lead, shop.member)
    for phone, person in zip(phones, people, strict=True):
        open_walk(phone, site.address, person, job)
    for phone in phones:
        phone.page.wait_for_timeout(WRITTEN)
    rooms = [(str(n), item) for n, found in enumerate(rooms_of(phones[0])) for item in found]
    assert len(rooms) >= 2 * EACH
    shares = []
    for part in (rooms[:EACH], rooms[EACH : 2 * EACH]):
        share: dict[str, list[str]] = {}
        for room, item in part:
            share.setdefault(room, []).append(item)
        shares.append(share)

    site.kill()  # no signal
    for phone, share in zip(phones, shares, strict=True):
        tick(phone, share, range(EACH // 2))
        phone.kill()  # the battery is dead
        phone.start()
        phone.page.goto(f"{site.address}/walk/{job.id}/")
        waiting = EACH // 2 + PICTURES // 2
        expect(phone.page.get_by_text(f"{waiting} not sent yet")).to_be_visible()
        tick(phone, share, range(EACH // 2, EACH))
    assert not Observation.objects.filter(item__job=job).exists()

    site.start()
    for phone, person in zip(phones, people, strict=True):
        phone.page.context.clear_cookies()
        phone.page.get_by_role("button", name="Send and refresh").click()
        expect(phone.page.get_by_text("You are signed out")).to_be_visible()
        expect(phone.page.get_by_role("link", name="Sign in")).to_be_visible()
        expect(phone.page.get_by_text("70 not sent yet")).to_be_visible()
        sign_in(phone, site.address, person)
    for phone in phones:
        phone.page.get_by_role("button", name="Send and refresh").click()
    SCREENS.mkdir(parents=True, exist_ok=True)
    phones[0].page.screenshot(path=SCREENS / "walk-waiting.png")
    until = time.monotonic() + 60
    while not Photograph.objects.filter(item__job=job).exists():
        assert time.monotonic() < until, "nothing comes in"
        time.sleep(0.01)
    site.kill()
    time.sleep(1)
    site.start()
    for phone in phones:
        phone.page.get_by_role("button", name="Send and refresh").click()
        safe = phone.page.get_by_text("Everything is sent and saved")
        expect(safe).to_be_visible(timeout=90_000)

    assert_all_came_in_once(job, people, shares)
