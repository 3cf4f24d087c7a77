"""False conclusions about the cover: a live release beside a hold, copies that say otherwise."""

from datetime import date, timedelta

from audit.found import Sort
from inspections.models import (
    Acceptance,
    AreaStanding,
    CoverRelease,
    Deficiency,
    HouseRevision,
    Item,
    JobStanding,
    Photograph,
    TradeReport,
    WithdrawalAnswer,
)
from jobs.models import Authority, Permit
from tests.audit.holes import hole
from tests.audit.world import AUDITED, BEGIN, HOUR, World, editable
from tests.inspections.tiny import HOUSES

EAST = "Lot 1, East: cover release: tables: released, R2; facts: held: "
MINUTE = timedelta(minutes=1)


@hole("a fail that nothing answers", f"{EAST}fix (1)")
def fail(world: World) -> None:
    world.look("fix", HOUR, HOUR)


@hole("a pass of 2099 before the fail", f"{EAST}fix (1)")
def pass_of_2099(world: World) -> None:
    world.look("ok", timedelta(days=73 * 365), HOUR)
    world.look("fix", 2 * HOUR, 2 * HOUR)


@hole("a pass of 9:00 synced at 11:00 against a fail of 10:00", f"{EAST}fix (1)")
def synced_pass(world: World) -> None:
    world.look("fix", HOUR, HOUR)
    world.look("ok", HOUR / 2, 2 * HOUR)


@hole("the same of the same person", f"{EAST}fix (1)")
def synced_pass_of_the_same(world: World) -> None:
    world.look("fix", HOUR, HOUR, seen_by=world.shop.member)
    world.look("ok", HOUR / 2, 2 * HOUR, seen_by=world.shop.member)


@hole("a pass whose maker could not know of the fail", f"{EAST}fix (1)")
def unknowing_pass(world: World) -> None:
    world.look("fix", HOUR, HOUR)
    world.look("ok", HOUR + MINUTE, 2 * HOUR, known_at=BEGIN + HOUR - MINUTE)


@hole("a pass whose measure is under its limit", f"{EAST}fix (1)")
def measured_pass(world: World) -> None:
    item = Item.objects.get(job=world.job, rule="free-conductors", area=world.east)
    assert item.measure_min_mm == 150
    world.look("ok", HOUR, HOUR, item=item, measured_mm=10)


@hole("a pass whose measure is over its limit", f"{EAST}fix (1)")
def measured_pass_over(world: World) -> None:
    item = Item.objects.get(job=world.job, rule="panel-handles")
    assert item.measure_max_mm == 1700
    world.look("ok", HOUR, HOUR, item=item, measured_mm=1701)


@hole("an item that nobody could see", f"{EAST}open (1)")
def absent(world: World) -> None:
    world.look("cant_see", HOUR, HOUR)


@hole("a stale pass in place of the pass", f"{EAST}open (1)")
def stale_pass(world: World) -> None:
    editable("inspections_observation")
    world.passed.observations.update(stale=True)


@hole("a pass of other facts", f"{EAST}open (1)")
def pass_of_other_facts(world: World) -> None:
    editable("inspections_observation")
    world.passed.observations.update(fingerprint="0" * 16)


def drawn(world: World) -> Item:
    """An item of the east that hands made as drawn, and that somebody on site confirmed."""
    return Item.objects.get(job=world.job, rule="box-support", subject="east-wide")


@hole("a stale look at what hands made as drawn", f"{EAST}open (1)")
def stale_look_at_what_is_drawn(world: World) -> None:
    editable("inspections_observation")
    drawn(world).observations.update(stale=True)


@hole("what hands made as drawn, without any look", f"{EAST}open (1)")
def no_look_at_what_is_drawn(world: World) -> None:
    editable("inspections_observation")
    drawn(world).observations.all().delete()


@hole("an item of design that waits for the site", "its rule is not of workmanship")
def design_that_waits(world: World) -> None:
    item = Item.objects.filter(job=world.job, verdict="ok", workmanship=False)[0]
    Item.objects.filter(id=item.id).update(workmanship=True)


@hole("a permit issued in 2030", f"{EAST}permit")
def permit_ahead(world: World) -> None:
    Permit.objects.filter(job=world.job).update(issued_on=date(2030, 1, 1), expires_on=None)


@hole("a permit that expired", f"{EAST}permit")
def permit_expired(world: World) -> None:
    Permit.objects.filter(job=world.job).update(expires_on=date(2026, 3, 3))


@hole("a permit that ended for want of inspections", f"{EAST}permit", later=timedelta(days=31))
def permit_idle(world: World) -> None:
    Authority.objects.filter(id=world.shop.authority.id).update(idle_days=30)


@hole("no permit", f"{EAST}permit")
def no_permit(world: World) -> None:
    Permit.objects.filter(job=world.job).delete()


@hole("no acceptance", f"{EAST}acceptance")
def no_acceptance(world: World) -> None:
    editable("inspections_acceptance")
    Acceptance.objects.filter(area=world.east).update(
        area=world.west, inspection=None, basis="waiver"
    )


def _accepted_later(world: World, answer: str, rests_on: str) -> None:
    given = {"basis": "waiver", "reference": "W1", "recorded_by": world.shop.office}
    given |= {"answer": answer, "rests_on": rests_on, "recorded_at": BEGIN + HOUR}
    Acceptance.objects.create(area=world.east, **given)


@hole("an acceptance that was followed by a refusal", f"{EAST}acceptance")
def refused(world: World) -> None:
    latest = Acceptance.objects.filter(area=world.east).latest("recorded_at")
    _accepted_later(world, "not_accepted", latest.rests_on)


@hole("an acceptance that rests on changed items", f"{EAST}changed")
def changed(world: World) -> None:
    _accepted_later(world, "accepted", "0" * 16)


@hole(
    "a cover release that rests on another area's acceptance",
    "East: cover release: tables: released",
)
def anothers_acceptance(world: World) -> None:
    said = Acceptance.objects.filter(area=world.west).first()
    CoverRelease.objects.filter(area=world.east).update(acceptance=said)


@hole("a cover release that rests on a refusal", "it rests on no acceptance before it")
def rests_on_refusal(world: World) -> None:
    editable("inspections_acceptance")
    Acceptance.objects.filter(area=world.east).update(answer="not_accepted")


@hole("an open deficiency", f"{EAST}deficiency (1)")
def deficiency(world: World) -> None:
    Deficiency.objects.filter(job=world.job).update(accepted_at=None, corrected_at=None)


@hole("a deficiency that waits for the inspector", f"{EAST}deficiency (1)")
def corrected(world: World) -> None:
    Deficiency.objects.filter(job=world.job).update(accepted_at=None)


@hole("a withdrawal whose reason nobody answered", "held: withdrawn")
def unanswered(world: World) -> None:
    editable("inspections_withdrawalanswer")
    WithdrawalAnswer.objects.filter(cover_release__area=world.west).delete()


@hole(
    "an area that was to be inspected again",
    "West: cover release: tables: released, R1; facts: held: changed",
)
def inspect_again(world: World) -> None:
    editable("inspections_withdrawalanswer")
    WithdrawalAnswer.objects.update(inspect_again=True)


@hole("a trade that is not done any more", f"{EAST}trade (plumbing)")
def trade(world: World) -> None:
    given = {"recorded_by": world.shop.office, "recorded_at": BEGIN + HOUR}
    TradeReport.objects.create(job=world.job, trade="plumbing", done=False, **given)


@hole("a photograph that is missing", f"{EAST}photograph (1)")
def photograph(world: World) -> None:
    editable("inspections_photograph")
    Photograph.objects.filter(item__area=world.east).delete()


@hole("a photograph of other facts", f"{EAST}photograph (1)")
def photograph_of_other_facts(world: World) -> None:
    editable("inspections_photograph")
    Photograph.objects.filter(item__area=world.east).update(fingerprint="0" * 16)


@hole("an item whose copy hides that it fails", f"{EAST}fix (1)")
def hidden(world: World) -> None:
    _recorded(world, "short")


@hole("an item whose copy hides that a fact is missing", f"{EAST}info_needed (1)")
def hidden_unknown(world: World) -> None:
    _recorded(world, "unknown")


def _recorded(world: World, name: str) -> None:
    """A house in the place of the one that the items were drawn from."""
    editable("inspections_houserevision")
    HouseRevision.objects.filter(job=world.job).update(house=HOUSES[name].decode())


@hole("an item that was retired by hand", "staples:room:east is not there")
def retired(world: World) -> None:
    Item.objects.filter(id=world.passed.id).update(current=False)


@hole("an item that was put into another area", "West: item: tables: staples:room:east west")
def moved(world: World) -> None:
    Item.objects.filter(id=world.passed.id).update(area=world.west)


@hole("an item whose limit was loosened", "free-conductors:east-wide east rough-in ok")
def loosened(world: World) -> None:
    Item.objects.filter(job=world.job, rule="free-conductors").update(measure_min_mm=5)


@hole("an item whose words say otherwise", "its words say ok")
def words(world: World) -> None:
    finding = world.passed.finding | {"verdict": "ok"}
    Item.objects.filter(id=world.passed.id).update(finding=finding)


@hole("a revision that no items were drawn from", "the record tells of revision 1 last")
def undrawn(world: World) -> None:
    given = {"number": 2, "house": HOUSES["short"].decode(), "rulebook": "cec-2021"}
    given |= {"recorded_by": world.shop.lead, "recorded_at": BEGIN + HOUR}
    HouseRevision.objects.create(job=world.job, **given)


@hole(
    "a copy that says released where nothing is",
    "area: tables: 0 holds: none; released; facts: 0 holds",
)
def released_by_copy_alone(world: World) -> None:
    given = {"withdrawn_at": AUDITED, "withdrawn_because": "by hand"}
    CoverRelease.objects.filter(area=world.east).update(**given)


@hole(
    "a copy that says held where nothing holds",
    "East: area: tables: 1 holds: permit; facts: released",
)
def held_by_copy_alone(world: World) -> None:
    holds = [{"reason": "permit", "says": "x", "lifted_by": "y"}]
    of_east = AreaStanding.objects.filter(area=world.east)
    of_east.update(released=False, hold_count=1, holds=holds)


@hole("a copy that counts otherwise", "7 rough-in items")
def counts_otherwise(world: World) -> None:
    standing = AreaStanding.objects.get(area__job=world.plain, area__code="east")
    for each in standing.holds:
        if each["reason"] == "open":
            each["says"] = "7 rough-in items are waiting for eyes or a tape."
    standing.save()


@hole("a copy that leaves a hold out", "Lot 2, East: area: tables: ")
def leaves_out(world: World) -> None:
    standing = AreaStanding.objects.get(area__job=world.plain, area__code="east")
    standing.holds = standing.holds[1:]
    standing.hold_count -= 1
    standing.save()


@hole("an area without a copy", "East: area: tables: no standing")
def no_copy(world: World) -> None:
    AreaStanding.objects.filter(area=world.east).delete()


@hole("a stage that facts did not carry it to", "stage: tables: final; facts: finish")
def stage(world: World) -> None:
    JobStanding.objects.filter(job=world.job).update(stage="final")


@hole("a stage with a permit of a day to come", "stage: tables: finish; facts: permit")
def stage_ahead(world: World) -> None:
    Permit.objects.filter(job=world.job).update(issued_on=date(2030, 1, 1), expires_on=None)


@hole("a next moment that passed undrawn", "settling: tables: ", later=HOUR)
def passed_undrawn(world: World) -> None:
    JobStanding.objects.filter(job=world.job).update(next_at=AUDITED + MINUTE)


@hole("facts that nobody settled for long", "settling: tables: ", later=HOUR)
def behind(world: World) -> None:
    standing = JobStanding.objects.get(job=world.job)
    JobStanding.objects.filter(job=world.job).update(settled=standing.settled - 1)


@hole("a next moment that comes too late", "the permit turns at 2026-09-02T06:00:00+00:00")
def next_too_late(world: World) -> None:
    JobStanding.objects.filter(job=world.plain).update(next_at=None)


def _set_aside(world: World, **given: object) -> None:
    """The job, as one that could not be settled."""
    given |= {"set_aside_at": BEGIN + HOUR, "set_aside_because": "ZeroDivisionError: x", "tries": 3}
    JobStanding.objects.filter(job=world.job).update(next_at=AUDITED, **given)


@hole("a job that is set aside", "settling: tables: set aside since 2026-03-04", sort=Sort.STATE)
def set_aside(world: World) -> None:
    _set_aside(world, try_at=AUDITED + HOUR)


@hole("a job that is set aside and never tried again", "facts: nobody has tried")
def forgotten(world: World) -> None:
    _set_aside(world, try_at=AUDITED - HOUR)


@hole(
    "facts that wait for the next sweep", "area: tables: 0 holds: none; released", sort=Sort.STATE
)
def waits(world: World) -> None:
    """The permit changed this minute: the copies may be behind, for a sweep."""
    JobStanding.objects.filter(job=world.job).update(next_at=AUDITED)
    Permit.objects.filter(job=world.job).update(
        issued_on=date(2026, 1, 12), expires_on=date(2026, 3, 3)
    )
