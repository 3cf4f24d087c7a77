"""Circuits as pulled, without signal: most as drawn by one tap, some box by box."""

import json
from itertools import pairwise

import pytest
from playwright.sync_api import expect

from inspections.fixes.as_pulled import hops_of
from inspections.models import FactCorrection, Observation
from inspections.selectors import latest_revision
from tests.browser.test_walk import open_walk
from tests.sure import sure

pytestmark = [
    pytest.mark.browser,
    pytest.mark.any_database,
    pytest.mark.django_db(transaction=True),
]
CIRCUITS, TAPS, OTHERWISE = 35, 90, 5


def order_of(hops) -> list[str]:
    """The boxes of a run in the order they are fed; empty where it branches."""
    if any(first[1] != second[0] for first, second in pairwise(hops)):
        return []
    return [hops[0][0], *(end for _, end in hops)]


def chains(house, circuits: list[str]) -> dict[str, list[str]]:
    """The shortest runs of three boxes or more, in one row, by circuit."""
    found = {circuit: order_of(hops_of(house, circuit)) for circuit in circuits}
    long = {circuit: order for circuit, order in found.items() if len(order) > 3}
    return dict(sorted(long.items(), key=lambda pair: len(pair[1]))[:OTHERWISE])


def test_a_house_of_circuits_takes_few_taps(lead_walk, live_server, shop, planted_bytes) -> None:
    phone, job = lead_walk
    house = json.loads(planted_bytes)
    drawn = [each["id"] for each in house["circuits"] if hops_of(house, each["id"])]
    assert len(drawn) == CIRCUITS
    otherwise = chains(house, drawn)
    assert len(otherwise) == OTHERWISE
    page = phone.page
    page.context.set_offline(True)
    page.locator("#circuits > summary").click()
    taps = 1
    for circuit, order in otherwise.items():
        row = page.locator("#circuits li").filter(has_text=" – ".join(order)).first
        row.locator("summary").first.click()
        swapped = [*order[:-2], order[-1], order[-2]]
        for box in swapped[1:]:
            row.locator(f".parts > [data-node='{box}']").first.click()
        expect(row.locator(".fixed-says").first).to_have_text(" – ".join(swapped))
        row.get_by_role("button", name="Done: as tapped").click()
        expect(page.locator("#circuits li").filter(has_text=" – ".join(swapped))).to_contain_text(
            "not sent yet"
        )
        taps += 2 + len(swapped) - 1
        otherwise[circuit] = swapped
    rest = page.locator("#circuits > .all")
    count = int("".join(each for each in rest.inner_text() if each.isdigit()))
    rest.click()
    taps += 1
    expect(page.locator("#unsafe")).to_have_attribute("data-count", str(count + OTHERWISE))
    expect(rest).to_be_hidden()
    print(f"\n{CIRCUITS} circuits: {taps} taps, {count} as drawn")
    assert taps <= TAPS
    phone.kill()
    phone.start()
    open_walk(phone, live_server.url, shop.lead, job)
    saved = phone.page.get_by_text("Everything is sent and saved")
    expect(saved).to_be_visible(timeout=90_000)
    assert FactCorrection.objects.filter(job=job).count() == OTHERWISE
    now = json.loads(sure(latest_revision(job)).house)
    for circuit, order in otherwise.items():
        assert sorted(hops_of(now, circuit)) == sorted(pairwise(order))
    seen = Observation.objects.filter(item__job=job, item__rule="circuit-paths", outcome="ok")
    assert seen.count() == count
    as_drawn = set(seen.values_list("item__subject", flat=True))
    assert not as_drawn & set(otherwise)
    assert as_drawn <= set(drawn)


def test_what_is_said_of_a_circuit_can_be_taken_back_and_a_run_can_branch(
    lead_walk, live_server, shop, planted_bytes
) -> None:
    phone, job = lead_walk
    house = json.loads(planted_bytes)
    circuit, order = next(iter(chains(house, [c["id"] for c in house["circuits"]]).items()))
    panel, first, second, third, *rest = order
    page = phone.page
    page.locator("#circuits > summary").click()
    row = page.locator("#circuits li").filter(has_text=" – ".join(order)).first
    row.locator("summary").first.click()
    for box in (first, second, first, third, *rest):
        row.locator(f".parts > [data-node='{box}']").first.click()
    row.get_by_role("button", name="Undo last").click()
    row.locator(f".parts > [data-node='{(third, *rest)[-1]}']").first.click()
    row.get_by_role("button", name="Done: as tapped").click()
    page.get_by_role("button", name="Undo: not sent yet").click()
    expect(page.locator("#unsafe")).to_have_attribute("data-count", "0")
    row.locator("summary").first.click()
    for box in (first, second, first, third, *rest):
        row.locator(f".parts > [data-node='{box}']").first.click()
    row.get_by_role("button", name="Done: as tapped").click()
    page.get_by_role("button", name="Send and refresh").click()
    saved = page.get_by_text("Everything is sent and saved")
    expect(saved).to_be_visible(timeout=60_000)
    now = sorted(hops_of(json.loads(sure(latest_revision(job)).house), circuit))
    assert now == sorted([(panel, first), (first, second), *pairwise([first, third, *rest])])
