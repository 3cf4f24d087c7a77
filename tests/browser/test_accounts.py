"""Accounts in a browser, with a device of Chromium's that makes passkeys (WebAuthn, level 2)."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect, sync_playwright

from jobs.models import Role
from jobs.services.factors import codes_left, passkeys_of
from jobs.services.people import invitation_make
from tests.browser.test_tour import FLAGS, sign_in
from tests.browser.widths import overflow
from tests.conftest import CHROMIUM
from tests.sure import sure

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PASSWORD, NEW = "four studs and a plate", "two plates and a stud"
PHONE: ViewportSize = {"width": 320, "height": 640}
DEVICE = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}

UNABLE_TO_OFFER = "PublicKeyCredential.isConditionalMediationAvailable = async () => false"


@pytest.fixture
def browser(monkeypatch) -> Iterator[Browser]:
    # The browser's driver runs an event loop in this thread; Django is called from it no less.
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    with sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield made
        made.close()


def phone(browser: Browser) -> Page:
    """A phone of its own, 320 pixels wide, that makes passkeys; what its console says is kept."""
    context: BrowserContext = browser.new_context(viewport=PHONE)
    page = context.new_page()
    device = context.new_cdp_session(page)
    device.send("WebAuthn.enable")
    device.send("WebAuthn.addVirtualAuthenticator", {"options": DEVICE})
    return page


def says(page: Page, text: str) -> None:
    expect(page.get_by_text(text).first).to_be_visible()


def is_in(page: Page) -> None:
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def fits(page: Page) -> None:
    assert overflow(page) <= 0, f"{page.url} is wider than a screen of 320"


def joined(page: Page, address: str, shop) -> list[str]:
    """Somebody who was invited comes in and adds a passkey; the codes for its loss."""
    role = {"shop": shop.shop, "role": Role.CREW_MEMBER, "for_whom": "Rowan"}
    _, secret = invitation_make(shop.office, **role)
    page.goto(f"{address}/join/{secret}")
    page.get_by_label("your name").fill("Rowan Ashdale")
    page.get_by_label("sign-in name").fill("rowan")
    page.get_by_label("password").fill(PASSWORD)
    page.get_by_role("button", name="Join", exact=True).click()
    fits(page)
    page.get_by_role("link", name="Add a passkey on this device").click()
    fits(page)
    page.get_by_label("Passkey name").fill("my phone")
    page.get_by_role("button", name="Add passkey").click()
    says(page, "Save your recovery codes")
    return page.locator("main code").all_inner_texts()


@pytest.mark.parametrize("offered", [True, False], ids=["beneath the name", "by the button"])
def test_who_is_invited_adds_a_passkey_and_signs_in_by_it_alone(
    browser, live_server, shop, offered
) -> None:
    page = phone(browser)
    if not offered:  # the device answers an offer by itself, and the button would be gone
        page.add_init_script(UNABLE_TO_OFFER)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    codes = joined(page, live_server.url, shop)
    assert len(codes) == 10
    rowan = shop.shop.memberships.get(person__username="rowan").person
    assert passkeys_of(rowan).get().data["name"] == "my phone"
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/**")
    if not offered:  # else the device signs in by itself, perhaps before the page is measured
        fits(page)
        page.get_by_role("button", name="Use a passkey").click()
    is_in(page)
    assert passkeys_of(rowan).get().last_used_at is not None
    assert not faults


def test_a_recovery_code_signs_in_once_the_phone_is_gone(browser, live_server, shop) -> None:
    codes = joined(phone(browser), live_server.url, shop)
    rowan = shop.shop.memberships.get(person__username="rowan").person
    other = browser.new_page(viewport=PHONE)
    other.goto(f"{live_server.url}/sign-in/")
    other.get_by_label("Name").fill("rowan")
    other.get_by_label("Password").fill(PASSWORD)
    other.get_by_role("button", name="Sign in", exact=True).click()
    says(other, "Use a passkey")
    fits(other)
    other.get_by_label("Code", exact=True).fill(codes[3])
    other.get_by_role("button", name="Sign in", exact=True).click()
    is_in(other)
    assert codes_left(rowan) == 9


def test_for_a_lost_phone_the_office_makes_a_link(browser, live_server, shop) -> None:
    lost, desk = phone(browser), browser.new_context().new_page()
    sign_in(lost, live_server.url, shop.member)
    is_in(lost)
    sign_in(desk, live_server.url, shop.office)
    desk.goto(f"{live_server.url}/people/")
    line = desk.locator("li", has_text=shop.member.username).first
    line.get_by_text("Change", exact=True).click()
    line.get_by_role("button", name="Make a sign-in link").click()
    told = desk.get_by_role("alert").inner_text()
    address = sure(re.search(r"http://\S+/back/\S+", told)).group(0)
    lost.goto(f"{live_server.url}/wishes/")
    expect(lost.get_by_label("Password")).to_be_visible()
    new = phone(browser)
    new.goto(address)
    fits(new)
    new.get_by_label("new password").fill(NEW)
    new.get_by_role("button", name="Save password").click()
    new.get_by_role("link", name="Add a passkey on this device").click()
    new.get_by_role("button", name="Add passkey").click()
    says(new, "Save your recovery codes")
    lost.goto(address)
    says(lost, "This link is no longer valid")


def test_a_password_is_reset_by_mail(browser, live_server, shop, mailoutbox, settings) -> None:
    settings.SITE_URL = live_server.url
    shop.lead.email = "lead@studbay.example"
    shop.lead.save()
    page = browser.new_page(viewport=PHONE)
    page.goto(f"{live_server.url}/sign-in/")
    page.get_by_role("link", name="Lost your password or phone?").click()
    fits(page)
    page.get_by_label("E-mail").fill(shop.lead.email)
    page.get_by_role("button", name="Send reset link").click()
    says(page, "Check your e-mail")
    (mail,) = mailoutbox
    page.goto(sure(re.search(r"http://\S+/reset/\S+", mail.body)).group(0))
    page.get_by_label("new password").fill("short")
    page.get_by_role("button", name="Save password").click()
    says(page, "too short")
    page.get_by_label("new password").fill(NEW)
    page.get_by_role("button", name="Save password").click()
    page.get_by_label("Name").fill(shop.lead.username)
    page.get_by_label("Password").fill(NEW)
    page.get_by_role("button", name="Sign in", exact=True).click()
    is_in(page)


def test_another_session_is_ended_from_here(browser, live_server, shop) -> None:
    here, there = browser.new_context().new_page(), browser.new_context().new_page()
    for page in (here, there):
        sign_in(page, live_server.url, shop.lead)
        is_in(page)
    here.set_viewport_size(PHONE)
    here.goto(f"{live_server.url}/account/")
    fits(here)
    here.get_by_role("button", name="Sign out there").click()
    expect(here.get_by_role("button", name="Sign out there")).to_have_count(0)
    there.goto(f"{live_server.url}/wishes/")
    expect(there.get_by_label("Password")).to_be_visible()
    here.goto(f"{live_server.url}/wishes/")
    is_in(here)
