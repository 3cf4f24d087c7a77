"""What people were told falsely or not told, and rows that lead to two shops or jobs."""

from datetime import date, timedelta
from typing import Any

from audit.found import Sort
from inspections.models import (
    Acceptance,
    CoverRelease,
    Deficiency,
    Inspection,
    Item,
    Link,
    TradeReport,
)
from jobs.models import Area, Crew, DayList, DriveTime, Job, Membership, OwnTask
from notifications.models import Delivery, Notice, State
from tests.audit.holes import hole
from tests.audit.world import AUDITED, BEGIN, HOUR, World, editable
from tests.sure import the_first

MINUTE = timedelta(minutes=1)


def _notice(world: World, reason: str = "area released", **given: Any) -> Notice:
    """A notice about the job that nothing gave."""
    given = {"person": world.shop.builder, "shop": world.shop.shop, "job": world.job} | given
    given = {"occasion": "x", "kind": "cover", "text": "may be covered"} | given
    moments = {"due_at": AUDITED - MINUTE, "given_at": AUDITED - MINUTE}
    return Notice.objects.create(reason=reason, **moments, **given)


def _released(world: World) -> Notice:
    """What the builder was told of the east."""
    live = CoverRelease.objects.get(area=world.east, withdrawn_at=None)
    return Notice.objects.get(person=world.shop.builder, occasion=str(live.id))


@hole("a builder who was not told that an area is released", "East: notice: tables: no notice to b")
def not_told(world: World) -> None:
    _released(world).delete()


@hole("a builder whose notice was taken back", "East: notice: tables: the notice to builder-")
def told_no_more(world: World) -> None:
    Notice.objects.filter(id=_released(world).id).update(moot_at=AUDITED)


@hole(
    "a builder who was not told that a cover release is withdrawn",
    "facts: cover release withdrawn, since",
)
def withdrawal_not_told(world: World) -> None:
    given = {"withdrawn_at": AUDITED, "withdrawn_because": "by hand"}
    CoverRelease.objects.filter(area=world.east).update(**given)


@hole("a hookup that nobody was told of", "no notice to builder-")
def hookup_not_told(world: World) -> None:
    Notice.objects.filter(job=world.job, reason="hookup authorised").delete()


@hole("a result that nobody was told of", "facts: result recorded, since")
def result_not_told(world: World) -> None:
    Notice.objects.filter(job=world.job, reason="result recorded").delete()


@hole("a booking that nobody was told of", "facts: inspection booked, since")
def booking_not_told(world: World) -> None:
    given = {"kind": "finish", "asked_at": BEGIN, "asked_by": world.shop.office}
    inspection = Inspection.objects.create(job=world.job, **given)
    window = {"starts_at": AUDITED + HOUR, "ends_at": AUDITED + 2 * HOUR}
    by = {"recorded_by": world.shop.office, "recorded_at": AUDITED}
    inspection.events.create(happening="booked", **window, **by)


@hole("a deficiency that the crew lead was not told of", "facts: deficiency called, since")
def deficiency_not_told(world: World) -> None:
    Deficiency.objects.filter(job=world.job).update(accepted_at=None, corrected_at=None)


@hole(
    "news that is over and that nobody was told", "notice: tables: nobody was told", sort=Sort.STATE
)
def news_is_over(world: World) -> None:
    """It is over for everything, so that all else is as it should be."""
    told = Notice.objects.filter(job=world.job, reason="hookup authorised")
    told.update(reason="another", moot_at=AUDITED)
    editable("inspections_milestonereached")
    world.job.milestones.update(recorded_at=BEGIN - timedelta(days=8))


@hole("an area told as released that is not", "is told: area released; facts: that does not hold")
def told_falsely(world: World) -> None:
    _notice(world)


@hole(
    "an inspection told as booked that is held",
    "is told: inspection booked; facts: that does not hold",
)
def told_of_what_is_over(world: World) -> None:
    Notice.objects.filter(job=world.job, reason="inspection booked").update(moot_at=None)
    inspection = the_first(world.job.inspections)
    _notice(world, "inspection booked", occasion=str(the_first(inspection.events).id))


@hole("the lead of a crew told what is the builder's", "lead-")
def told_to_others(world: World) -> None:
    live = CoverRelease.objects.get(area=world.east, withdrawn_at=None)
    _notice(world, occasion=str(live.id), person=world.shop.lead)


@hole("somebody who left the shop and is still told", "is not in the shop")
def left(world: World) -> None:
    Membership.objects.filter(person=world.shop.builder).delete()


@hole("the people of another builder who are told", "works for another builder")
def of_another_builder(world: World) -> None:
    _notice(world, "something else", person=world.shop.other_builder)


@hole("a stranger who is told", "is not in the shop")
def stranger_told(world: World) -> None:
    _notice(world, "something else", person=world.stranger.office)


@hole("a message that was sent twice", "was sent “area released” 2 times")
def sent_twice(world: World) -> None:
    notice = _released(world)
    sent = notice.deliveries.get()
    Delivery.objects.update(state=State.SENT, ended_at=AUDITED)
    again = {"person": sent.person, "shop": sent.shop, "address": sent.address, "lane": sent.lane}
    moments = {"due_at": AUDITED, "ended_at": AUDITED}
    twice = Delivery.objects.create(key="x", channel="email", state=State.SENT, **again, **moments)
    twice.notices.add(notice)


@hole(
    "a message of what held no more", "was sent “area released”; facts: that did not hold any more"
)
def sent_too_late(world: World) -> None:
    notice = _released(world)
    Notice.objects.filter(id=notice.id).update(moot_at=BEGIN)
    notice.deliveries.update(state=State.SENT, ended_at=AUDITED)


@hole("a message that goes to somebody else", "goes to somebody else")
def sent_to_another(world: World) -> None:
    _released(world).deliveries.update(person=world.shop.other_builder)


@hole("a notice without a message", "no message was made for builder-")
def no_message(world: World) -> None:
    _released(world).deliveries.all().delete()


@hole("a message that waits for long", "a message to builder-", sort=Sort.STATE)
def waits_for_long(world: World) -> None:
    Delivery.objects.update(due_at=BEGIN)


@hole("a job under another shop's authority", "facts: authority__shop leads to shop")
def anothers_authority(world: World) -> None:
    Job.objects.filter(id=world.job.id).update(authority=world.stranger.authority)


@hole("a job for another shop's builder", "facts: builder__shop leads to shop")
def anothers_builder(world: World) -> None:
    Job.objects.filter(id=world.job.id).update(builder=world.stranger.firm)


@hole("a job that a stranger leads", "the crew lead; facts: is not in the shop of the job")
def anothers_lead(world: World) -> None:
    Job.objects.filter(id=world.job.id).update(crew_lead=world.stranger.lead)


@hole("items in an area of another shop's job", "facts: area__job leads to job")
def anothers_area(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    Item.objects.filter(id=world.passed.id).update(area=theirs)


@hole("an area that was given to another shop's job", "facts: area__job leads to job")
def area_given_away(world: World) -> None:
    Area.objects.filter(id=world.east.id).update(job=world.theirs, code="east-2")


@hole("a look that contests one at another job's item", "facts: contests__item leads to item")
def contests_elsewhere(world: World) -> None:
    other = world.look("fail", HOUR, HOUR, item=world.theirs.items.first())
    world.look("pass", HOUR, HOUR, contests=other)


@hole("an acceptance at another job's inspection", "facts: inspection__job leads to job")
def anothers_inspection(world: World) -> None:
    given = {"job": world.theirs, "kind": "rough_in", "asked_at": BEGIN}
    inspection = Inspection.objects.create(asked_by=world.stranger.office, **given)
    editable("inspections_acceptance")
    Acceptance.objects.filter(area=world.west).update(inspection=inspection)


@hole("an inspection to another job's area", "area__job leads to job")
def inspection_of_anothers_area(world: World) -> None:
    the_first(world.job.inspections).areas.add(Area.objects.get(job=world.theirs, code="east"))


@hole("a deficiency in another job's area", "deficiency")
def anothers_deficiency(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    Deficiency.objects.filter(job=world.job).update(area=theirs)


@hole("a cover release of an acceptance of another shop", "facts: acceptance__area leads to area")
def anothers_cover_release(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    said = Acceptance.objects.create(
        area=theirs,
        basis="waiver",
        answer="accepted",
        reference="W",
        rests_on="0" * 16,
        recorded_by=world.stranger.office,
        recorded_at=BEGIN,
    )
    CoverRelease.objects.filter(area=world.east).update(acceptance=said)


@hole("a layer reported of another job's area", "trade report")
def anothers_layer(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    given = {"recorded_by": world.shop.office, "recorded_at": BEGIN}
    TradeReport.objects.create(job=world.job, area=theirs, trade="drywall", **given)


@hole("a link to another job's area", "link")
def anothers_link(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    given = {"made_by": world.shop.office, "made_at": BEGIN, "digest": "x", "kind": "placard"}
    Link.objects.create(job=world.job, area=theirs, **given)


@hole("a notice of another shop", "a notice to builder-")
def notice_of_another_shop(world: World) -> None:
    Notice.objects.filter(id=_released(world).id).update(shop=world.stranger.shop)


@hole("a message of another shop", "delivery-notice relationship")
def message_of_another_shop(world: World) -> None:
    _released(world).deliveries.update(shop=world.stranger.shop)


@hole("somebody in another shop's firm", "facts: builder__shop leads to shop")
def in_anothers_firm(world: World) -> None:
    of_builder = Membership.objects.filter(person=world.shop.builder)
    of_builder.update(builder=world.stranger.firm)


@hole("a drive to another shop's house", "facts: end__shop leads to shop")
def drive_elsewhere(world: World) -> None:
    given = {"start": world.job, "end": world.theirs, "minutes": 5}
    DriveTime.objects.create(shop=world.shop.shop, **given)


@hole("a day's list of another shop's crew", "facts: crew__shop leads to shop")
def list_of_another_crew(world: World) -> None:
    crew = Crew.objects.create(shop=world.stranger.shop, name="Crew nine")
    given = {"day": date(2026, 3, 5), "number": 1, "content": {"houses": []}, "sent_at": BEGIN}
    DayList.objects.create(shop=world.shop.shop, crew=crew, **given)


@hole("a task in another job's area", "own task")
def task_elsewhere(world: World) -> None:
    theirs = Area.objects.get(job=world.theirs, code="east")
    OwnTask.objects.create(job=world.job, area=theirs, name="sweep", minutes=5)


@hole("a feed entry of another shop's job", "feed number")
def fed_elsewhere(world: World) -> None:
    entry = the_first(world.theirs.record)
    world.shop.shop.feed.create(number=1, entry=entry)
