"""Defects closed on the walk without signal: each by one fact, judged on the phone at once."""

import json
import math
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

import pytest
from playwright.sync_api import Locator, Page, expect

from inspections.checker.finding import Verdict
from inspections.checker.house.paths import value_at
from inspections.models import FactCorrection, HouseRevision, Item, Observation, Photograph
from inspections.selectors import latest_revision
from inspections.services.fact_corrections import CorrectedFact, fact_correct
from tests.browser.test_walk import open_walk, picture
from tests.browser.walking import room_list
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
DEFECTS = 12
TAPS_A_DEFECT = 8
INCH = 25.4
QUARTER = INCH / 4
"""Whoever reads a tape to the quarter inch."""
LENGTHS = """async () => {
  const { keptJob } = await import("/static/js/walk/store.js");
  const { rooms } = await keptJob(document.body.dataset.person, document.body.dataset.job);
  const lengths = ({ fixes }) => fixes.filter(({ kind }) => kind === "length");
  const first = (room) => room.items.filter((item) => item.first);
  return rooms.flatMap((each, room) => first(each).flatMap((item) =>
    lengths(item).map((fix) => ({ room, item: item.id, ...fix }))));
}"""
"""Every length whose change can settle a line, with the room that it is in."""


@dataclass
class Defect:
    """A line that one length settles."""

    room: int
    item: str
    path: list[str | int]
    right: str
    """A figure that complies, as it is typed in inches."""
    wrong: str
    """One that does not; empty where none is to be less or more."""


def inches(quarters: int) -> str:
    return f"{quarters / 4:g}" if quarters >= 0 else ""


def defect_of(fix: dict[str, Any]) -> Defect:
    least, most = fix["least"], fix["most"]
    if least is None:
        right, wrong = math.floor(most / QUARTER), math.ceil(most / QUARTER) + 1
    else:
        right, wrong = math.ceil(least / QUARTER), math.floor(least / QUARTER) - 1
    return Defect(fix["room"], fix["item"], fix["path"], inches(right), inches(wrong))


def chosen(page: Page) -> list[Defect]:
    """A dozen lines, each with a fact of its own, by the facts that the phone was given."""
    found: dict[str, Defect] = {}
    taken: set[str] = set()
    for fix in page.evaluate(LENGTHS):
        where = "/".join(map(str, fix["path"]))
        if fix["item"] in found or where in taken:
            continue
        taken.add(where)
        found[fix["item"]] = defect_of(fix)
    assert len(found) >= DEFECTS
    return list(found.values())[:DEFECTS]


def line_of(page: Page, defect: Defect) -> Locator:
    room_list(page).select_option(index=defect.room)
    line = page.locator(".first-line").filter(has=page.locator(f'[data-item="{defect.item}"]'))
    expect(line).to_have_count(1)
    return line


def give(page: Page, line: Locator, defect: Defect, figure: str) -> int:
    """Type a figure for the fact of a line and record it; how many taps that takes."""
    line.locator(".fixed > .main").click()
    path = ",".join(f'"{part}"' if isinstance(part, str) else str(part) for part in defect.path)
    form = line.locator(f"form[data-path='[{path}]']")
    form.locator("input").click()
    page.keyboard.type(figure)
    form.get_by_role("button", name="Record").click()
    expect(line.locator(".fixed-says")).to_contain_text("Not sent yet.")
    first = line.locator(".fix input").first
    return 2 + len(figure) + (0 if form.locator("input") == first else 1)


def waiting(page: Page, count: int) -> None:
    expect(page.locator("#unsafe")).to_have_attribute("data-count", str(count))


@pytest.fixture
def walk(lead_walk, live_server):
    """The same without signal, with the address of the walk."""
    phone, job = lead_walk
    phone.page.context.set_offline(True)
    return phone, f"{live_server.url}/walk/{job.id}/", job


def test_a_dozen_defects_are_fixed_without_signal(walk, live_server, shop) -> None:
    phone, address, job = walk
    defects = chosen(phone.page)
    revisions = HouseRevision.objects.filter(job=job).count()
    photographs = Photograph.objects.count()
    taps = []
    for number, defect in enumerate(defects):
        page = phone.page
        line = line_of(page, defect)
        taps.append(give(page, line, defect, defect.right) + 1)
        line.get_by_label("Photo of").set_input_files(picture(number))
        waiting(page, 2 * number + 2)
        expect(line.locator(".sign-words")).to_have_text("Fixed")
        if number == DEFECTS // 2:  # the battery is empty
            phone.kill()
            phone.start()
            phone.page.context.set_offline(True)
            phone.page.goto(address)
            waiting(phone.page, 2 * number + 2)
    print(f"\ntaps: {taps}")
    assert sum(taps) <= TAPS_A_DEFECT * DEFECTS
    page = phone.page
    page.context.set_offline(False)
    # A killed browser has lost its session, and nothing else.
    open_walk(phone, live_server.url, shop.lead, job)
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=90_000)
    assert HouseRevision.objects.filter(job=job).count() == revisions + DEFECTS
    assert FactCorrection.objects.filter(job=job, made_by=shop.lead).count() == DEFECTS
    assert Photograph.objects.count() == photographs + DEFECTS
    for defect, revision in zip(
        defects, HouseRevision.objects.filter(job=job).order_by("number")[revisions:], strict=True
    ):
        item = Item.objects.get(id=defect.item)
        assert item.verdict == Verdict.OK or not item.current, item
        assert str(shop.lead) in revision.why
    assert Observation.objects.filter(item__job=job, given="fixed").exists()


def test_a_wrong_figure_stays_not_to_code_on_the_phone(walk) -> None:
    phone, _, job = walk
    page = phone.page
    defect = next(each for each in chosen(page) if each.wrong)
    line = line_of(page, defect)
    sign = line.locator(".sign-words").inner_text()
    assert sign in ("Not to code", "Info needed")
    give(page, line, defect, defect.wrong)
    expect(line.locator(".fixed-says")).to_contain_text("Still not to code")
    expect(line.locator(".sign-words")).to_have_text(sign)
    give(page, line, defect, defect.right)
    expect(line.locator(".sign-words")).to_have_text("Fixed")
    page.context.set_offline(False)
    page.get_by_role("button", name="Send and refresh").click()
    expect(page.get_by_text("Everything is sent and saved")).to_be_visible(timeout=60_000)
    assert FactCorrection.objects.filter(job=job).count() == 2
    assert Item.objects.get(id=defect.item).verdict == Verdict.OK


def test_what_changed_meanwhile_is_refused_and_typed_again(walk, shop) -> None:
    phone, _, job = walk
    page = phone.page
    defect = chosen(page)[0]
    line = line_of(page, defect)
    give(page, line, defect, defect.right)
    house = json.loads(sure(latest_revision(job)).house)
    was = value_at(house, tuple(defect.path))
    meanwhile = CorrectedFact(tuple(defect.path), was, float(defect.right) * INCH + 1)
    fact_correct(shop.office, job=job, correction_id=uuid4(), base=1, changes=[meanwhile])
    page.context.set_offline(False)
    page.get_by_role("button", name="Send and refresh").click()
    expect(line.locator(".fixed-says")).to_contain_text("Refused", timeout=60_000)
    assert FactCorrection.objects.filter(job=job).count() == 1
