"""Every pair of where an inspection stands and what may happen to it, at each moment of its window.

What is allowed is written here once more, by hand; service, page and API are held to it.
"""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from config.languages import say
from inspections.models import Answer, Happening, InspectionEvent, InspectionKind
from inspections.services.answers import inspection_answer
from inspections.services.events import NotNow
from inspections.services.inspections import inspection_ask, inspection_happen
from inspections.standing.inspection_states import ENDED, FOLLOWS, InspectionNow, InspectionState
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.inspections.windows import Window

MONDAY = datetime(2026, 6, 8, 15, 0, tzinfo=UTC)
STARTS, ENDS = MONDAY, MONDAY + timedelta(hours=2)
WINDOW = Window(starts_at=STARTS, ends_at=ENDS)
BEFORE, DURING, AFTER = (MONDAY + timedelta(hours=n) for n in (-1, 1, 3))
MOMENTS = {"before": BEFORE, "during": DURING, "after": AFTER}

_BOOKED = {
    "before": "moved cancelled",
    "during": "moved cancelled no_access held",
    "after": "moved cancelled no_access nobody_came held",
}
ALLOWED = {
    "asked": dict.fromkeys(MOMENTS, "booked cancelled"),
    "booked": _BOOKED,
    "moved": _BOOKED,
    "no_access": dict.fromkeys(MOMENTS, "moved cancelled"),
    "nobody_came": dict.fromkeys(MOMENTS, ""),
    "cancelled": dict.fromkeys(MOMENTS, ""),
    "held": dict.fromkeys(MOMENTS, ""),
}
STATES, HAPPENINGS = list(ALLOWED), [each.value for each in Happening]


def test_the_table_knows_every_state_and_every_happening() -> None:
    assert set(FOLLOWS) == set(InspectionState)
    assert {each.value for each in InspectionState} == {"asked", *HAPPENINGS}
    assert set(STATES) == {each.value for each in InspectionState}
    assert {"held", "cancelled", "nobody_came"} == ENDED


@pytest.mark.parametrize("when", MOMENTS)
@pytest.mark.parametrize("state", STATES)
def test_each_pair_is_as_it_is_written_here(state: str, when: str) -> None:
    stands = InspectionNow(InspectionState(state), STARTS, ENDS)
    allowed = ALLOWED[state][when].split()
    assert sorted(stands.may_be(MOMENTS[when])) == sorted(allowed)
    for happening in HAPPENINGS:
        why_not = stands.why_not(InspectionState(happening), MOMENTS[when])
        assert bool(why_not) == (happening not in allowed), (happening, why_not)


def test_what_it_is_too_early_for_says_from_when() -> None:
    stands = InspectionNow(InspectionState.BOOKED, STARTS, ENDS)
    early = say(stands.why_not(InspectionState.HELD, BEFORE), "en")
    assert early == "The inspection window opens Jun 8, 2026, 3:00\u202fPM. Record the result then."
    early = say(stands.why_not(InspectionState.NOBODY_CAME, DURING), "en")
    assert "window ends Jun 8, 2026, 5:00\u202fPM" in early
    assert stands.may_be(STARTS) == stands.may_be(DURING)
    assert stands.may_be(ENDS) == stands.may_be(AFTER)


@pytest.fixture
def area(shop):
    job = shop.roughed_in(HOUSES["clean"])
    found = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.look_at(found)
    return found


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(BEFORE - timedelta(days=5)).put(monkeypatch)


def standing_at(shop, area, state: str):
    """An inspection whose rows say that it stands there, with Monday's window where it had one."""
    inspection = inspection_ask(
        shop.office, job=area.job, kind=InspectionKind.ROUGH_IN, areas=[area]
    )
    happened = {"asked": [], "booked": ["booked"], "moved": ["booked", "moved"]}
    for each in happened.get(state, ["booked", state]):
        window = WINDOW if each in ("booked", "moved") else {}
        given = {"inspection": inspection, "happening": each, "recorded_by": shop.office}
        InspectionEvent.objects.create(**given, **window, recorded_at=timezone.now())
    return inspection


def record(shop, area, inspection, happening: str) -> None:
    if happening == "held":
        answers = {area: Answer.ACCEPTED}
        inspection_answer(shop.office, inspection=inspection, answers=answers, reference="R1")
        return
    week = timedelta(days=7)
    later = Window(starts_at=STARTS + week, ends_at=ENDS + week)
    window = later if happening in ("booked", "moved") else Window()
    inspection_happen(shop.office, inspection=inspection, happening=Happening(happening), **window)


@pytest.mark.django_db
@pytest.mark.parametrize("when", MOMENTS)
@pytest.mark.parametrize("state", STATES)
def test_the_service_the_page_and_the_api_follow_the_table(
    client, shop, area, clock, state: str, when: str
) -> None:
    inspection = standing_at(shop, area, state)
    allowed = set(ALLOWED[state][when].split())
    clock.now = MOMENTS[when]
    client.force_login(shop.office)
    page = client.get(reverse("job", args=[area.job_id])).text
    (told,) = client.get(f"/api/jobs/{area.job_id}/inspections").json()["results"]
    assert set(told["next"]) == allowed
    assert ("Record the inspector's result" in page) == ("held" in allowed)
    offered = {each for each in HAPPENINGS if f'<option value="{each}">' in page}
    assert offered == allowed - {"held"}
    too_early = "held" not in allowed and state in ("booked", "moved")
    assert ("You can record the result once the window begins" in page) == too_early
    before = (inspection.events.count(), area.job.record.count())
    for happening in set(HAPPENINGS) - allowed:
        with pytest.raises(NotNow):
            record(shop, area, inspection, happening)
    assert (inspection.events.count(), area.job.record.count()) == before


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("state", "when", "happening"),
    [
        (state, when, happening)
        for state in ("asked", "booked", "no_access")
        for when in MOMENTS
        for happening in ALLOWED[state][when].split()
    ],
)
def test_what_the_table_allows_is_recorded(shop, area, clock, state, when, happening) -> None:
    inspection = standing_at(shop, area, state)
    clock.now = MOMENTS[when]
    record(shop, area, inspection, happening)
    assert inspection.events.last().happening == happening


@pytest.mark.django_db
def test_the_api_refuses_in_words(client, shop, area, clock) -> None:
    inspection = standing_at(shop, area, "booked")
    client.force_login(shop.office)
    window = {"starts_at": STARTS.isoformat(), "ends_at": ENDS.isoformat()}
    url, json = f"/api/inspections/{inspection.id}", "application/json"
    again = client.post(f"{url}/events", {"happening": "booked"} | window, json)
    assert again.status_code == 409
    assert again.json()["detail"] == (
        "Inspection status: booked. It can become rescheduled, cancelled, no access, nobody came, "
        "or held, not booked."
    )
    answer = {"reference": "R1", "answers": {"east": "accepted"}}
    early = client.post(f"{url}/answer", answer, json)
    assert early.status_code == 409
    assert "window opens Jun 8, 2026, 9:00\u202fAM" in early.json()["detail"]  # at the house
    stray = client.post(f"{url}/events", {"happening": "cancelled"} | window, json)
    assert stray.status_code == 422
    assert "Only a booked or rescheduled inspection has a window" in stray.json()["detail"]
    bare = client.post(f"{url}/events", {"happening": "moved"}, json)
    assert bare.status_code == 422
    assert "Enter the day and the hours" in bare.json()["detail"]
    assert inspection.events.count() == 1
