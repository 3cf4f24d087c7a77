"""What the office sends: permits, inspections, answers, houses, links, crews, plans."""

import json
from datetime import datetime
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from inspections.models import Answer, Happening, Inspection, InspectionKind
from inspections.standing.stages import Milestone
from tests.hostile.scene import Call, Made, Scene
from tests.hostile.values import ABSENT, HOUSE
from tests.hostile.world import OWN, TRADES, house_of


def _job(scene: Scene) -> str:
    return scene.id("job_id")


def permit(scene: Scene) -> Call:
    """What happened to a permit, by the API."""
    dice = scene.dice
    what = dice.among(("applied", "issued", "issued", "extended", "extended", "amended", "closed"))
    given: dict[str, Any] = {"what": what}
    takes = {
        "applied": {"applied_on": dice.day(), "holder": dice.text(), "scope": dice.text()},
        "issued": {
            "number": dice.text(fallback="FH"),
            "issued_on": dice.day(),
            "expires_on": dice.day(ahead=90),
        },
        "extended": {"expires_on": dice.day(ahead=400)},
        "amended": {"scope": dice.text()},
        "closed": {"closed_on": dice.day()},
    }
    given |= takes[what]
    return scene.json(scene.who(), "POST", f"/api/jobs/{_job(scene)}/permit", given)


def permit_page(scene: Scene) -> Call:
    """The same on the page of the job."""
    dice = scene.dice
    given = {
        "applied_on": dice.day(),
        "number": dice.text(fallback="FH"),
        "issued_on": dice.day(),
        "expires_on": dice.day(ahead=90) if dice.often(60) else "",
    }
    return scene.form(scene.who(), f"/jobs/{_job(scene)}/permit/", given)


def _kind(scene: Scene) -> Any:
    if scene.dice.odd(8):
        return scene.dice.text()
    return scene.dice.among(
        (InspectionKind.ROUGH_IN, InspectionKind.ROUGH_IN, InspectionKind.COVER_UP, *InspectionKind)
    ).value


def ask(scene: Scene) -> Call:
    """An inspection that is asked for."""
    dice = scene.dice
    given: dict[str, Any] = {"kind": _kind(scene), "insist": dice.often(60)}
    if dice.often(60):
        given["areas"] = [scene.code() for _ in range(dice.whole(0, 2))]
        return scene.json(scene.who(), "POST", f"/api/jobs/{_job(scene)}/inspections", given)
    given["areas"] = [scene.id("area_id") for _ in range(dice.whole(0, 2))]
    given["insist"] = "on" if given["insist"] else ABSENT
    return scene.form(scene.who(), f"/jobs/{_job(scene)}/ask/", given)


def _window(scene: Scene) -> tuple[Any, Any]:
    dice = scene.dice
    if dice.odd(40):
        return dice.moment(), dice.moment()
    starts = scene.world.clock.now + dice.among(STEPS_OF_BOOKINGS)
    return starts.isoformat(), (starts + dice.among(STEPS_OF_BOOKINGS[3:])).isoformat()


def happen(scene: Scene) -> Call:
    """Something that happened to an inspection: mostly booked, so that it can be answered."""
    dice = scene.dice
    often = (Happening.BOOKED, Happening.BOOKED, Happening.MOVED, *Happening)
    happening = dice.text() if dice.odd(8) else dice.among(often).value
    inspection = scene.id("inspection_id")
    if dice.often(60):
        starts, ends = _window(scene)
        given = {
            "happening": happening,
            "starts_at": starts if dice.often(80) else ABSENT,
            "ends_at": ends if dice.often(80) else ABSENT,
            "reference": dice.text() if dice.often(30) else ABSENT,
            "note": dice.text() if dice.often(30) else ABSENT,
        }
        return scene.json(scene.who(), "POST", f"/api/inspections/{inspection}/events", given)
    given = {
        "happening": happening,
        "day": dice.day(ahead=10),
        "starts": dice.among(("08:00", "02:30", "01:30", "23:59", "00:00", "24:00", "x", "")),
        "ends": dice.among(("16:00", "03:00", "00:01", "08:00", "")),
        "reference": dice.text(),
        "note": dice.text(),
    }
    return scene.form(scene.who(), f"/inspections/{inspection}/happening/", given)


def _called(scene: Scene, code: Any) -> dict[str, Any]:
    dice = scene.dice
    return {
        "area": code,
        "what": dice.text(fallback="no plate"),
        "where": dice.text() if dice.often(30) else ABSENT,
        "rule": dice.among(("box-fill", "no-rule", "", ABSENT)),
        "due_on": dice.day(ahead=30) if dice.often(40) else ABSENT,
    }


def answer(scene: Scene) -> Call:
    """What the inspector said, by the API: of each area, or of the job."""
    dice = scene.dice
    inspection = _inspection(scene)
    codes = [area.code for area in inspection.areas.order_by("code")] if inspection else []
    given: dict[str, Any] = {"reference": dice.text(fallback=f"R{dice.whole(1, 999)}")}
    if codes and not dice.odd(15):
        said = {code: _said(scene) for code in codes}
        given["answers"] = said if not dice.odd(10) else {scene.code() or "": _said(scene)}
    else:
        given["answer"] = _said(scene)
    words = [*given.get("answers", {}).values(), given.get("answer")]
    if any(word == Answer.WITH_DEFICIENCIES for word in words) or dice.odd(30):
        given["called"] = [_called(scene, code) for code in codes or [scene.code()]]
    if dice.often(35):
        given["lifted"] = [scene.id("deficiency_id") for _ in range(dice.whole(1, 2))]
    which = str(inspection.id) if inspection and not dice.odd(10) else scene.id("inspection_id")
    return scene.json(scene.who(), "POST", f"/api/inspections/{which}/answer", given)


def answer_page(scene: Scene) -> Call:
    """The same on the page of the job."""
    dice, inspection = scene.dice, _inspection(scene)
    given: dict[str, Any] = {"reference": dice.text(fallback="R"), "answer": _said(scene)}
    for code in ("east", "west"):
        given[f"answer-{code}"] = _said(scene)
        given[f"called-{code}"] = dice.text(fallback="no plate") if dice.often(30) else ABSENT
    if dice.often(40):
        given[f"lifted-{scene.id('deficiency_id')}"] = "on"
    which = str(inspection.id) if inspection and not dice.odd(10) else scene.id("inspection_id")
    return scene.form(scene.who(), f"/inspections/{which}/answer/", given)


def _said(scene: Scene) -> Any:
    if scene.dice.odd(5):
        return scene.dice.text()
    return scene.dice.among((Answer.ACCEPTED, Answer.ACCEPTED, *Answer)).value


def _inspection(scene: Scene) -> Inspection | None:
    inspections = list(
        scene.job.inspections.order_by("-asked_at", "-id").prefetch_related("events")
    )
    booked = [each for each in inspections if _state(each) in (Happening.BOOKED, Happening.MOVED)]
    some = booked if booked and scene.dice.often(80) else inspections
    return scene.dice.among(some) if some else None


def _state(inspection: Inspection) -> str:
    events = sorted(inspection.events.all(), key=lambda event: (event.recorded_at, event.id))
    return events[-1].happening if events else ""


def milestone(scene: Scene) -> Call:
    """The hookup, the temporary service gone, the finish, the final."""
    dice = scene.dice
    which = dice.text() if dice.odd(8) else dice.among(tuple(Milestone)).value
    given: dict[str, Any] = {
        "milestone": which,
        "reached_on": dice.day(),
        "reference": dice.text(fallback="C"),
    }
    hookup = which == Milestone.HOOKUP
    if hookup or dice.odd(20):
        given["circuits"] = [dice.among(("1", "All", "99", "", "x" * 61)) for _ in range(2)]
        given["temporary_until"] = dice.day(ahead=60) if dice.often(50) else ABSENT
    if dice.often(60):
        given["insist"] = dice.often(70)
        return scene.json(scene.who(), "POST", f"/api/jobs/{_job(scene)}/milestones", given)
    given["confirmed"] = "1" if dice.often(70) else ABSENT
    given["circuits"] = ", ".join(given.get("circuits", []))
    return scene.form(scene.who(), f"/jobs/{_job(scene)}/milestone/", given)


def trade(scene: Scene) -> Call:
    """Another trade's word, or a layer over an area."""
    dice = scene.dice
    known = (*TRADES, *TRADES, "insulation", "drywall", "masonry")
    name = dice.text() if dice.odd(15) else dice.among(known)
    layer = name in ("insulation", "drywall")
    who = scene.who(dice.among(("office", "builder")))
    if dice.often(60):
        given = {"trade": name, "done": dice.often(60)}
        given["area"] = scene.code() if layer or dice.odd(20) else ABSENT
        return scene.json(who, "POST", f"/api/jobs/{_job(scene)}/trades", given)
    given = {"trade": name, "area": scene.id("area_id") if layer else ""}
    return scene.form(who, f"/jobs/{_job(scene)}/trade/", given)


def insulation(scene: Scene) -> Call:
    """What fills the outside walls."""
    dice = scene.dice
    kind = dice.text() if dice.odd(20) else dice.among(("batts", "closed_cell", "open_cell"))
    given = {"kind": kind, "vapour_barrier": dice.often(50)}
    if dice.often(50):
        return scene.json(scene.who(), "POST", f"/api/jobs/{_job(scene)}/insulation", given)
    given["vapour_barrier"] = "on" if given["vapour_barrier"] else ABSENT
    return scene.form(scene.who(), f"/jobs/{_job(scene)}/insulation/", given)


def house(scene: Scene) -> Call:
    """The house, as it was, shorter, unknown in a place, another way round, or spoiled."""
    dice = scene.dice
    state = dice.among(("clean", "clean", "short", "unknown"))
    sent = house_of(OWN, state, run_mm=dice.among((5000, 9000)))
    if dice.odd(35):
        _spoil(scene, sent)
    given: dict[str, Any] = {"house": sent, "why": dice.text() if dice.often(30) else ABSENT}
    given["base"] = dice.number(0, 3) if dice.odd(40) else ABSENT
    given["rulebook"] = dice.among(("nec-2023", "no-code", "", ABSENT)) if dice.odd(15) else ABSENT
    who = scene.who(dice.among(("office", "lead")))
    if dice.often(70):
        return scene.json(who, "POST", f"/api/jobs/{_job(scene)}/revisions", given)
    form = {"rulebook": "cec-2021", "why": dice.text(), "base": dice.number(0, 3)}
    form["look"] = dice.among(("1", ABSENT, ABSENT))
    content = json.dumps(sent).encode()
    if dice.odd(20):
        content = content[: dice.whole(0, len(content))]
    file = SimpleUploadedFile(dice.among(("a.json", "a.xlsx", "a.zip", "a")), content)
    return scene.form(who, f"/jobs/{_job(scene)}/house-file/", form, {"house": file})


def _spoil(scene: Scene, sent: dict[str, Any]) -> None:
    """One value in the house that is none."""
    dice = scene.dice
    part = dice.among(("boxes", "cables", "rooms", "panels", "circuits", "areas", "storeys"))
    one = dice.among(sent[part])
    name = dice.among(sorted(one))
    one[name] = dice.among((dice.measure(odd=100), dice.text(odd=100)))


def site_change_answer(scene: Scene) -> Call:
    """What the office says of a box that stands elsewhere."""
    dice, which = scene.dice, scene.id("site_change_id")
    accepted = dice.often(60)
    if dice.often(50):
        given = {"accepted": accepted, "why": dice.text() if dice.often(50) else ABSENT}
        return scene.json(scene.who(), "POST", f"/api/site-changes/{which}/answer", given)
    given = {"accept": "on" if accepted else ABSENT, "why": dice.text()}
    return scene.form(scene.who(), f"/site-changes/{which}/", given)


def link(scene: Scene) -> Call:
    """A link to the cover, made, withdrawn, or the present state acknowledged by it."""
    dice = scene.dice
    choice = dice.whole(0, 3)
    if choice == 0:
        given = {"for_whom": dice.text(fallback="Pat"), "days": dice.number(1, 400)}
        return scene.json(scene.who(), "POST", f"/api/jobs/{_job(scene)}/links", given)
    if choice == 1:
        given = {"for_whom": dice.text(fallback="Pat"), "days": dice.number(1, 400)}
        return scene.form(scene.who(), f"/jobs/{_job(scene)}/links/", given)
    if choice == 2:
        return scene.json(scene.who(), "POST", f"/api/links/{scene.id('link_id')}/withdrawal", {})
    secret = dice.among(sorted(scene.side.secrets.values()))
    return scene.form(scene.who("nobody"), f"/l/{secret}/seen", {})


def job_change(scene: Scene) -> Call:
    """What a job is."""
    dice = scene.dice
    given = {
        "drywall_on": dice.day(ahead=60),
        "time_zone": dice.among(
            ("America/Edmonton", "Pacific/Kiritimati", "Pacific/Niue", "America/Nowhere", ABSENT)
        ),
        "crew_lead": dice.among((None, scene.side.lead.username, "nobody", ABSENT)),
        "builder": scene.id("builder_id") if dice.often(30) else ABSENT,
        "authority": scene.id("authority_id") if dice.often(30) else ABSENT,
        "name": dice.text(fallback=OWN) if dice.often(30) else ABSENT,
    }
    return scene.json(scene.who(), "PATCH", f"/api/jobs/{_job(scene)}", given)


def authority(scene: Scene) -> Call:
    """What the authority asks before it comes; what follows for every job is drawn anew."""
    dice = scene.dice
    given = {
        "idle_days": dice.number(0, 400) if dice.often(50) else ABSENT,
        "elapsed_hours": dice.number(0, 100) if dice.often(50) else ABSENT,
        "notice_days": dice.number(0, 10) if dice.often(50) else ABSENT,
        "notice_hours": dice.number(0, 100) if dice.often(30) else ABSENT,
        "takes_parts": dice.often(50),
    }
    which = scene.id("authority_id")
    return scene.json(scene.who(), "PATCH", f"/api/authorities/{which}", given)


def absence(scene: Scene) -> Call:
    """Somebody is away."""
    dice = scene.dice
    given = {
        "person": dice.among((scene.side.lead.username, "nobody", dice.text())),
        "from_day": dice.day(ahead=20),
        "to_day": dice.day(ahead=40),
        "why": dice.text(),
    }
    return scene.json(scene.who(), "POST", "/api/absences", given)


def plan(scene: Scene) -> Call:
    """A plan that is asked for, or told; a crew's list that is sent."""
    dice = scene.dice
    choice = dice.whole(0, 3)
    if choice == 0:
        return scene.json(scene.who(), "POST", "/api/plans", {"first_day": dice.day(ahead=20)})
    if choice == 1:
        return scene.json(scene.who(), "POST", f"/api/plans/{scene.id('plan_id')}/told", {})
    day = dice.day(ahead=5)
    path = f"/api/crews/{scene.id('crew_id')}/day?day={day}"
    return scene.json(scene.who(), "POST", path.replace(" ", "%20"), {})


STEPS_OF_BOOKINGS = tuple(
    datetime(2026, 3, 2, 12, tzinfo=HOUSE) - datetime(2026, 3, 2, hour, tzinfo=HOUSE)
    for hour in (15, 14, 13, 11, 10, 6)
)
CALLS: list[tuple[int, Made]] = [
    (4, permit),
    (2, permit_page),
    (5, ask),
    (7, happen),
    (7, answer),
    (3, answer_page),
    (3, milestone),
    (3, trade),
    (1, insulation),
    (4, house),
    (2, site_change_answer),
    (2, link),
    (2, job_change),
    (1, authority),
    (1, absence),
    (1, plan),
]
