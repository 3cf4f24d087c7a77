"""A walk as a hand makes it on a phone: opening lines, reading cards, counting taps."""

from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect

from tests.browser.phones import Phone

FIGURE = "6.5"
"""Inches of free conductor, more than the least."""
OPEN = """(id) => {
  const row = document.querySelector(`[data-item="${id}"]`);
  if (!row) return false;
  for (let fold = row; fold; fold = fold.parentElement?.closest("details")) fold.open = true;
  return true;
}"""
"""Open the line of an item, and what that line stands in."""


def room_list(page: Page) -> Locator:
    """Where the room is chosen."""
    return page.get_by_label("Room", exact=True)


def opened(page: Page, item: object) -> Locator:
    """The answers of an item of the room that is shown, its line opened."""
    card = page.locator(f"#item-{item}")
    for _ in range(100):  # a room that was chosen just now is laid out anew
        if page.evaluate(OPEN, str(item)) and card.is_visible():
            return card
        page.wait_for_timeout(100)
    raise AssertionError(f"{item} is not in this room")


def open_all(page: Page) -> None:
    """Open every line of the room, and what is within."""
    every = "all => all.forEach((fold) => { fold.open = true; })"
    page.locator("#items details").evaluate_all(every)


def open_anywhere(page: Page, item: object) -> Locator:
    """The same, in whichever room it is."""
    room = page.evaluate(
        """async (id) => {
          const { keptJob } = await import("/static/js/walk/store.js");
          const { rooms } = await keptJob(document.body.dataset.person, document.body.dataset.job);
          return rooms.findIndex((room) => room.items.some((item) => item.id === id));
        }""",
        str(item),
    )
    room_list(page).select_option(index=room)
    page.locator("#passed").evaluate("(fold) => { fold.open = true; }")
    expect(page.locator(f'[data-item="{item}"]')).to_have_count(1)
    return opened(page, item)


def read_down(page: Page) -> int:
    """Read the room down to its end, as a thumb does; how many sweeps it took."""
    bottom = "() => scrollY + innerHeight >= document.documentElement.scrollHeight - 2"
    page.evaluate("scrollTo(0, 0)")
    page.wait_for_timeout(60)
    sweeps = 0
    while not page.evaluate(bottom):
        page.evaluate("scrollBy(0, 300)")
        page.wait_for_timeout(60)
        sweeps += 1
    return sweeps


def card_ok(page: Page, kind: str) -> Locator:
    """The OK of a whole card."""
    return page.locator(f".room-card[data-card={kind}] > .all")


@dataclass
class Taps:
    """How often a hand touched the phone, by what for."""

    ok: int = 0
    rooms: int = 0
    photographs: int = 0
    sample: int = 0
    sweeps: int = 0
    seen: list[str] = field(default_factory=list)


def give_samples(phone: Phone, taps: Taps) -> None:
    """A figure for each sampled box of the room, typed digit by digit."""
    page = phone.page
    for box in page.locator(".sample").all():
        if not box.locator(".given").is_visible():
            continue
        tape = box.get_by_label(", measured")
        tape.click()
        page.keyboard.type(FIGURE)
        box.get_by_role("button", name="Save").click()
        expect(box.locator(".check-state")).to_have_text("Checked")
        taps.sample += 1 + len(FIGURE) + 1
