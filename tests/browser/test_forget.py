"""Signing out on a phone: what the site gave it goes, what it has not sent yet stays.

OWASP ASVS 5.0.0, 14.3.1.
"""

import pytest
from playwright.sync_api import expect, sync_playwright

from tests.browser.phones import Phone
from tests.browser.test_walk import open_walk
from tests.browser.walking import open_all

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
KEPT = """async () => {
  const count = (db, name) => new Promise((done) => {
    const asked = db.transaction(name).objectStore(name).count();
    asked.onsuccess = () => done(asked.result);
  });
  const db = await new Promise((done) => {
    const asked = indexedDB.open("studbay-walk");
    asked.onsuccess = () => done(asked.result);
  });
  const found = { jobs: await count(db, "jobs"), queue: await count(db, "queue") };
  db.close();
  return { ...found, pages: (await caches.keys()).includes("studbay-walk-pages-1") };
}"""


def test_signing_out_takes_the_job_along_and_leaves_what_waits(
    monkeypatch, tmp_path, live_server, shop, house_bytes
) -> None:
    monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    job = shop.roughed_in(house_bytes)
    with sync_playwright() as driver:
        phone = Phone(driver, tmp_path / "phone")
        phone.start()
        try:
            open_walk(phone, live_server.url, shop.member, job)
            page = phone.page
            assert page.evaluate(KEPT) == {"jobs": 1, "queue": 0, "pages": True}
            page.context.route("**/sync", lambda route: route.abort())
            open_all(page)
            page.get_by_role("button", name="OK", exact=True, disabled=False).first.click()
            expect(page.locator("#unsafe")).to_have_attribute("data-count", "1")
            page.on("dialog", lambda dialog: dialog.accept())
            page.get_by_role("button", name="Sign out").click()
            expect(page.locator("body")).to_have_attribute("data-forgotten", "yes")
            assert page.evaluate(KEPT) == {"jobs": 0, "queue": 1, "pages": False}
        finally:
            phone.kill()
