"""Calls about what may be covered: released, taken back, answered, and the straight way there."""

from collections.abc import Iterator
from datetime import timedelta

from inspections.models import CoverRelease
from tests.hostile.calls_site import walk_all
from tests.hostile.scene import Call, Made, Scene
from tests.hostile.values import ABSENT
from tests.hostile.world import TRADES

HOURS = timedelta(hours=8)


def release(scene: Scene) -> Call:
    """An area that may be covered."""
    area = scene.id("area_id")
    if scene.dice.often(60):
        return scene.json(scene.who(), "POST", f"/api/areas/{area}/cover-releases", {})
    return scene.form(scene.who(), f"/areas/{area}/release/", {})


def withdraw(scene: Scene) -> Call:
    """A cover release taken back."""
    dice, area = scene.dice, scene.id("area_id")
    because = dice.text(fallback="plumber drilled a stud")
    if dice.often(60):
        path = f"/api/areas/{area}/withdrawal"
        return scene.json(scene.who(), "POST", path, {"because": because})
    return scene.form(scene.who(), f"/areas/{area}/withdraw/", {"because": because})


def withdrawal_answer(scene: Scene) -> Call:
    """What was done about the reason of a withdrawal."""
    dice, which = scene.dice, scene.id("cover_release_id")
    given = {"says": dice.text(fallback="the stud has a plate"), "inspect_again": dice.often(20)}
    who = scene.who(dice.among(("office", "lead")))
    if dice.often(60):
        return scene.json(who, "POST", f"/api/cover-releases/{which}/answer", given)
    given["inspect_again"] = "yes" if given["inspect_again"] else "no"
    if dice.odd(10):
        given["inspect_again"] = ABSENT
    return scene.form(who, f"/withdrawals/{which}/answer/", given)


def bring_on(scene: Scene) -> Iterator[Call]:
    """The straight way to where an area may be covered, so that sequences get there again."""
    job, scene.dice.calm = scene.job, True
    yield scene.json("builder", "POST", f"/api/jobs/{job.id}/trades", {"trade": TRADES[0]})
    yield walk_all(scene)
    for each in job.deficiencies.filter(corrected_at=None).order_by("id"):
        yield scene.json("lead", "POST", f"/api/deficiencies/{each.id}/corrected", {})
    for each in CoverRelease.objects.filter(area__job=job, withdrawn_by__isnull=False).order_by(
        "id"
    ):
        yield scene.json(
            "lead", "POST", f"/api/cover-releases/{each.id}/answer", {"says": "a plate"}
        )
    areas = list(job.areas.order_by("code"))
    area = scene.dice.among(areas) if areas else None
    if area is None:
        return
    asked = {"kind": "rough_in", "areas": [area.code], "insist": True}
    yield scene.json("office", "POST", f"/api/jobs/{job.id}/inspections", asked)
    inspection = job.inspections.order_by("-asked_at", "-id").first()
    if inspection is None:
        return
    starts = scene.world.clock.now - timedelta(hours=1)
    window = {"starts_at": starts.isoformat(), "ends_at": (starts + HOURS).isoformat()}
    booked = {"happening": "booked", **window}
    yield scene.json("office", "POST", f"/api/inspections/{inspection.id}/events", booked)
    corrected = job.deficiencies.filter(accepted_at=None, corrected_at__isnull=False)
    said = {
        "reference": f"B{scene.dice.whole(1, 10**6)}",
        "answers": {area.code: "accepted"},
        "lifted": [str(each.id) for each in corrected.order_by("id")],
    }
    yield scene.json("office", "POST", f"/api/inspections/{inspection.id}/answer", said)
    yield scene.json("office", "POST", f"/api/areas/{area.id}/cover-releases", {})


CALLS: list[tuple[int, Made]] = [(8, release), (4, withdraw), (3, withdrawal_answer), (6, bring_on)]
