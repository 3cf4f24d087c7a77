"""A release withdrawn by hand: its reason holds the area until somebody says what was done."""

from datetime import UTC, datetime, timedelta
from importlib import import_module
from types import SimpleNamespace

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from config.languages import say
from inspections.models import AreaStanding, CoverRelease, Outcome, WithdrawalAnswer
from inspections.overview.office_day import office_lines, open_jobs
from inspections.overview.progress import job_moves
from inspections.overview.timeline import area_timeline
from inspections.record.chain import record_faults
from inspections.services.cover_releases import Held, cover_release_issue, withdrawal_answer
from inspections.services.observations import item_observe, observation_undo
from inspections.services.settling import job_settle
from jobs.access import NotAllowed
from jobs.models import Job
from notifications.models import Notice
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.people import Shopful

pytestmark = pytest.mark.django_db
DRILLED = "plumber drilled a stud"
EVENING = datetime(2026, 6, 8, 20, 0, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(datetime(2026, 6, 8, 15, 0, tzinfo=UTC)).put(monkeypatch)


@pytest.fixture
def job(shop, clock):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(shop, job):
    found = job.areas.select_related("job__shop", "job__authority").get(code="east")
    shop.release(found)
    return found


@pytest.fixture
def withdrawn(shop: Shopful, area, clock) -> CoverRelease:
    clock.now += timedelta(hours=1)
    made = shop.withdraw(area, DRILLED)
    clock.now += timedelta(hours=1)
    return made


def holds(area) -> list[tuple[str, str]]:
    return [(h["reason"], say(h["says"], "en")) for h in AreaStanding.objects.get(area=area).holds]


def told(job, reason: str) -> list[str]:
    """Who has a notice of that reason that stands, once everything is settled."""
    job_settle(job.id)
    found = Notice.objects.filter(job=job, reason=reason, moot_at=None)
    return sorted(each.person.first_name for each in found)


def moves(job) -> list[tuple[str, str]]:
    job_settle(job.id)
    fresh = Job.objects.select_related("shop", "authority", "standing").get(id=job.id)
    return [(" or ".join(move.who), say(move.what, "en")) for move in job_moves(fresh)]


def test_it_cannot_be_released_again_at_once(shop, area, withdrawn) -> None:
    says = (
        f"The cover release was withdrawn on Jun 8, 2026: “{DRILLED}”. What was done about it is "
        "not recorded yet."
    )
    assert holds(area) == [("withdrawn", says)]
    with pytest.raises(Held, match=DRILLED):
        cover_release_issue(shop.office, area=area)
    shop.accept(area, reference="R2")  # another acceptance is no answer
    with pytest.raises(Held, match=DRILLED):
        cover_release_issue(shop.office, area=area)


@pytest.mark.parametrize("who", ["office", "lead"])
def test_the_answer_lifts_the_hold_and_the_same_acceptance_is_good(
    shop, area, withdrawn, who
) -> None:
    answer = withdrawal_answer(
        getattr(shop, who), cover_release=withdrawn, says=" plated it ", inspect_again=False
    )
    assert (answer.says, answer.inspect_again) == ("plated it", False)
    assert holds(area) == []
    again = cover_release_issue(shop.office, area=area)
    assert again.acceptance == withdrawn.acceptance
    assert again.id != withdrawn.id


def test_what_was_changed_is_inspected_again(shop, area, withdrawn, clock) -> None:
    shop.answer_withdrawal(area, "a new hole, plated", inspect_again=True)
    says = "The cover release was withdrawn on Jun 8, 2026. The change must be inspected again."
    assert holds(area) == [("changed", says)]
    with pytest.raises(Held, match="inspected again"):
        cover_release_issue(shop.office, area=area)
    clock.now += timedelta(hours=1)
    shop.accept(area, reference="R2")
    assert holds(area) == []
    assert cover_release_issue(shop.office, area=area).reference == "R2"


def test_an_acceptance_between_the_withdrawal_and_its_answer_is_later(
    shop, area, withdrawn, clock
) -> None:
    shop.accept(area, reference="R2")
    clock.now += timedelta(hours=1)
    shop.answer_withdrawal(area, inspect_again=True)
    assert holds(area) == []


def test_a_second_withdrawal_waits_for_an_answer_of_its_own(shop, area, withdrawn, clock) -> None:
    shop.answer_withdrawal(area)
    cover_release_issue(shop.office, area=area)
    clock.now += timedelta(hours=1)
    shop.withdraw(area, "and another")
    assert [reason for reason, _ in holds(area)] == ["withdrawn"]
    assert "and another" in holds(area)[0][1]


def test_what_a_hold_withdrew_has_no_reason_to_answer(shop, area) -> None:
    item = area.items.filter(verdict="verify", stage="rough-in").first()
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert holds(area) == []
    with pytest.raises(ValidationError, match="Nobody withdrew this cover release by hand"):
        withdrawal_answer(
            shop.office, cover_release=area.cover_releases.get(), says="done", inspect_again=False
        )


@pytest.mark.parametrize("says", ["", "  ", "\n"])
def test_an_empty_answer_is_none(shop, area, withdrawn, says) -> None:
    before = area.job.record.count()
    with pytest.raises(ValidationError, match="Enter what was done"):
        withdrawal_answer(shop.office, cover_release=withdrawn, says=says, inspect_again=False)
    assert area.job.record.count() == before
    assert not shop.own(WithdrawalAnswer).exists()


def test_it_is_answered_once(shop, area, withdrawn) -> None:
    shop.answer_withdrawal(area, "plated it")
    with pytest.raises(ValidationError, match="already answered: “plated it”"):
        withdrawal_answer(shop.office, cover_release=withdrawn, says="nothing", inspect_again=False)
    assert shop.own(WithdrawalAnswer).get().says == "plated it"


@pytest.mark.parametrize("who", ["member", "builder"])
def test_only_office_and_crew_lead_answer(shop, withdrawn, who) -> None:
    with pytest.raises(NotAllowed):
        withdrawal_answer(
            getattr(shop, who), cover_release=withdrawn, says="done", inspect_again=False
        )


def test_the_record_and_the_timeline_keep_it(shop, area, withdrawn) -> None:
    shop.answer_withdrawal(area, "plated it", inspect_again=True)
    entry = area.job.record.get(action="withdrawal answered")
    assert entry.detail == {
        "area": "east",
        "because": DRILLED,
        "says": "plated it",
        "inspect_again": True,
    }
    assert list(record_faults(area.job_id)) == []
    last = area_timeline(area)[-1]
    words = "What was done about it: “plated it”. It must be inspected again."
    assert (say(last.what, "en"), last.by, last.weighty) == (words, str(shop.lead), True)


def test_whose_move_it_is(shop, job, area, withdrawn) -> None:
    who = ("office or crew lead", "East: record what was done about it")
    assert who in moves(job)  # though the west is not roughed in yet
    (line,) = office_lines(open_jobs(shop.own(Job), EVENING), EVENING)
    assert say(line.what, "en") == (
        "Cover release withdrawn, what was done about it is not recorded yet: East."
    )
    shop.answer_withdrawal(area)
    again = ("office", "East: release it for cover again; the reason of the withdrawal is answered")
    assert again in moves(job)
    (line,) = office_lines(open_jobs(shop.own(Job), EVENING), EVENING)
    assert (say(line.what, "en"), say(line.do, "en")) == (
        "Nothing on hold after a withdrawal: East.",
        "Release for cover again",
    )


def test_who_is_told(shop, job, area, withdrawn, clock) -> None:
    assert told(job, "cover release withdrawn") == ["Builder", "Lead", "Office"]
    assert told(job, "release again") == []
    shop.answer_withdrawal(area)
    assert told(job, "release again") == ["Office"]
    cover_release_issue(shop.office, area=area)
    assert told(job, "release again") == []
    assert told(job, "area released") == ["Builder", "Office"]


def test_the_office_is_told_to_have_it_inspected_again(shop, job, area, withdrawn, clock) -> None:
    ready = Notice.objects.filter(job=job, reason="rough-in ready")
    before = {each.occasion for each in ready}
    shop.answer_withdrawal(area, inspect_again=True)
    assert told(job, "release again") == []
    assert told(job, "rough-in ready") == ["Office"]
    assert not before & {each.occasion for each in ready.filter(moot_at=None)}


def test_each_time_that_the_trouble_is_over_is_told_once(shop, job, area, clock) -> None:
    item = area.items.filter(verdict="verify", stage="rough-in").first()
    for number in (1, 2):
        for outcome in (Outcome.FIX, Outcome.OK, Outcome.OK):
            clock.now += timedelta(minutes=20)
            item_observe(shop.lead, item=item, outcome=outcome)
            assert told(job, "release again") == ([] if outcome == Outcome.FIX else ["Office"])
        assert Notice.objects.filter(job=job, reason="release again").count() == number


def test_what_was_undone_waits_for_the_office_too(shop, job, area, clock) -> None:
    item = area.items.filter(verdict="verify", stage="rough-in").first()
    clock.now += timedelta(minutes=20)
    seen = item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    clock.now += timedelta(minutes=1)
    observation_undo(shop.lead, observation=seen)
    assert told(job, "release again") == ["Office"]
    assert told(job, "cover release withdrawn") == ["Builder", "Lead", "Office"]


def test_the_page_takes_the_answer_from_office_and_lead(client, shop, job, area, withdrawn) -> None:
    url = reverse("withdrawal-answer", args=[withdrawn.id])
    client.force_login(shop.member)
    assert url not in client.get(reverse("job", args=[job.id])).text
    client.force_login(shop.lead)
    assert url in client.get(reverse("job", args=[job.id])).text
    text = client.post(url, {"says": " ", "inspect_again": "no"}, follow=True).text
    assert "Enter what was done about the reason for the withdrawal." in text
    text = client.post(url, {"says": "plated it"}, follow=True).text
    assert "Choose whether anything in the wall was changed" in text
    assert 'value="plated it"' in text
    assert not shop.own(WithdrawalAnswer).exists()
    assert 'name="inspect_again" value="yes" checked' not in text
    given = {"says": "plated it", "inspect_again": "yes"}
    text = client.post(url, given, follow=True).text
    assert url not in text
    assert "The change must be inspected again" in text
    assert shop.own(WithdrawalAnswer).get().inspect_again


def test_the_builder_reads_whose_turn_it_is(client, shop, job, area, withdrawn) -> None:
    client.force_login(shop.builder)
    page = reverse("job", args=[job.id])
    assert f"withdrawn on Jun 8, 2026: “{DRILLED}”" in client.get(page).text
    shop.answer_withdrawal(area)
    text = client.get(page).text
    assert (
        "Do not cover. The release was withdrawn on 2026-06-08 10:00. The reason is answered"
        in text
    )
    assert "the office has not released this area again yet" in text
    cover_release_issue(shop.office, area=area)
    text = client.get(page).text
    assert text.count("OK to cover this area.") == 1
    assert "to release this area again" not in text


def test_a_program_answers_it(client, shop, area, withdrawn, stranger_shop) -> None:
    url, json = f"/api/cover-releases/{withdrawn.id}/answer", "application/json"
    for person, status in ((stranger_shop.office, 404), (shop.member, 403), (shop.builder, 403)):
        client.force_login(person)
        assert client.post(url, {"says": "done"}, json).status_code == status
    client.force_login(shop.lead)
    assert client.post(url, {}, json).status_code == 400
    assert client.post(url, {"says": "plated it"}, json).status_code == 400
    made = client.post(url, {"says": "plated it", "inspect_again": True}, json)
    assert made.status_code == 201
    assert made.json()["recorded_by"] == shop.lead.username
    again = {"says": "again", "inspect_again": False}
    assert client.post(url, again, json).status_code == 422
    client.force_login(shop.office)
    (found,) = client.get(f"/api/areas/{area.id}/cover-releases").json()["results"]
    assert found["withdrawn_by"] == shop.office.username
    assert (found["answer"]["says"], found["answer"]["inspect_again"]) == ("plated it", True)


class _Before:
    """The tables as they are, by the names that an earlier migration has for them."""

    @staticmethod
    def get_model(app: str, name: str) -> SimpleNamespace:
        if name == "Clearance":
            return SimpleNamespace(objects=CoverRelease.objects)
        assert (app, name) == ("inspections", "WithdrawalAnswer")

        def create(clearance: CoverRelease, **given: object) -> WithdrawalAnswer:
            return WithdrawalAnswer.objects.create(cover_release=clearance, **given)

        return SimpleNamespace(objects=SimpleNamespace(create=create))


def test_a_withdrawal_of_before_is_answered_by_the_cover_release_that_followed(
    shop, area, withdrawn, clock
) -> None:
    """A database of before answers: one area was released again, another was not."""
    migration = import_module("inspections.migrations.0024_append_only_withdrawal_answers")
    migration.answer_what_was_cleared_again(_Before, None)
    assert not shop.own(WithdrawalAnswer).exists()
    clock.now += timedelta(hours=1)
    following = CoverRelease.objects.create(
        area=area,
        acceptance=withdrawn.acceptance,
        reference="R1",
        issued_by=shop.office,
        issued_at=clock.now,
    )
    migration.answer_what_was_cleared_again(_Before, None)
    answer = shop.own(WithdrawalAnswer).get()
    assert (answer.cover_release, answer.recorded_by) == (withdrawn, shop.office)
    assert answer.recorded_at == following.issued_at
    job_settle(area.job_id)
    following.refresh_from_db()
    assert following.live


def test_beside_the_release_stand_the_reason_and_the_answer(
    client, shop, job, area, withdrawn
) -> None:
    shop.answer_withdrawal(area, "plated the stud")
    client.force_login(shop.office)
    text = client.get(reverse("job", args=[job.id])).text
    before = text[: text.index(f"Release {area.name} again")]
    assert f": {DRILLED}" in before[-900:]
    assert "plated the stud" in before[-900:]
    assert "The wall was not changed." in before[-900:]
