"""A typed client made from the published schema brings an area from open items to its release."""

import importlib
import sys
from datetime import timedelta

import pytest
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.models import CoverRelease
from jobs.models import ApiToken
from jobs.services.tokens import token_make
from tests.api.made_client import make_client
from tests.inspections.tiny import HOUSES

pytestmark = [pytest.mark.any_database, pytest.mark.django_db(transaction=True)]


@pytest.fixture(scope="module")
def client_module(tmp_path_factory):
    """The client, made as the README says."""
    folder = tmp_path_factory.mktemp("client")
    make_client(folder)
    sys.path.insert(0, str(folder))
    yield importlib.import_module
    sys.path.remove(str(folder))


def test_from_open_items_to_a_cover_release(shop, live_server, client_module) -> None:
    def api(name: str):
        return client_module(f"studbay_client.api.{name}").sync

    models = client_module("studbay_client.models")
    caller = client_module("studbay_client").AuthenticatedClient
    _, secret = token_make(shop.office, name="desk", scope=ApiToken.Scope.WRITE)
    client = caller(base_url=live_server.url, token=secret, raise_on_unexpected_status=True)
    job = shop.roughed_in(HOUSES["clean"])

    (found,) = api("jobs.jobs_list")(client=client, find="Quillet").results
    assert found.id == job.id
    area = next(each for each in found.areas if each.code == "east")
    assert not area.released
    items = api("jobs.jobs_items_list")(client=client, job_id=job.id).results
    looks = [each for each in items if each.area == "east" and each.verdict == Verdict.VERIFY]
    for item in looks:
        seen = models.ObservationRequest.from_dict({"outcome": "ok", "note": "by the desk"})
        api("items.items_observations_create")(client=client, item_id=item.id, body=seen)
    for room in api("jobs.jobs_as_drawn_list")(client=client, job_id=job.id).results:
        if room.area == "east":
            drawn = []
            for item in room.items:
                drawn.append({"item": str(item.id), "fingerprint": item.finding.fingerprint})
            whole = models.AsDrawnRequest.from_dict({"items": drawn})
            api("jobs.jobs_as_drawn_create")(client=client, job_id=job.id, body=whole)
    ask = models.AskRequest.from_dict({"kind": "rough_in", "areas": ["east"]})
    inspection = api("jobs.jobs_inspections_create")(client=client, job_id=job.id, body=ask)
    now = timezone.now()
    window = {
        "happening": "booked",
        "starts_at": (now - timedelta(hours=2)).isoformat(),
        "ends_at": (now + timedelta(hours=2)).isoformat(),
    }
    event = models.EventRequest.from_dict(window)
    api("inspections.inspections_events_create")(
        client=client, inspection_id=inspection.id, body=event
    )
    answer = models.AnswerRequest.from_dict({"reference": "R1", "answers": {"east": "accepted"}})
    api("inspections.inspections_answer_create")(
        client=client, inspection_id=inspection.id, body=answer
    )
    released = api("areas.areas_cover_releases_create")(client=client, area_id=area.id)
    assert released.reference == "R1"
    assert CoverRelease.objects.get(area=area.id).live
    refused = api("areas.areas_cover_releases_create")(client=client, area_id=found.areas[-1].id)
    assert (refused.status, type(refused).__name__) == (409, "Problem")
