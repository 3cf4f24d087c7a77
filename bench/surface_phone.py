"""A phone for `bench.surface`: a slow browser of 390 x 844 under a thumb that is counted."""

from typing import Any
from uuid import UUID

from playwright.sync_api import Locator, Playwright, expect

from tests.browser.test_tour import FLAGS
from tests.conftest import CHROMIUM

WIDTH, HEIGHT = 390, 844
SLOWER = 4
SCREENS = f"document.documentElement.scrollHeight / {HEIGHT}"
NODES = "document.querySelectorAll('*').length"
PAINTED = """() => {
  const [asked] = performance.getEntriesByType("navigation");
  const [paint] = performance.getEntriesByName("first-contentful-paint");
  return paint && { painted: paint.startTime, answered: asked.responseStart };
}"""
WATCH = """() => {
  window.slowest = {};
  new PerformanceObserver((list) => {
    for (const each of list.getEntries()) {
      if (!each.interactionId) continue;
      window.slowest[each.interactionId] =
        Math.max(window.slowest[each.interactionId] ?? 0, each.duration);
    }
  }).observe({ type: "event", durationThreshold: 16, buffered: true });
}"""
SLOWEST = "Math.max(0, ...Object.values(window.slowest))"
REST = 700
"""Milliseconds after which a tap has been answered and counted."""


class Phone:
    """A browser whose processor is slowed; `tapped` is how often it was touched."""

    def __init__(self, driver: Playwright, address: str, key: str) -> None:
        self.address, self.key = address, key
        self.browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        self._new_page()

    def _new_page(self, signed_in: bool = True) -> None:
        screen: Any = {"width": WIDTH, "height": HEIGHT}
        context = self.browser.new_context(viewport=screen, has_touch=True, is_mobile=True)
        if signed_in:
            context.add_cookies([{"name": "sessionid", "value": self.key, "url": self.address}])
        self.page = context.new_page()
        slow = context.new_cdp_session(self.page)
        slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        self.tapped = 0

    def end(self) -> None:
        """Close the browser."""
        self.browser.close()

    def _open(self, job: UUID, query: str = "") -> None:
        self.page.goto(f"{self.address}/jobs/{job}/{query}", wait_until="networkidle")

    def _tap(self, where: Locator) -> None:
        where.first.scroll_into_view_if_needed()
        where.first.tap(force=True)
        self.tapped += 1

    def size(self, job: UUID) -> dict[str, float]:
        """Screens and nodes of the page before anything is opened."""
        self._open(job)
        return {
            "screens before anything is opened": self.page.evaluate(SCREENS),
            "nodes": self.page.evaluate(NODES),
        }

    def times(self, job: UUID) -> dict[str, float]:
        """Until the first words are painted, and how much of that is the site's own time."""
        self._open(job)
        found = self.page.wait_for_function(PAINTED).json_value()
        return {
            "first contentful paint, s": found["painted"] / 1000,
            "of it until the site answers, s": found["answered"] / 1000,
            "of it from then on, s": (found["painted"] - found["answered"]) / 1000,
        }

    def answers(self, job: UUID) -> dict[str, float]:
        """The slowest of a script of touches: from the finger to what it changes on the screen."""
        self._open(job)
        page = self.page
        page.evaluate(WATCH)
        slowest: dict[str, float] = {}
        touches = {
            "zoom": page.locator("[data-zoom=in]"),
            "the whole storey": page.locator("[data-zoom=all]"),
            "a ring": page.locator("svg .ring"),
            "all rooms": page.locator("button.all-rooms"),
            "a room": page.locator("details.room:not([open]):visible > summary"),
            "a line": page.locator("details.room[open] .open-line:visible > summary"),
            "the menu": page.locator(".menu > summary"),
            "the search": page.locator("#search"),
        }
        for name, where in touches.items():
            self._tap(where)
            page.wait_for_timeout(REST)
            slowest[f"touch: {name}, ms"] = page.evaluate(SLOWEST)
            page.evaluate("window.slowest = {}")
        page.keyboard.press("R")
        page.wait_for_timeout(2 * REST)
        slowest["touch: a letter of a search, ms"] = page.evaluate(SLOWEST)
        return {"interaction to next paint, ms": max(slowest.values())} | slowest

    def taps(self, job: UUID, failing: dict[str, str]) -> dict[str, float]:
        """From the page that a message links to; to the last failing item of each room."""
        self._open(job)
        self.tapped = 0
        self._tap(self.page.locator("a.next"))
        self._sees(".open-line.not_to_code[open]")
        found: dict[str, float] = {"taps from a message to the first failing card": self.tapped}
        most = 0
        for room, item in failing.items():
            self._open(job)
            self.tapped = 0
            self._tap(self.page.locator(f"details.room[data-room='{room}'] > summary"))
            self._tap(self.page.locator(f"#item-{item} > summary"))
            self._sees(f"#item-{item}[open]")
            most = max(most, self.tapped)
        return found | {"taps to any failing item of a named room, most": most}

    def taps_from_sign_in(self, job: UUID, name: str) -> dict[str, float]:
        """From what opens after signing in to the first failing card."""
        self._new_page(signed_in=False)
        self.page.goto(f"{self.address}/sign-in/")
        self.page.get_by_label("Name").fill(name)
        self.page.get_by_label("Password").fill("rough-in")
        self.page.get_by_role("button", name="Sign in").click()
        self._tap(self.page.locator(f"a[href='/jobs/{job}/']"))
        self._tap(self.page.locator("a.next"))
        self._sees(".open-line.not_to_code[open]")
        return {"taps from sign-in to the first failing card": self.tapped}

    def _sees(self, card: str) -> None:
        """A card that is open and on the screen, with what to do about it."""
        shown = self.page.locator(card).first
        expect(shown.get_by_role("button", name="Fix", exact=True)).to_be_visible(timeout=30_000)
        expect(shown).to_be_in_viewport()
