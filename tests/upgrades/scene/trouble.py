"""Jobs on which something went wrong, and what was done about it."""

from datetime import timedelta
from io import BytesIO
from uuid import UUID, uuid5

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from PIL import Image

from inspections.checker.finding import Verdict
from inspections.models import Answer, Item, Outcome
from inspections.services.answers import Called, inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.deficiencies import deficiency_correct, deficiency_photograph
from inspections.services.houses import house_record
from inspections.services.observations import item_observe
from inspections.services.photographs import photograph_add
from inspections.services.site_changes import (
    site_change_accept,
    site_change_leave,
    site_change_record,
)
from inspections.services.trades import trade_report
from inspections.services.walks import Walked, walk_record
from jobs.models import Job
from tests.inspections.tiny import HOUSES
from tests.people import Shopful
from tests.sure import the_first
from tests.upgrades.scene.fixed import Clock
from tests.upgrades.scene.stages import covered, named


def troubles(shop: Shopful, clock: Clock) -> None:
    """One job for each."""
    _withdrawn(shop, clock)
    _contested(shop, clock)
    _failed(shop, clock)
    _redrawn(shop, clock)


def picture(colour: str) -> bytes:
    """A small photograph."""
    made = BytesIO()
    Image.new("RGB", (24, 16), colour).save(made, "JPEG")
    return made.getvalue()


def upload(colour: str) -> SimpleUploadedFile:
    """The same as a form sends it."""
    return SimpleUploadedFile(f"{colour}.jpg", picture(colour), "image/jpeg")


def first_look(job: Job, area: str) -> Item:
    """The first item of an area that needs eyes."""
    looks = job.items.filter(area__code=area, verdict=Verdict.VERIFY, current=True)
    found = looks.filter(stage=Item.Stage.ROUGH_IN).order_by("position")
    return the_first(found.select_related("job__shop", "area"))


def _withdrawn(shop: Shopful, clock: Clock) -> None:
    """The office took two back by hand: one reason still holds, one was answered and it is out."""
    job = covered(shop, "Withdrawn by hand")
    east, west = job.areas.order_by("code")
    clock.on(minutes=30)
    shop.withdraw(east, "A plumber drilled a stud.")
    shop.withdraw(west, "The wrong wall was named.")
    clock.on(minutes=30)
    shop.answer_withdrawal(west, "The inspector meant the wall beside it.")
    cover_release_issue(shop.office, area=west)


def _contested(shop: Shopful, clock: Clock) -> None:
    """A pass that came late from a phone, whose maker did not know of the fail before it."""
    job = named(shop.roughed_in(HOUSES["clean"]), "Contested")
    item = first_look(job, "east")
    knew = timezone.now()
    clock.on(minutes=10)
    item_observe(shop.lead, item=item, outcome=Outcome.FIX, note="staple through the sheath")
    clock.on(minutes=10)
    tick = Walked(
        id=UUID("0c0ffee0-0000-4000-8000-000000000001"),
        item=item.id,
        outcome=Outcome.OK,
        fingerprint=item.fingerprint,
        made_at=knew + timedelta(minutes=5),
        known_at=knew,
    )
    walk_record(shop.member, job=job, ticks=[tick], phone_now=timezone.now(), of_the_walk=True)


def _failed(shop: Shopful, clock: Clock) -> None:
    """An inspection that failed: one deficiency was corrected and lifted, one was corrected, and
    one is open."""
    job = named(shop.roughed_in(HOUSES["clean"]), "Written up")
    east = job.areas.get(code="east")
    shop.look_at(east)
    photograph_add(shop.lead, item=first_look(job, "east"), upload=upload("gray"))
    inspection = shop.booked(east)
    called = [
        Called(east, "No plate at the top of a bored stud", rule="edge-distance"),
        Called(east, "Box stands proud", where="east wall", section="12-3000"),
        Called(east, "Knockout left open", rule="box-openings"),
    ]
    answers = {east: Answer.NOT_ACCEPTED}
    inspection_answer(
        shop.office, inspection=inspection, answers=answers, reference="FH-R1", called=called
    )
    clock.on(hours=2)
    first, second, _ = job.deficiencies.order_by("id")
    for deficiency, colour in ((first, "navy"), (second, "olive")):
        deficiency_photograph(shop.lead, deficiency=deficiency, upload=upload(colour))
        deficiency_correct(shop.lead, deficiency=deficiency)
    clock.on(hours=2)
    again = shop.booked(east, insist=True)
    inspection_answer(
        shop.office,
        inspection=again,
        answers={east: Answer.WITH_DEFICIENCIES},
        reference="FH-R2",
        lifted=[first],
    )


def _redrawn(shop: Shopful, clock: Clock) -> None:
    """Several revisions: looks at what was changed since, and boxes that were found elsewhere."""
    job = named(shop.roughed_in(HOUSES["clean"]), "Redrawn")
    east = job.areas.get(code="east")
    shop.look_at(east)
    clock.on(minutes=20)
    house_record(shop.lead, job=job, house=HOUSES["rerouted"], why="run moved off the flue")
    clock.on(minutes=20)
    house_record(shop.lead, job=job, house=HOUSES["short"], why="no brace yet")
    clock.on(minutes=20)
    house_record(shop.lead, job=job, house=HOUSES["rerouted"], why="brace put in")


def found_elsewhere(shop: Shopful, job: Job, boxes: list[str], clock: Clock) -> None:
    """Three boxes of a house of the demo: one accepted, one left, one that nobody decided."""
    made = []
    for box in boxes:
        given = uuid5(job.id, box)
        made.append(
            site_change_record(
                shop.member, job=job, site_change_id=given, box=box, at_mm=640.0, note="as built"
            )
        )
    clock.on(minutes=5)
    site_change_accept(shop.office, site_change=made[0])
    site_change_leave(shop.office, site_change=made[1], why="it will be moved back")


def waits_for_a_trade(shop: Shopful) -> None:
    """A job that the office holds until the plumber is done; of one layer it said so already."""
    shop.shop.trades = ["plumbing", "data"]
    shop.shop.save(update_fields=["trades"])
    job = named(shop.roughed_in(HOUSES["clean"]), "Waits for the plumber")
    for area in job.areas.order_by("code"):
        shop.look_at(area)
    trade_report(shop.office, job=job, trade="data")
    trade_report(shop.office, job=job, trade="plumbing")
    trade_report(shop.office, job=job, trade="plumbing", done=False)
