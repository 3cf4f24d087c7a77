"""What one shop once saw of another, each hole by itself: beside the stranger shop."""

import json
from datetime import date
from uuid import UUID, uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.models import Item, Observation, Outcome, Photograph, SiteChange
from inspections.overview.progress import job_breaches
from inspections.papers.load_sheets import outside_of
from inspections.selectors import job_read, with_areas
from inspections.services.milestones import milestone_record
from inspections.services.observations import items_observe
from inspections.services.photographs import photograph_add
from inspections.services.settling import job_settle
from inspections.services.site_changes import site_change_record
from inspections.services.walks import TickState, Walked, walk_record
from inspections.standing.stages import Milestone
from jobs.models import Area
from tests import stranger
from tests.inspections.test_photographs import picture
from tests.inspections.tiny import HOUSES
from tests.shape import faults
from tests.stranger.rows import rows_of

pytestmark = pytest.mark.django_db
JSON = "application/json"


@pytest.fixture
def job(shop):
    """A house whose every area is released, of areas that the stranger has under the same codes."""
    job = shop.roughed_in(HOUSES["clean"])
    for area in job.areas.select_related("job__shop", "job__authority"):
        assert Area.objects.filter(code=area.code).exclude(job=job).exists()
        shop.release(area, reference=f"R-{area.code}")
    job_settle(job.id)
    return job


def hooked_up(shop, job) -> None:
    milestone_record(
        shop.office,
        job=job,
        milestone=Milestone.HOOKUP,
        reached_on=date(2026, 2, 1),
        reference="H1",
        circuits=["1"],
    )


def told(client, shop, job) -> str:
    """What the page of a job and its moves say, to the office."""
    client.force_login(shop.office)
    pages = [f"/jobs/{job.id}/", f"/api/jobs/{job.id}/moves"]
    return "".join(client.get(page).text for page in pages)


def test_a_hookup_tells_of_the_areas_of_this_job_alone(client, shop, job) -> None:
    hooked_up(shop, job)
    assert stranger.MARK not in told(client, shop, job).lower()
    assert job_breaches(with_areas(job_read(shop.office, job.id))) == []


def test_a_tick_at_the_finish_tells_of_the_areas_of_this_job_alone(client, shop, job) -> None:
    item = job.items.filter(stage=Item.Stage.FINISH, verdict=Verdict.VERIFY).first()
    items_observe(shop.lead, items=[item], outcome=Outcome.OK)
    assert stranger.MARK not in told(client, shop, job).lower()


def test_a_released_house_has_its_rough_in_accepted_on_the_hookup_sheet(client, shop, job) -> None:
    assert outside_of(with_areas(job_read(shop.office, job.id))).rough_in_accepted
    client.force_login(shop.office)
    page = client.get(f"/jobs/{job.id}/power/hookup/").text
    assert "rough-in accepted: not yet" not in page.lower()


def test_the_areas_of_a_job_are_its_own_however_they_are_narrowed(shop, job) -> None:
    read = with_areas(job_read(shop.office, job.id))
    mine = {area.id for area in Area.objects.filter(job=job)}
    for found in (
        read.areas.all(),
        read.areas.filter(name__isnull=False),
        read.areas.exclude(code="none"),
        read.areas.order_by("code"),
        read.areas.select_related("standing"),
    ):
        assert {area.id for area in found} == mine
    assert read.areas.get(code="east").job_id == job.id
    assert read.areas.count() == len(mine)


def test_a_layer_is_reported_of_an_area_whose_code_others_have(client, shop, job) -> None:
    client.force_login(shop.builder)
    body = {"trade": "insulation", "area": "east"}
    answer = client.post(f"/api/jobs/{job.id}/trades", json.dumps(body), JSON)
    assert (answer.status_code, answer.json()["area"]) == (201, "east")


@pytest.mark.parametrize("address", ["trades", "inspections"])
def test_a_code_of_others_is_as_good_as_none(client, shop, job, address) -> None:
    client.force_login(shop.office)
    theirs = rows_of("jobs.area")[-1]["code"]
    assert not job.areas.filter(code=theirs).exists()

    def refusal(code: str) -> tuple[int, str]:
        bodies = {
            "trades": {"trade": "insulation", "area": code},
            "inspections": {"kind": "rough_in", "areas": [code]},
        }
        url = f"/api/jobs/{job.id}/{address}"
        answer = client.post(url, json.dumps(bodies[address]), JSON)
        return answer.status_code, answer.text.replace(code, "CODE")

    assert refusal(theirs) == refusal("zebra")
    assert refusal("zebra")[0] == 422


def tick(item: Item, identity) -> Walked:
    now = timezone.now()
    return Walked(identity, item.id, Outcome.OK, item.fingerprint, now, now)


def test_a_tick_under_an_id_that_others_have_is_kept_once_like_any(shop, job) -> None:
    item = job.items.filter(stage=Item.Stage.ROUGH_IN, verdict=Verdict.VERIFY).first()
    theirs = Observation.objects.get(id=rows_of("inspections.observation")[0]["id"])
    before = shop.own(Observation).count()
    sent = tick(item, theirs.id)
    for _ in range(2):
        (taken,) = walk_record(shop.lead, job=job, ticks=[sent], phone_now=timezone.now())
        assert (taken.id, taken.state, taken.says) == (theirs.id, TickState.KEPT, "")
    assert shop.own(Observation).count() == before + 1
    assert Observation.objects.get(id=theirs.id).item_id == theirs.item_id


def test_a_photograph_under_an_id_that_others_have_is_kept_once_like_any(shop, job) -> None:
    item = job.items.first()
    theirs = UUID(rows_of("inspections.photograph")[0]["id"])
    for _ in range(2):
        upload = SimpleUploadedFile("a.jpg", picture())
        photograph_add(shop.lead, item=item, upload=upload, photograph_id=theirs)
    assert shop.own(Photograph).get().item == item
    assert Photograph.objects.get(id=theirs).item_id != item.id


def test_a_site_change_under_an_id_that_others_have_is_kept_once_like_any(
    shop, house_bytes
) -> None:
    job = shop.roughed_in(house_bytes)
    boxes = json.loads(house_bytes)["boxes"]
    box = next(each["id"] for each in boxes if each["place"]["surface"] == "wall")
    theirs = UUID(rows_of("inspections.sitechange")[0]["id"])
    for _ in range(2):
        given = {"site_change_id": theirs, "box": box, "at_mm": 600.0}
        site_change_record(shop.member, job=job, **given)
    assert shop.own(SiteChange).get().box == box
    assert SiteChange.objects.get(id=theirs).job_id != job.id
    fresh = site_change_record(shop.member, job=job, site_change_id=uuid4(), box=box, at_mm=1.0)
    assert shop.own(SiteChange).filter(id=fresh.id).exists()


@pytest.mark.any_database
@pytest.mark.parametrize(
    "line",
    [
        "areas._result_cache = []",
        "job._prefetched_objects_cache = {}",
        'setattr(areas, "_prefetch_done", True)',
        'vars(areas)["_result_cache"] = []',
    ],
)
def test_a_cache_that_is_filled_by_hand_is_refused(tmp_path, line) -> None:
    file = tmp_path / "selectors.py"
    file.write_text(f"{line}\n", "utf-8")
    assert ["prefetch_related_objects" in fault for fault in faults(file)] == [True]
    file.write_text("prefetch_related_objects([job], 'areas')\n", "utf-8")
    assert list(faults(file)) == []
