"""A job at each stage, named after where it stands."""

from inspections.checker.finding import Verdict
from inspections.models import Answer, InspectionKind, Item, Outcome
from inspections.services.answers import inspection_answer
from inspections.services.milestones import milestone_record
from inspections.services.observations import item_observe, items_observe
from inspections.services.permits import permit_close
from inspections.standing.stages import Milestone
from jobs.models import Job
from tests.clocks import house_day
from tests.inspections.tiny import HOUSES
from tests.people import Shopful
from tests.upgrades.scene.fixed import Clock


def at_each_stage(shop: Shopful, clock: Clock) -> None:
    """From the permit to a job that is over."""
    named(shop.roughed_in(HOUSES["clean"], issued=False), "At the permit")
    _at_rough_in(shop)
    _at_cover_up(shop)
    covered(shop, "At hookup")
    clock.on(hours=1)
    hooked_up(shop, covered(shop, "At finish"))
    clock.on(hours=1)
    finished(shop, "At final")
    clock.on(hours=1)
    _over(shop)


def named(job: Job, name: str) -> Job:
    """The job under a name of its own."""
    Job.objects.filter(id=job.id).update(name=name)
    job.name = name
    return job


def covered(shop: Shopful, name: str) -> Job:
    """A job of two areas that may both be covered."""
    job = named(shop.roughed_in(HOUSES["clean"]), name)
    for area in job.areas.order_by("code"):
        shop.release(area, reference=f"{name} {area.code}")
    return job


def hooked_up(shop: Shopful, job: Job) -> None:
    """The authority let some circuits be live."""
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reference=f"{job.name} H",
        reached_on=house_day(),
        circuits=["1"],
        temporary_until=house_day(60),
    )


def finished(shop: Shopful, name: str) -> Job:
    """Every item of the finish passed."""
    job = covered(shop, name)
    hooked_up(shop, job)
    items = job.items.filter(current=True, stage=Item.Stage.FINISH, verdict=Verdict.VERIFY)
    items_observe(shop.lead, items=list(items.select_related("job__shop")), outcome=Outcome.OK)
    return job


def _at_rough_in(shop: Shopful) -> None:
    """A house that is short of a brace, a fail, a pass, and what nobody could see."""
    job = named(shop.roughed_in(HOUSES["short"]), "At rough-in")
    looks = job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN).order_by("position")
    first, second, third = looks.select_related("job__shop")[:3]
    item_observe(shop.lead, item=first, outcome=Outcome.FIX, note="sheath cut at the clamp")
    item_observe(shop.member, item=second, outcome=Outcome.OK)
    item_observe(shop.member, item=third, outcome=Outcome.CANT_SEE, note="not hung yet")


def _at_cover_up(shop: Shopful) -> None:
    """Seen to, and an inspection is booked that has not been yet."""
    job = named(shop.roughed_in(HOUSES["clean"]), "At cover-up")
    for area in job.areas.order_by("code"):
        shop.look_at(area)
    shop.booked(*job.areas.order_by("code"))


def _over(shop: Shopful) -> None:
    """The final was accepted and the permit closed."""
    job = finished(shop, "Over")
    today = house_day()
    milestone_record(shop.office, job=job, milestone=Milestone.TEMPORARY_GONE, reached_on=today)
    inspection = shop.booked(*job.areas.order_by("code")[:1], kind=InspectionKind.FINAL)
    inspection_answer(
        shop.office, inspection=inspection, answer=Answer.ACCEPTED, reference="Over F"
    )
    milestone_record(
        shop.office, job=job, milestone=Milestone.FINAL, reached_on=today, reference="Over F"
    )
    permit_close(shop.office, permit=job.permit, closed_on=today)
