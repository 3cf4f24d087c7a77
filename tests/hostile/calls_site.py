"""What people on site send: looks, ticks of a walk, site changes, photographs, work reported."""

from typing import Any

from django.db.models import Q

from inspections.models import Item
from tests.hostile.scene import Call, Made, Scene
from tests.hostile.values import ABSENT
from tests.hostile.world import picture
from tests.sure import sure

SITE = ("lead", "member", "office")


def _site(scene: Scene) -> str:
    return scene.who(scene.dice.among(SITE))


def _outcome(scene: Scene, *, passes: int = 60) -> Any:
    dice = scene.dice
    if dice.odd(8):
        return dice.text()
    return "ok" if dice.often(passes) else dice.among(("fix", "fix", "cant_see", "na"))


def observe(scene: Scene) -> Call:
    """A look at one item, by the API."""
    dice, item = scene.dice, scene.item()
    which = str(item.id) if item and not dice.odd(20) else scene.id("item_id")
    given = {
        "outcome": _outcome(scene),
        "note": dice.text() if dice.often(30) else ABSENT,
        "seen_at": dice.moment() if dice.often(60) else ABSENT,
        "fingerprint": scene.fingerprint(item) if dice.often(40) else ABSENT,
        "measured_mm": dice.measure() if dice.often(30) else ABSENT,
    }
    return scene.json(_site(scene), "POST", f"/api/items/{which}/observations", given)


def fail(scene: Scene) -> Call:
    """A fail of what may be covered."""
    item = scene.item()
    which = str(item.id) if item else scene.id("item_id")
    given = {"outcome": "fix", "note": "cut"}
    return scene.json(_site(scene), "POST", f"/api/items/{which}/observations", given)


def observe_page(scene: Scene) -> Call:
    """The same on the page of the item."""
    dice, item = scene.dice, scene.item()
    which = str(item.id) if item and not dice.odd(20) else scene.id("item_id")
    given = {
        "outcome": _outcome(scene),
        "note": dice.text(),
        "shown": scene.fingerprint(item),
        "measured_mm": dice.measure() if dice.often(30) else ABSENT,
        "known": dice.moment() if dice.often(60) else ABSENT,
        "withdraws": dice.among(("1", "1", ABSENT)),
    }
    return scene.form(_site(scene), f"/items/{which}/observe/", given)


def _tick(scene: Scene, item: Item | None, outcome: Any) -> dict[str, Any]:
    dice = scene.dice
    which = str(item.id) if item and not dice.odd(10) else scene.id("item_id")
    return {
        "id": dice.new_id() if not dice.odd(5) else dice.identity(),
        "item": which,
        "outcome": outcome,
        "fingerprint": scene.fingerprint(item),
        "made_at": dice.moment(),
        "known_at": dice.moment(),
        "note": dice.text() if dice.often(20) else ABSENT,
        "measured_mm": dice.measure() if dice.often(40) else ABSENT,
    }


def _sent(scene: Scene, ticks: list[dict[str, Any]]) -> Call:
    dice = scene.dice
    if scene.walked and dice.odd(25):
        ticks = [*ticks, dice.among(scene.walked)]
    scene.walked += ticks[:3]
    given = {"phone_now": dice.moment(), "ticks": ticks}
    if dice.often(50):
        return scene.json(_site(scene), "POST", f"/walk/{scene.id('job_id')}/sync", given)
    return scene.json(_site(scene), "POST", f"/api/jobs/{scene.id('job_id')}/observations", given)


def walk(scene: Scene) -> Call:
    """What a phone kept, sent when it has signal."""
    count = scene.dice.whole(1, 3)
    ticks = [_tick(scene, scene.item(), _outcome(scene)) for _ in range(count)]
    return _sent(scene, ticks)


def walk_all(scene: Scene) -> Call:
    """A walk through a whole area in which all was well."""
    code = scene.dice.among(("east", "west"))
    now = scene.world.clock.now.isoformat()
    eyes = Q(verdict="verify") | Q(verdict="ok", workmanship=True)
    looks = scene.job.items.filter(eyes, area__code=code, current=True)
    ticks = [
        {
            "id": scene.dice.new_id(),
            "item": str(item.id),
            "outcome": "ok",
            "fingerprint": item.fingerprint,
            "made_at": now,
            "known_at": now,
        }
        for item in looks.order_by("position")
    ]
    given = {"phone_now": now, "ticks": ticks}
    return scene.json("lead", "POST", f"/walk/{scene.job.id}/sync", given)


def as_drawn(scene: Scene) -> Call:
    """What is as drawn in a room, confirmed at once by whoever says so."""
    items = [item for item in (scene.item() for _ in range(scene.dice.whole(1, 4))) if item]
    given = {
        "items": [{"item": str(item.id), "fingerprint": scene.fingerprint(item)} for item in items],
        "note": scene.dice.text() if scene.dice.odd(10) else ABSENT,
        "seen_at": scene.dice.moment() if scene.dice.odd(10) else ABSENT,
    }
    return scene.json(_site(scene), "POST", f"/api/jobs/{scene.id('job_id')}/as-drawn", given)


def site_change(scene: Scene) -> Call:
    """A box that stands elsewhere than the house says."""
    dice = scene.dice
    given = {
        "id": dice.new_id() if not dice.odd(10) else dice.identity(),
        "box": dice.text() if dice.odd(20) else dice.among(("east-data", "west-data", "east-wide")),
        "at_mm": dice.measure(),
        "height_mm": dice.measure() if dice.often(40) else ABSENT,
        "note": dice.text() if dice.often(40) else ABSENT,
        "made_at": dice.moment(),
    }
    if dice.often(50):
        return scene.json(_site(scene), "POST", f"/walk/{scene.id('job_id')}/site-change", given)
    given["wall"] = dice.among(("n", "e", "", "x", ABSENT))
    return scene.json(_site(scene), "POST", f"/api/jobs/{scene.id('job_id')}/site-changes", given)


def undo(scene: Scene) -> Call:
    """A fault that was recorded by mistake."""
    which = scene.id("observation_id")
    return scene.form(_site(scene), f"/observations/{which}/undo/", {})


def photograph(scene: Scene) -> Call:
    """A photograph of an item or of a deficiency, from a page, a phone or a program."""
    dice, item = scene.dice, scene.item()
    which = str(item.id) if item and not dice.odd(20) else scene.id("item_id")
    sent = picture()
    if dice.odd(25):
        sent.name = dice.among(("a\x00.jpg", "../a.jpg", "x" * 300, "a.svg"))
        sure(sent.file).truncate(dice.whole(0, 40))
    if dice.often(30):
        path = f"/deficiencies/{scene.id('deficiency_id')}/photograph/"
        return scene.form(_site(scene), path, {}, {"photograph": sent})
    if dice.often(30):
        return scene.form(_site(scene), f"/items/{which}/photograph/", {}, {"photograph": sent})
    if dice.often(50):
        return scene.form(_site(scene), f"/api/items/{which}/photographs", {}, {"file": sent})
    given = {"id": dice.new_id(), "item": which, "fingerprint": scene.fingerprint(item)}
    path = f"/walk/{scene.id('job_id')}/photograph"
    return scene.form(_site(scene), path, given, {"file": sent})


def work(scene: Scene) -> Call:
    """A task reported done."""
    dice = scene.dice
    task = dice.text() if dice.odd(30) else dice.among(("rough-in/east", "cover/west", "walk"))
    given = {"task": task, "done": dice.often(70)}
    return scene.json(_site(scene), "POST", f"/api/jobs/{scene.id('job_id')}/work", given)


def as_drawn_page(scene: Scene) -> Call:
    """Items of a room confirmed at once on the page of a job, whatever they are."""
    dice, ticked = scene.dice, []
    for _ in range(dice.among((0, 1, 2, 5))):
        item = scene.item()
        which = str(item.id) if item and not dice.odd(20) else scene.id("item_id")
        ticked.append(f"{which} {scene.fingerprint(item)}")
    given = {
        "item": ticked,
        "note": dice.text(),
        "known": dice.moment() if dice.often(60) else ABSENT,
        "confirmed": dice.among(("1", ABSENT)),
    }
    return scene.form(_site(scene), f"/jobs/{scene.id('job_id')}/as-drawn/", given)


def corrected(scene: Scene) -> Call:
    """A deficiency that was fixed."""
    which = scene.id("deficiency_id")
    if scene.dice.often(50):
        return scene.json(_site(scene), "POST", f"/api/deficiencies/{which}/corrected", {})
    return scene.form(_site(scene), f"/deficiencies/{which}/corrected/", {})


CALLS: list[tuple[int, Made]] = [
    (8, observe),
    (5, fail),
    (5, observe_page),
    (3, as_drawn_page),
    (9, walk),
    (5, walk_all),
    (3, as_drawn),
    (3, site_change),
    (2, undo),
    (1, photograph),
    (1, work),
    (2, corrected),
]
