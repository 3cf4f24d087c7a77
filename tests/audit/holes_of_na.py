"""False answers N/A: hidden, counted as OK on site, or let through where they settle nothing."""

from uuid import uuid4

from inspections.models import Item, Observation, Outcome
from inspections.services.observations import item_observe
from inspections.services.walks import Walked, walk_record
from inspections.tasks import settle_due
from tests.audit.audited import audited
from tests.audit.holes import hole
from tests.audit.holes_of_cover import EAST
from tests.audit.world import HOUR, World, editable

WHY = "none in this house"


@hole("an N/A after a fail", f"{EAST}fix (1)")
def na_after_a_fail(world: World) -> None:
    world.look("fix", HOUR, HOUR)
    world.look("na", 2 * HOUR, 2 * HOUR, note=WHY)


@hole("an N/A of what is measured", f"{EAST}open (1)")
def na_of_what_is_measured(world: World) -> None:
    item = Item.objects.get(job=world.job, rule="free-conductors", area=world.east)
    world.look("na", HOUR, HOUR, item=item, note=WHY)


@hole("nobody could see it after an N/A", f"{EAST}open (1)")
def absent_after_na(world: World) -> None:
    world.look("na", HOUR, HOUR, note=WHY)
    world.look("cant_see", 2 * HOUR, 2 * HOUR)


@hole("a stale N/A in place of the pass", f"{EAST}open (1)")
def stale_na(world: World) -> None:
    editable("inspections_observation")
    world.passed.observations.update(stale=True, outcome="na", note=WHY)


@hole("an OK on site that is an N/A now", "1 answers N/A; facts: the record tells of 0")
def ok_as_na(world: World) -> None:
    editable("inspections_observation")
    world.passed.observations.update(outcome="na", note=WHY)


def recorded_na(world: World) -> None:
    """An N/A as a person records it, one at the desk and one of a phone."""
    item_observe(world.shop.lead, item=world.passed, outcome=Outcome.NA, note=WHY)
    now = world.clock.now
    item = Item.objects.get(job=world.job, rule="staples", area=world.west)
    made = Walked(uuid4(), item.id, Outcome.NA, item.fingerprint, now, now, WHY)
    walk_record(world.shop.lead, job=world.job, ticks=[made], phone_now=now)
    settle_due()
    assert audited() == []


@hole("an N/A that is hidden", "1 answers N/A; facts: the record tells of 2")
def hidden_na(world: World) -> None:
    recorded_na(world)
    editable("inspections_observation")
    world.passed.observations.filter(outcome="na").delete()


@hole("an N/A that is counted as OK on site", "1 answers N/A; facts: the record tells of 2")
def na_as_ok(world: World) -> None:
    recorded_na(world)
    editable("inspections_observation")
    Observation.objects.filter(item__job=world.job, outcome="na", item__area=world.west).update(
        outcome="ok"
    )
