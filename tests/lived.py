"""A shop in the middle of things, for tests that look at everything there is."""

import json
from typing import Any
from uuid import uuid4

from django.utils import timezone

from inspections.days.problem import shop_now
from inspections.models import Answer
from inspections.selectors import latest_revision
from inspections.services.amendments import limit_amend
from inspections.services.answers import Called, inspection_answer
from inspections.services.links import cover_link_make
from inspections.services.packs import pack_ask
from inspections.services.site_changes import site_change_record
from jobs.models import Role
from jobs.services.people import invitation_make
from tests.days.crewed import crewed, told
from tests.people import Shopful
from tests.sure import sure


def lived_in(shop: Shopful, house_bytes: bytes) -> dict[str, Any]:
    """One area released, one refused; a crew with a plan; a link and an invitation, open."""
    job = shop.roughed_in(house_bytes)
    bedroom, garage = (job.areas.get(code=code) for code in ("bedroom", "garage"))
    shop.release(bedroom)
    inspection = shop.booked(garage, insist=True)
    called = [Called(garage, "no plate at the top", rule="box-fill")]
    answers = {garage: Answer.NOT_ACCEPTED}
    inspection_answer(
        shop.office, inspection=inspection, answers=answers, reference="R2", called=called
    )
    given = {"rulebook": "cec-2021", "limit": "counter-receptacles.min_width_mm", "unit": "mm"}
    limit_amend(shop.office, shop=shop.shop, value=200, reason="by-law 12", **given)
    crewed(shop)
    plan = told(shop, shop_now(shop.shop, timezone.now()).date())
    boxes = json.loads(sure(latest_revision(job)).house)["boxes"]
    box = next(each["id"] for each in boxes if each["place"]["surface"] == "wall")
    given = {"site_change_id": uuid4(), "box": box, "at_mm": 600.0}
    site_change = site_change_record(shop.member, job=job, **given)
    _, cover = cover_link_make(shop.office, job=job, for_whom="Pat at Pellow")
    _, way_in = invitation_make(
        shop.office, shop=shop.shop, role=Role.CREW_LEAD, for_whom="Rowan Ashdale"
    )
    return {
        **{"job": job, "area": bedroom, "plan": plan, "cover": cover, "join": way_in},
        "site_change": site_change,
        "pack": pack_ask(shop.office, job=job, kind="inspector"),
    }
