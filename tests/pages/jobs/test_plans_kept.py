"""A plan that was drawn before is what drawing it anew gives, and nobody meets another's."""

import json
import re
from functools import partial
from itertools import product

import pytest
from django.urls import reverse

from config.languages import measured_in, say
from inspections.checker.check import check
from inspections.drawing.marks import marks_of
from inspections.drawing.storey_plan import plan_of_storey
from inspections.models import Item
from inspections.selectors import checklist, house_of, latest_revision, room_names
from inspections.services.houses import house_record
from inspections.services.insulation import insulation_choose
from pages.jobs import plan, plans_kept
from pages.jobs.room_rows import LinesWanted, rooms_of
from tests.conftest import EXAMPLES
from tests.sure import sure

pytestmark = pytest.mark.django_db
SVG = re.compile(r"<svg [^>]*house-plan.*?</svg>", re.DOTALL)


@pytest.fixture
def small() -> bytes:
    return (EXAMPLES / "gannet.json").read_bytes()


@pytest.fixture(autouse=True)
def nothing_kept() -> None:
    plans_kept.drawn.cache_clear()
    plans_kept.marked.cache_clear()


def shown(client, person, job) -> str:
    client.force_login(person)
    return sure(SVG.search(client.get(reverse("job", args=[job.id])).text))[0]


def drawn_anew(job, language: str, imperial: bool) -> str:
    """The same plan by what draws it, without anything that is kept."""
    revision = sure(latest_revision(job))
    house, rulebook = house_of(revision)
    lines = checklist(job, stage=Item.Stage.ROUGH_IN)
    names = room_names(revision)
    saying = partial(say, language=language)
    with measured_in(imperial):
        numbered = rooms_of(job, names, lines, LinesWanted()).numbered(lines)
        found = plan._plan_lines(numbered, marks_of(house, check(house, rulebook)))
        return plan_of_storey(house, house.storeys[0].id, found, plan._states(lines), saying)


def speaks(person, language: str, imperial: bool) -> None:
    person.language = language
    person.units = "imperial" if imperial else "metric"
    person.save()


def test_every_reader_has_the_plan_that_drawing_it_anew_gives(client, shop, planted_bytes) -> None:
    job = shop.roughed_in(planted_bytes)
    plans = set()
    for language, imperial in [*product(("en", "fr", "es"), (True, False))] * 2:
        speaks(shop.lead, language, imperial)
        with_it = shown(client, shop.lead, job)
        if language == "en":
            assert with_it == drawn_anew(job, language, imperial)
        plans.add(with_it)
    assert len(plans) == 6
    assert plans_kept.drawn.cache_info().misses == 6
    assert plans_kept.marked.cache_info().misses == 1


def test_a_later_house_and_another_answer_have_plans_of_their_own(client, shop, small) -> None:
    job = shop.roughed_in(small)
    first = shown(client, shop.lead, job)
    house = json.loads(small)
    house["rooms"][0]["name"] = "Long room"
    house_record(shop.lead, job=job, house=json.dumps(house).encode())
    second = shown(client, shop.lead, job)
    assert "Long room" in second
    assert "Long room" not in first
    assert second == drawn_anew(job, "en", True)
    room = sure(job.items.filter(verdict="verify", stage="rough-in").first()).area
    shop.look_at(room)
    third = shown(client, shop.lead, job)
    assert third != second
    assert third == drawn_anew(job, "en", True)


def test_insulation_that_was_chosen_since_is_drawn(client, shop, small) -> None:
    job = shop.roughed_in(small)
    shown(client, shop.lead, job)
    insulation_choose(shop.lead, job=job, kind="blown", vapour_barrier=True)
    assert shown(client, shop.lead, job) == drawn_anew(job, "en", True)
    assert plans_kept.marked.cache_info().misses == 2


def test_no_shop_has_the_plan_of_another(client, shop, stranger_shop, small) -> None:
    house = json.loads(small)
    house["rooms"][0]["name"] = "Long room"
    other = json.dumps(house).encode()
    ours, theirs = shop.roughed_in(small), stranger_shop.roughed_in(other)
    for _ in range(2):
        assert shown(client, shop.lead, ours) == drawn_anew(ours, "en", True)
        assert shown(client, stranger_shop.lead, theirs) == drawn_anew(theirs, "en", True)
    assert client.get(reverse("job", args=[ours.id])).status_code == 404
