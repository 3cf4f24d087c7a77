"""Notices follow from facts, once each, to those whose house it is."""

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import override

from config.languages import say
from inspections.checker.finding import Verdict
from inspections.conclusions.job_facts import JobRows
from inspections.models import Outcome
from inspections.services.cover_releases import cover_release_issue
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle
from notifications.facts import jobs_facts
from notifications.models import Channel, Delivery, Notice, NoticeKind
from notifications.reason import reason, reasons
from notifications.selectors import unseen_notices
from notifications.services.notices import notice_see, notices_of
from notifications.services.wishes import address_add
from notifications.telling import text_now
from tests.inspections.tiny import HOUSES
from tests.sure import the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def area(shop, house_bytes):
    return shop.roughed_in(house_bytes).areas.get(code="bedroom")


def release(shop, area):
    shop.release(area)
    job_settle(area.job_id)


def told(person) -> list[str]:
    """Reasons about covering, the latest first."""
    return [n.reason for n in unseen_notices(person) if n.kind == NoticeKind.COVER]


def test_a_cover_release_is_told_to_its_builder_and_the_office_once(shop, area) -> None:
    release(shop, area)
    job_settle(area.job_id)
    assert told(shop.builder) == told(shop.office) == ["area released"]
    assert told(shop.other_builder) == told(shop.member) == []


def test_a_withdrawn_cover_release_is_told_with_its_reason(shop, area) -> None:
    release(shop, area)
    item_observe(shop.lead, item=area.items.filter(verdict=Verdict.OK).first(), outcome=Outcome.FIX)
    job_settle(area.job_id)
    assert told(shop.builder) == ["cover release withdrawn"]
    assert Notice.objects.get(person=shop.builder, reason="area released").moot_at is not None
    assert told(shop.lead) == ["cover release withdrawn"]
    assert "DO NOT COVER" in say(
        the_first(Notice.objects.filter(reason="cover release withdrawn")).text
    )


def test_a_second_cover_release_is_another_occasion(shop, area) -> None:
    release(shop, area)
    item = area.items.filter(verdict=Verdict.OK).first()
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    job_settle(area.job_id)
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    cover_release_issue(shop.office, area=area)
    job_settle(area.job_id)
    released = Notice.objects.filter(person=shop.builder, reason="area released")
    assert released.count() == 2
    assert told(shop.builder) == ["area released"]


def test_giving_again_gives_nothing(shop, area) -> None:
    release(shop, area)
    followed = notices_of(JobRows.of([area.job_id]), timezone.now())[area.job_id]
    assert (followed.given, followed.moot) == ([], 0)


def test_a_notice_is_seen_by_its_own_person_alone(client, shop, area) -> None:
    release(shop, area)
    notice = unseen_notices(shop.builder).get(reason="area released")
    notice_see(shop.office, notice_id=notice.id)
    assert told(shop.builder) == ["area released"]
    client.force_login(shop.builder)
    assert "released. OK TO COVER. Reference R1." in client.get("/").text
    client.post(reverse("seen", args=[notice.id]))
    assert told(shop.builder) == []


def test_two_reasons_of_one_id_are_refused() -> None:
    assert "area released" in reasons()
    with pytest.raises(ValueError, match="two reasons"):
        reason("area released", NoticeKind.COVER)(lambda facts: [])


def test_the_same_occasion_of_two_jobs_is_told_for_each(shop) -> None:
    for _ in range(2):
        job = shop.roughed_in(HOUSES["clean"], issued=False)
        job_settle(job.id)
    work = Notice.objects.filter(person=shop.office, reason="work without permit")
    assert work.count() == work.values("job").distinct().count() == 2


def test_with_no_worker_alive_no_notice_contradicts_the_sign(client, shop, area) -> None:
    """A withdrawal is moot once the area is released again, a release once it is withdrawn."""
    release(shop, area)
    item = area.items.filter(verdict=Verdict.OK).first()
    item_observe(shop.lead, item=item, outcome=Outcome.FIX)
    assert told(shop.builder) == []  # that it may be covered is not so any more
    job_settle(area.job_id)
    assert told(shop.builder) == ["cover release withdrawn"]
    item_observe(shop.lead, item=item, outcome=Outcome.OK)
    assert told(shop.builder) == ["cover release withdrawn"]  # the office has not released it again
    cover_release_issue(shop.office, area=area)
    assert told(shop.builder) == []
    client.force_login(shop.builder)
    page = client.get("/").text
    assert ": DO NOT COVER" not in page  # as notices say it; other areas have the sign
    assert "cover release is withdrawn" not in page
    sign = page.partition(f"<span>{area.name}</span>")[2].partition("</li>")[0]
    assert ("OK TO COVER<" in sign, "DO NOT COVER" in sign) == (True, False)
    answer = client.get("/api/notices").json()["results"]
    assert not [each for each in answer if "DO NOT COVER" in each["text"]]
    client.force_login(shop.office)
    groups = client.get(reverse("job-notices", args=[area.job_id])).text.split("<h2")
    (withdrawn,) = (each for each in groups if "cover release withdrawn" in each.split("</h2>")[0])
    assert "no longer applies" in withdrawn.split("</h2>")[0]


def test_what_was_told_in_a_sentence_of_before_stands_and_is_not_told_again(shop, area) -> None:
    given = {"person": shop.builder, "shop": shop.shop, "channel": Channel.EMAIL}
    address_add(shop.builder, target="builder@example.org", **given)
    release(shop, area)
    notice = Notice.objects.get(person=shop.builder, reason="area released")
    own = Notice.objects.filter(job=area.job)
    count, sent = own.count(), shop.own(Delivery).count()
    assert sent > 0
    sentence = f"{area.job}, {area}: may be covered (R1)."
    Notice.objects.filter(id=notice.id).update(text=sentence)
    job_settle(area.job_id)
    notice.refresh_from_db()
    assert (notice.moot_at, own.count(), shop.own(Delivery).count()) == (None, count, sent)
    assert say(notice.text) == say(text_now(notice)) == sentence
    assert say(notice.text, "fr") == sentence  # read as it was written


def test_an_occasion_is_the_same_whoever_reads(shop, area) -> None:
    """So that what is said otherwise, or in another language, is told to nobody twice."""
    shop.release(area)
    job_settle(area.job_id)
    drawn = []
    for language in ("en", "fr"):
        with override(language):
            (facts,) = jobs_facts(JobRows.of([area.job_id]))
            found = set()
            for each in reasons().values():
                for due in each.due(facts):
                    found.add((each.id, due.person.id, due.occasion))
            drawn.append(found)
    assert drawn[0] == drawn[1] != set()
