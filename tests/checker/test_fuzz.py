"""Random houses, valid and nearly valid: what must hold of every check of any of them."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.box_fill_facts import LineKind
from inspections.checker.check import check
from inspections.checker.facts import facts_json
from inspections.checker.finding import Finding, Verdict, rules
from inspections.checker.load import HouseFault, HouseFaults, load_house
from inspections.checker.rulebook import rulebook_ids
from tests.checker.drawn_houses import Data, drawn_house, mirrored, recordable, turned
from tests.lengths import examples

SEEDS, BOOKS = st.integers(0, 2**48), st.sampled_from(rulebook_ids())
Findings = dict[str, Finding]
BAD: list[Any] = [
    None,
    -1,
    1e12,
    "",
    "nowhere",
    [],
    {},
    True,
    float("nan"),
    "x" * 600,
    [[]],
    10**400,
]


def checked(data: Data, book: str) -> list[Finding]:
    """What is found in the house; a house that the loader refuses is no example."""
    try:
        house = load_house(json.dumps(data).encode())
    except HouseFaults:
        assume(False)
    return check(house, load_rulebook(book))


def keyed(data: Data, book: str) -> Findings:
    """The same by key."""
    return {finding.key: finding for finding in checked(data, book)}


def test_nearly_all_drawn_houses_are_house_files() -> None:
    refused = []
    for seed in range(300):
        try:
            load_house(json.dumps(drawn_house(seed)).encode())
        except HouseFaults as faults:
            refused.append(str(faults))
    assert len(refused) < 15, refused[:5]


def test_drawn_houses_reach_every_rule_and_every_verdict() -> None:
    found = {
        (finding.rule.id, finding.verdict)
        for seed in range(300)
        for book in ("nec-2023", "cec-2021")
        for finding in check(
            load_house(json.dumps(drawn_house(seed)).encode()), load_rulebook(book)
        )
    }
    only_amended = {"counter-heights"}  # no code asks it; a shop that wants it amends it
    assert {rule for rule, _ in found} == set(rules()) - only_amended
    assert {verdict for _, verdict in found} == set(Verdict)


@examples(700, 7000)
@given(SEEDS, BOOKS)
def test_every_finding_says_what_where_and_by_which_working(seed: int, book: str) -> None:
    found = checked(drawn_house(seed), book)
    assert len({finding.key for finding in found}) == len(found)
    for finding in found:
        words = finding.words
        assert words.says
        assert words.working
        assert all(words.working)
        assert finding.section
        assert finding.edition.startswith(book[:3].upper())
        assert finding.spot.words
        assert finding.fingerprint
        assert (finding.verdict is Verdict.MEETS) or words.remedy
        text = " ".join(map(said, (words.says, *words.working)))
        assert not re.search(r"\b(None|nan|inf)\b|[{}]", text), text
    order = [(f.rule.stage == "finish", f.spot.order) for f in found]
    assert order == sorted(order)


def recorded(data: Data) -> Iterator[tuple[Data, str]]:
    """Every fact in the house that nobody need have recorded: the part and the key."""
    parts = [("Room", room) for room in data["rooms"]]
    parts += [("Opening", o) for r in data["rooms"] for w in r["walls"] for o in w["openings"]]
    parts += [("Fixture", f) for r in data["rooms"] for f in r.get("fixtures", ())]
    for kind in ("counters", "panels", "circuits", "appliances", "boxes", "cables", "separations"):
        parts += [(kind.removesuffix("s").capitalize(), part) for part in data.get(kind, ())]
    parts[:] = [("Box" if name == "Boxe" else name, part) for name, part in parts]
    parts += [("Interruption", i) for c in data["counters"] for i in c.get("interruptions", ())]
    for box in data["boxes"]:
        parts.append((f"On{box['place']['surface'].capitalize()}", box["place"]))
        parts += [("Device", device) for device in box["devices"]]
    for name, part in parts:
        name = "InSpace" if name == "OnSpace" else name
        for key in recordable(name):
            # Nobody asks for the fixtures of a room that is not one for them.
            if key in part and (key != "fixtures" or part["kind"] == "bathroom"):
                yield part, key


@examples(500, 5000)
@given(SEEDS, BOOKS)
def test_without_a_fact_nothing_is_better(seed: int, book: str) -> None:
    data = drawn_house(seed)
    facts = list(recorded(data))
    assume(facts)
    before = keyed(data, book)
    part, key = Random(seed).choice(facts)
    assume(key != "awg" or not of_no_cable(data, part))
    listed = isinstance(part.pop(key), list)
    after = keyed(data, book)
    assume(key != "connectors" or not spare_connectors(part["id"], before, after))
    better = [
        name
        for name, finding in after.items()
        if finding.verdict is Verdict.MEETS
        and name in before
        and before[name].verdict is not Verdict.MEETS
    ]
    assert not better, (key, better)
    if listed:
        return  # what was in a list, and what it alone made somebody ask, goes with it
    open_before, open_after = (
        {f.rule.id for f in found.values() if f.verdict is not Verdict.MEETS}
        for found in (before, after)
    )
    assert open_before <= open_after, key


def of_no_cable(data: Data, device: Data) -> bool:
    """Whether a device is on conductors of a size that no cable at its box has. Without the record
    the cables tell the size, so that a box may be better without it.
    """
    at = [box["id"] for box in data["boxes"] if any(each is device for each in box["devices"])]
    sizes = {cable.get("awg") for cable in data["cables"] if set(at) & set(cable["ends"])}
    return bool(at) and device["awg"] not in sizes


def spare_connectors(box: str, before: Findings, after: Findings) -> bool:
    """Whether more wire connectors were counted than conductors could end in. Where nobody counted,
    spare ones are taken not to be there, so that a box of such a count is better without it.
    """
    key, kinds = f"box-fill:{box}", (LineKind.CONNECTORS, LineKind.CONNECTOR_COUNT)
    counted, taken = [
        sum(line.times for line in getattr(each[key].facts, "lines", ()) if line.kind in kinds)
        for each in (before, after)
        if key in each
    ] or (0, 0)
    return counted > taken


@examples(300, 3000)
@given(SEEDS, BOOKS)
def test_a_compliant_box_turns_no_other_finding_short(seed: int, book: str) -> None:
    data = drawn_house(seed)
    walls = [(r, w) for r in data["rooms"] for w in r["walls"] if w["kind"] == "wall"]
    assume(walls)
    room, wall = Random(seed).choice(walls)
    before = keyed(data, book)
    add_box(data, room, wall)
    for name, finding in keyed(data, book).items():
        if finding.verdict is Verdict.SHORT and "new" not in json.dumps(
            [name, facts_json(finding.facts)]
        ):
            assert name in before, name
            assert before[name].verdict is Verdict.SHORT, name


def add_box(data: Data, room: Data, wall: Data) -> None:
    """A receptacle with room to spare, by itself on a circuit with every protection."""
    place = {"surface": "wall", "wall": wall["id"], "at_mm": wall["length_mm"] / 2}
    device = {"kind": "receptacle", "circuit": "new", "awg": "12", "amperes": 20, "depth_mm": 22}
    data["circuits"].append(
        {"id": "new", "panel": "P", "name": "new", "breaker_a": 20, "protection": "dual"}
    )
    data["boxes"].append(
        {"id": "new", "room": room["id"], "place": place | {"height_mm": 450}, "volume_ml": 900}
        | {"clamps": "none", "connectors": 0, "boot": True, "devices": [device]}
    )
    data["cables"].append(
        {"id": "new", "kind": "nm", "ends": ["P", "new"], "awg": "12", "circuit": "new"}
    )


def tally(found: list[Finding]) -> Counter[tuple[str, str, str]]:
    """How many findings of each rule have each verdict in each room."""
    return Counter((f.rule.id, f.spot.room, f.verdict.value) for f in found)


@examples(250, 2500)
@given(SEEDS, BOOKS, st.sampled_from([90, 180, 270, 37.5]))
def test_a_house_turned_on_its_plot_has_the_same_verdicts(
    seed: int, book: str, degrees: float
) -> None:
    plain, other = drawn_house(seed), drawn_house(seed)
    turned(other, degrees)
    verdicts = [{f.key: f.verdict for f in checked(each, book)} for each in (plain, other)]
    assert verdicts[0] == verdicts[1]


@examples(100, 1000)
@given(SEEDS, BOOKS, st.integers(8, 2000))
def test_millimetres_and_inches_agree(seed: int, book: str, sixteenths: int) -> None:
    inches = sixteenths / 16
    overlay = '[[amend]]\nlimit = "wall-receptacles.{}"\nvalue = {}\nunit = "{}"\nreason = "x"\n'
    house = load_house(json.dumps(drawn_house(seed)).encode())
    for limit in ("reach_mm", "min_width_mm", "floor_from_wall_mm"):
        told = []
        for value, unit in ((inches, "in"), (inches * 25.4, "mm"), (inches / 12, "ft")):
            found = check(house, load_rulebook(book, overlay.format(limit, value, unit)))
            told.append([(finding.key, finding.verdict) for finding in found])
        assert told[0] == told[1] == told[2]


@examples(250, 2500)
@given(SEEDS, BOOKS)
def test_a_house_in_a_mirror_has_the_same_verdicts(seed: int, book: str) -> None:
    plain, other = drawn_house(seed), drawn_house(seed)
    mirrored(other)
    assert tally(checked(plain, book)) == tally(checked(other, book))


@examples(150, 1500)
@given(SEEDS)
def test_two_mirrors_make_the_house_again(seed: int) -> None:
    once, twice = drawn_house(seed), drawn_house(seed)
    mirrored(twice)
    mirrored(twice)
    for room in twice["rooms"]:
        plain = next(each for each in once["rooms"] if each["id"] == room["id"])
        assert room["walls"] == plain["walls"]
    assert once["boxes"] == twice["boxes"]


@examples(250, 2500)
@given(SEEDS, BOOKS, st.data())
def test_a_nearly_valid_house_is_refused_in_words_or_checked(
    seed: int, book: str, data: st.DataObject
) -> None:
    house = drawn_house(seed)
    for _ in range(data.draw(st.integers(1, 3))):
        spoil(house, Random(data.draw(st.integers(0, 2**32))))
    faults, found = loaded_or_refused(house, book)
    assert bool(faults) != (found is not None)
    assert all(fault.message and "\n" not in str(fault) for fault in faults)
    assert all(finding.words.working for finding in found or ())


def loaded_or_refused(data: Data, book: str) -> tuple[tuple[HouseFault, ...], list[Finding] | None]:
    """The faults of a house file, or what is found in the house."""
    try:
        house = load_house(json.dumps(data).encode())
    except HouseFaults as refused:
        return refused.faults, None
    return (), check(house, load_rulebook(book))


def spoil(part: Any, rng: Random) -> None:
    """One value somewhere in the house taken out, or put in the place of another."""
    while True:
        keys = list(part) if isinstance(part, dict) else list(range(len(part)))
        if not keys:
            return
        key = rng.choice(keys)
        if isinstance(part[key], dict | list) and part[key] and rng.random() < 0.85:
            part = part[key]
            continue
        if rng.random() < 0.3:
            del part[key]
        else:
            part[key] = rng.choice(BAD)
        return
