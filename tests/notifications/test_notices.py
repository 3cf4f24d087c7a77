"""Notices follow from facts, once each, to those whose house it is."""

import pytest
from django.urls import reverse
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.conclusions.job_facts import JobRows
from inspections.services.cover_releases import cover_release_issue
from inspections.services.observations import item_observe
from inspections.services.settling import job_settle
from notifications.models import Notice, NoticeKind
from notifications.reason import reason, reasons
from notifications.selectors import unseen_notices
from notifications.services.notices import notice_see, notices_of
from tests.inspections.tiny import HOUSES

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
    item_observe(shop.lead, item=area.items.filter(verdict=Verdict.MEETS).first(), outcome="fail")
    job_settle(area.job_id)
    assert told(shop.builder) == ["cover release withdrawn"]
    assert Notice.objects.get(person=shop.builder, reason="area released").moot_at is not None
    assert told(shop.lead) == ["cover release withdrawn"]
    assert "do not cover" in Notice.objects.filter(reason="cover release withdrawn").first().text


def test_a_second_cover_release_is_another_occasion(shop, area) -> None:
    release(shop, area)
    item = area.items.filter(verdict=Verdict.MEETS).first()
    item_observe(shop.lead, item=item, outcome="fail")
    job_settle(area.job_id)
    item_observe(shop.lead, item=item, outcome="pass")
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
    assert "may be covered (R1)" in client.get("/").text
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
    item = area.items.filter(verdict=Verdict.MEETS).first()
    item_observe(shop.lead, item=item, outcome="fail")
    assert told(shop.builder) == []  # that it may be covered is not so any more
    job_settle(area.job_id)
    assert told(shop.builder) == ["cover release withdrawn"]
    item_observe(shop.lead, item=item, outcome="pass")
    assert told(shop.builder) == ["cover release withdrawn"]  # the office has not released it again
    cover_release_issue(shop.office, area=area)
    assert told(shop.builder) == []
    client.force_login(shop.builder)
    page = client.get("/").text
    assert "do not cover" not in page
    assert ">OK TO COVER<" in page
    answer = client.get("/api/notices").json()["results"]
    assert not [each for each in answer if "do not cover" in each["text"]]
    client.force_login(shop.office)
    groups = client.get(reverse("job-notices", args=[area.job_id])).text.split("<h2")
    (withdrawn,) = (each for each in groups if "cover release withdrawn" in each.split("</h2>")[0])
    assert "no longer stands" in withdrawn.split("</h2>")[0]
