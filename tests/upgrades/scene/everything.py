"""One database, from nothing to the moment at which it is kept."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inspections.models import Outcome
from inspections.selectors import latest_revision
from inspections.services.observations import item_observe
from inspections.tasks import settle_due
from jobs.models import Job, Person
from pages.management.scenario import scenario_load
from tests import stranger
from tests.sure import sure
from tests.upgrades import phone
from tests.upgrades.scene import office
from tests.upgrades.scene.fixed import Clock
from tests.upgrades.scene.people import DemoShop, SecondShop
from tests.upgrades.scene.stages import at_each_stage
from tests.upgrades.scene.trouble import found_elsewhere, picture, troubles, waits_for_a_trade

SCENARIO = Path(__file__).resolve().parents[3] / "examples" / "scenario.toml"
WALKED = "Quillet Lane, lot 14"
RELEASED = "Quillet Lane, lot 15"


@dataclass
class Scene:
    """What is known of a database besides its rows."""

    queue: dict[str, Any]
    """What a phone has still to send."""
    secrets: dict[str, Any]
    """What opens something, by what it opens."""


def everything(clock: Clock) -> Scene:
    """Three shops: the demo's two and the stranger's."""
    stranger.put()
    stranger.put_files()
    scenario_load(SCENARIO)
    shop = DemoShop("Ostrander & Vale Electric")
    second = SecondShop("Lanternby Wiring")
    for each in (shop, second):
        office.reached(each)
    office.amended(second)
    waits_for_a_trade(second)
    released = Job.objects.get(name=RELEASED)
    office.crewed(shop, released)
    office.planned(shop)
    clock.on(hours=1)
    at_each_stage(shop, clock)
    clock.on(hours=1)
    troubles(shop, clock)
    clock.on(hours=1)
    secrets = office.opened(shop, released, "bedroom")
    secrets["codes"] = office.proved(shop)
    queue = _walked(shop, clock)
    settle_due()
    for each in (shop, second):
        office.told(each)
    clock.on(minutes=1)
    return Scene(queue, secrets)


def _walked(shop: DemoShop, clock: Clock) -> dict[str, Any]:
    """A phone loaded its walk; then others changed the house and looked at what it showed."""
    job = Job.objects.get(name=WALKED)
    found_elsewhere(shop, job, _last_boxes(job), clock)
    loaded = phone.load(Person.objects.get(id=shop.member.id), job)
    shown = phone.boxes(loaded)
    clock.on(minutes=30)
    queue = phone.ticked(loaded, picture("teal"), shown[3])
    clock.on(minutes=30)
    against = job.items.select_related("job__shop").get(id=phone.passed(queue)[0]["item"])
    item_observe(shop.lead, item=against, outcome=Outcome.FIX, note="cable nicked")
    found_elsewhere(shop, job, shown[:3], clock)
    return queue


def _last_boxes(job: Job) -> list[str]:
    """Three boxes that stand on walls, of those that a walk comes to last."""
    boxes = json.loads(sure(latest_revision(job)).house)["boxes"]
    found = []
    for box in boxes:
        if box["place"]["surface"] == "wall":
            found.append(box["id"])
    return found[-3:]
