"""Every page as its readers meet it, in light and dark, on a desk and on a phone.

No page may break a rule of axe-core, ask anything of another site, say a fault in the console,
or be wider than a screen of 320 pixels. What each looks like lands in var/screenshots.
"""

from pathlib import Path

import pyotp
import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page, ViewportSize, expect, sync_playwright

from config.messages.kept import in_english
from inspections.models import Link, Observation
from inspections.record.checks import check_address
from tests.browser.test_tour import FLAGS, sign_in
from tests.browser.widths import overflow
from tests.conftest import CHROMIUM
from tests.lengths import in_part
from tests.lived import lived_in

SCREENS = Path(__file__).resolve().parents[2] / "var" / "screenshots"
pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
LANGUAGES = ("en", "fr", "es")
WIDE: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 844}


@pytest.fixture
def lived(shop, house_bytes):
    """A shop in the middle of things."""
    return lived_in(shop, house_bytes)


def of_office(lived) -> dict[str, str]:
    """The office's pages by what their screenshots are called."""
    job, plan = lived["job"].id, lived["plan"]
    plain = (
        *("jobs", "today", "figures", "people", "guide", "rulebooks", "crews", "work-rules"),
        *(
            "programs",
            "second-factor",
            "authorities",
            "authority-new",
            "job-new",
            "notice-office",
            "wishes",
            "messages",
            "days",
            "account",
            "account_change_password",
            "passkey-new",
            "passkeys-first",
        ),
    )
    of_job = ("job", "job-edit", "drawing", "draw", "house-upload", "record", "job-notices")
    pages = {name: reverse(name) for name in plain}
    pages |= {name: reverse(name, args=[job]) for name in of_job}
    pages |= {f"power-{each}": reverse("load-sheet", args=[job, each]) for each in SHEETS}
    pages |= {each: reverse("work-sheet", args=[job, each]) for each in WORK}
    pages |= {
        "timeline": reverse("timeline", args=[lived["area"].id]),
        "item": reverse("item", args=[lived["job"].items.first().id]),
        "pack": reverse("pack", args=[lived["pack"].id]),
        "paper": check_address(lived["job"], lived["job"].revisions.last()).partition("8765")[2],
        "rulebook": reverse("rulebook", args=["cec-2021"]),
        "rule": reverse("rule", args=["cec-2021", "counter-receptacles"]),
        "figure-jobs": reverse("figure-jobs", args=["called"]) + "?of=Box%20fill",
        "authority": reverse("authority", args=[lived["job"].authority_id]),
        "plan": reverse("plan", args=[plan.id]),
        "plan-month": reverse("plan-month", args=[plan.id]),
        "404": "/nothing/",
    }
    return pages


WORK = ("corrections", "deficiencies", "take-off", "handover")
SHEETS = ("load", "panel", "hookup")


@pytest.fixture
def browser(monkeypatch):
    # The browser's driver runs an event loop in this thread; Django is called from it no less.
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield made
        made.close()


class Looked:
    """A browser that notes what pages do wrong."""

    def __init__(self, browser, address: str, languages: tuple[str, ...] = LANGUAGES) -> None:
        self.page: Page = browser.new_page(viewport=WIDE)
        self.languages = languages
        self.address, self.axe = address, Axe()
        self.faults: list[str] = []
        self.page.on("request", self._asked)
        self.page.on("console", self._said)
        self.page.on("pageerror", lambda error: self.faults.append(f"error: {error}"))

    def _asked(self, request) -> None:
        if not request.url.startswith((self.address, "data:", "blob:")):
            self.faults.append(f"asked of another site: {request.url}")

    def _said(self, message) -> None:
        if message.type == "error" and "404" not in message.text and "410" not in message.text:
            self.faults.append(f"console: {message.text}")

    def at(self, name: str, path: str) -> None:
        """See one page in each of the languages, in light and dark, wide and narrow.

        In French and Spanish only the pages of this run's part are read whole; all must fit.
        """
        for language in self.languages:
            said = name if language == "en" else f"{name}-{language}"
            self.page.set_extra_http_headers({"Accept-Language": language})
            self.page.goto(self.address + path)
            if language == "en" or in_part(said):
                self._read(said)
            self._fits(said)
        self.page.set_extra_http_headers({"Accept-Language": "en"})

    def _read(self, name: str) -> None:
        page = self.page
        page.set_viewport_size(WIDE)
        page.screenshot(path=SCREENS / f"{name}-wide.png", full_page=True)
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            for each in self.axe.run(page).response["violations"]:
                where = [node["target"] for node in each["nodes"]][:3]
                self.faults.append(f"{name}, {scheme}: {each['id']} at {where}")
        page.emulate_media(color_scheme="light")
        page.set_viewport_size(PHONE)
        page.screenshot(path=SCREENS / f"{name}-phone.png", full_page=True)

    def _fits(self, name: str) -> None:
        page = self.page
        page.set_viewport_size({"width": 320, "height": 640})
        if (much := overflow(page)) > 0:
            self.faults.append(f"{name}: {much} pixels wider than a screen of 320")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_page_reads_well_whoever_reads_it(
    browser, live_server, shop, lived, language
) -> None:
    SCREENS.mkdir(parents=True, exist_ok=True)
    looked = Looked(browser, live_server.url, (language,))
    looked.at("sign-in", "/sign-in/")
    looked.at("forgotten", "/sign-in/forgotten/")
    looked.at("join", f"/join/{lived['join']}")
    looked.at("link-cover", f"/l/{lived['cover']}")
    sign_in(looked.page, live_server.url, shop.office)
    for name, path in of_office(lived).items():
        looked.at(name, path)
    sign_in(looked.page, live_server.url, shop.lead)
    looked.at("lead-job", f"/jobs/{lived['job'].id}/")
    looked.at("walks", "/walk/")
    looked.at("walk", f"/walk/{lived['job'].id}/")
    crew = shop.shop.crews.get(lead=shop.lead)
    looked.at("crew-day", reverse("crew-day", args=[crew.id]))
    sign_in(looked.page, live_server.url, shop.builder)
    looked.at("cover", f"/jobs/{lived['job'].id}/")
    looked.page.goto(f"{live_server.url}/api/docs")
    expect(looked.page.get_by_text("/api/jobs/{job_id}/permit").first).to_be_visible()
    Link.objects.update(expires_at="2026-01-01T00:00Z")
    looked.at("link-gone", f"/l/{lived['cover']}")
    assert not looked.faults, "\n".join(looked.faults)


def test_the_second_factor_reads_well_at_each_step(browser, live_server, shop) -> None:
    """Set up in the browser with what the page shows, then asked for at sign-in."""
    SCREENS.mkdir(parents=True, exist_ok=True)
    looked = Looked(browser, live_server.url)
    page = looked.page
    sign_in(page, live_server.url, shop.lead)
    page.goto(f"{live_server.url}/second-factor/")
    page.get_by_role("button", name="Set up phone codes").click()
    looked.at("second-factor-begun", "/second-factor/")
    page.reload()  # in English
    shown = page.locator("main code").inner_text().replace(" ", "")
    assert page.locator("main img").evaluate("image => image.naturalWidth") > 200
    page.get_by_label("Code", exact=True).fill(pyotp.TOTP(shown).now())
    page.get_by_role("button", name="Turn on phone codes").click()
    codes = page.locator("main code").all_inner_texts()
    assert len(codes) == 10
    assert not looked.axe.run(page).response["violations"]
    page.get_by_role("link", name="I saved the codes").click()
    looked.at("second-factor-on", "/second-factor/")
    page.reload()  # in English
    page.get_by_role("button", name="Sign out").click()
    sign_in(page, live_server.url, shop.lead)
    looked.at("sign-in-code", "/sign-in/code/")
    page.reload()  # in English
    page.get_by_label("Code", exact=True).fill(codes[0])
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()
    assert not looked.faults, "\n".join(looked.faults)


def test_what_a_fault_withdraws_is_asked_on_a_page_like_any_other(
    browser, live_server, shop, lived
) -> None:
    looked = Looked(browser, live_server.url)
    page, seen = looked.page, Observation.objects.count()
    sign_in(page, live_server.url, shop.lead)
    item = lived["area"].items.filter(verdict="verify", stage="rough-in").first()
    page.goto(f"{live_server.url}{reverse('item', args=[item.id])}")
    for narrow in (WIDE, PHONE):
        page.set_viewport_size(narrow)
        page.get_by_label("Note").fill("a loose staple")
        page.get_by_role("button", name="Fix", exact=True).click()
        expect(page.get_by_role("alert")).to_contain_text("This withdraws the cover release of")
        expect(page.get_by_label("Note")).to_have_value("a loose staple")
        assert not looked.axe.run(page).response["violations"]
        page.screenshot(path=SCREENS / f"fail-asked-{narrow['width']}.png", full_page=True)
        page.get_by_role("link", name="Cancel: record nothing").click()
        page.goto(f"{live_server.url}{reverse('item', args=[item.id])}")
    assert Observation.objects.count() == seen
    page.get_by_role("button", name="Fix", exact=True).click()
    page.get_by_role("button", name="Record Fix and withdraw the release").click()
    page.get_by_role("button", name="Undo: recorded by mistake").click()
    assert item.observations.count() == 3
    expect(page.get_by_text("The office can release it again")).to_have_count(1)
    assert [fault for fault in looked.faults if "409" not in fault] == []


def test_what_passed_is_fetched_where_it_is_opened(browser, live_server, shop, lived) -> None:
    page = browser.new_page(viewport=PHONE)
    sign_in(page, live_server.url, shop.lead)
    item = lived["job"].items.filter(verdict="ok", stage="rough-in").first()
    room = item.finding["room"]
    page.goto(f"{live_server.url}/jobs/{lived['job'].id}/?room={room}#item-{item.id}")
    line = page.locator(f"#item-{item.id}")
    summary = line.locator("summary").first
    expect(summary).to_be_visible()
    expect(line.get_by_role("button", name="Fix", exact=True)).to_be_visible()
    line.get_by_text("Working").click()
    expect(line.get_by_text(in_english(item.finding["working"][0])).first).to_be_visible()
    summary.press("Enter")
    expect(line.get_by_role("button", name="Fix", exact=True)).to_be_hidden()
    expect(summary).to_be_focused()
    expect(page).to_have_title(f"{lived['job'].name} · Studbay")
