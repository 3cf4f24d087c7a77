"""Load a scenario (TOML) through the services, as people would have recorded it."""

import tomllib
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.models import Answer, Happening, InspectionKind, Item, Outcome
from inspections.overview.rooms import rooms_to_confirm
from inspections.services.answers import inspection_answer
from inspections.services.cover_releases import cover_release_issue
from inspections.services.houses import house_record
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_confirm, items_observe
from inspections.services.permits import permit_apply, permit_issue
from inspections.services.settling import job_settle
from inspections.standing.stages import Milestone
from jobs.models import Area, Authority, Builder, Job, Person, Role, Shop
from jobs.services.authorities import authority_add
from jobs.services.jobs import job_open
from jobs.services.shops import person_add, shop_open

PASSWORD = "rough-in"  # noqa: S105, of the demo  # for the demo alone


@transaction.atomic
def scenario_load(path: Path) -> list[Job]:
    """Load every shop of the scenario that is not there yet; give all of its jobs."""
    shops = tomllib.loads(path.read_text("utf-8"))["shop"]
    jobs: list[Job] = []
    for shop in shops:
        for job in _shop(shop, path.parent):
            jobs.append(job)
    return jobs


def _shop(given: dict[str, Any], folder: Path) -> list[Job]:
    if (kept := Shop.objects.filter(name=given["name"]).first()) is not None:
        return list(kept.jobs.order_by("id"))
    shop = shop_open(name=given["name"], time_zone=given["time_zone"])
    authority = authority_add(shop=shop, **given["authority"])
    firms = {}
    for name in given["builders"]:
        firms[name] = Builder.objects.create(shop=shop, name=name)
    people = {}
    for person in given["person"]:
        people[person["username"]] = person_add(
            shop=shop,
            username=person["username"],
            full_name=person["name"],
            role=Role(person["role"]),
            password=PASSWORD,
            builder=firms.get(person.get("builder", "")),
        )
    office = next(people[p["username"]] for p in given["person"] if p["role"] == "office")
    jobs: list[Job] = []
    for job in given["job"]:
        jobs.append(_job(job, folder, office, people, shop=shop, authority=authority, firms=firms))
    return jobs


def _accept_and_release(office: Person, job: Job, area: Area, reference: str) -> None:
    inspection = inspection_ask(office, job=job, kind=InspectionKind.ROUGH_IN, areas=[area])
    inspection_happen(
        office,
        inspection=inspection,
        happening=Happening.BOOKED,
        starts_at=timezone.now() - timedelta(hours=3),
        ends_at=timezone.now() - timedelta(hours=1),
        reference=reference,
    )
    answers = {area: Answer.ACCEPTED}
    inspection_answer(office, inspection=inspection, answers=answers, reference=reference)
    cover_release_issue(office, area=area)


def _job(
    given: dict[str, Any],
    folder: Path,
    office: Person,
    people: dict[str, Person],
    *,
    shop: Shop,
    authority: Authority,
    firms: dict[str, Builder],
) -> Job:
    zone = given.get("time_zone") or shop.time_zone
    today = timezone.now().astimezone(ZoneInfo(zone)).date()
    drywall = given.get("drywall_in_days")
    job = job_open(
        office,
        shop=shop,
        name=given["name"],
        address=given["address"],
        builder=firms[given["builder"]],
        authority=authority,
        crew_lead=people.get(given.get("crew_lead", "")),
        drywall_on=None if drywall is None else today + timedelta(days=drywall),
        time_zone=given.get("time_zone", ""),
    )
    _permit(office, job, given["permit"], today)
    house_record(job.crew_lead or office, job=job, house=(folder / given["house"]).read_bytes())
    _progress(office, job, given, today)
    job_settle(job.id)
    return job


def _permit(office: Person, job: Job, given: dict[str, Any], today: date) -> None:
    applied = today - timedelta(days=given["applied_days_ago"])
    permit = permit_apply(office, job=job, applied_on=applied)
    if "number" in given:
        issued = today - timedelta(days=given["issued_days_ago"])
        permit_issue(office, permit=permit, number=given["number"], issued_on=issued)


def _progress(office: Person, job: Job, given: dict[str, Any], today: date) -> None:
    rough_in = job.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN)
    looks = rough_in.filter(area__code__in=given.get("ticked", []))
    seen = list(looks.select_related("job__shop"))
    crew = job.crew_lead or office
    items_observe(crew, items=seen, outcome=Outcome.OK)
    for room in rooms_to_confirm(job, Item.Stage.ROUGH_IN):
        if room.area in given.get("ticked", []):
            items_confirm(crew, job=job, items=[line.item for line in room.lines])
    for code, reference in given.get("released", {}).items():
        _accept_and_release(office, job, job.areas.get(code=code), reference)
    if hookup := given.get("hookup"):
        milestone_record(
            office,
            job=job,
            milestone=Milestone.HOOKUP,
            reference=hookup["reference"],
            reached_on=today - timedelta(days=hookup["days_ago"]),
            circuits=hookup["circuits"],
        )
