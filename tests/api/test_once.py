"""Writes that are done once, and only on the state that their maker knew."""

import threading

import pytest
from django.db import connection
from django.test import Client

from api.base import KEPT, answers_forget
from api.models import StoredAnswer
from inspections.checker.finding import Verdict
from inspections.models import Observation, Photograph
from inspections.services.insulation import insulation_choose
from tests.inspections.test_photographs import picture, upload
from tests.inspections.tiny import HOUSES

JSON = "application/json"


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def item(job):
    return job.items.filter(verdict=Verdict.VERIFY).first()


def observe(client, item, key: str | None = "k1", outcome: str = "ok", **headers):
    if key is not None:
        headers["Idempotency-Key"] = key
    url = f"/api/items/{item.id}/observations"
    return client.post(url, {"outcome": outcome}, JSON, headers=headers)


@pytest.mark.django_db
class TestOnce:
    def test_a_call_that_comes_again_is_answered_alike_and_done_once(self, client, shop, item):
        client.force_login(shop.lead)
        first, again = observe(client, item), observe(client, item)
        assert (first.status_code, again.status_code) == (201, 201)
        assert first.json() == again.json()
        assert again.headers["Idempotency-Replayed"] == "true"
        assert "Idempotency-Replayed" not in first.headers
        assert shop.own(Observation).count() == 1
        assert observe(client, item, "k2").json()["id"] != first.json()["id"]
        observe(client, item, None)
        observe(client, item, None)
        assert shop.own(Observation).count() == 4

    def test_a_photograph_under_a_key_is_kept_once(self, client, shop, item) -> None:
        client.force_login(shop.lead)
        url = f"/api/items/{item.id}/photographs"
        made = upload(picture())
        for _ in range(2):
            made.seek(0)
            answer = client.post(url, {"file": made}, headers={"Idempotency-Key": "p1"})
            assert answer.status_code == 201, answer.content
        assert shop.own(Photograph).count() == 1

    def test_another_call_under_the_same_key_is_refused(self, client, shop, item) -> None:
        client.force_login(shop.lead)
        observe(client, item)
        other = observe(client, item, outcome="fix")
        assert other.status_code == 409
        assert "Use a new one." in other.json()["detail"]
        assert shop.own(Observation).get().outcome == "ok"

    def test_two_people_may_use_one_key(self, client, shop, item) -> None:
        for person in (shop.lead, shop.member):
            client.force_login(person)
            assert "Idempotency-Replayed" not in observe(client, item).headers
        assert shop.own(Observation).count() == 2

    def test_a_refusal_is_answered_alike_too(self, client, shop, job) -> None:
        area = job.areas.first()
        client.force_login(shop.office)
        headers = {"Idempotency-Key": "c"}
        url = f"/api/areas/{area.id}/cover-releases"
        first = client.post(url, headers=headers)
        assert first.status_code == 409
        again = client.post(url, headers=headers)
        assert (again.status_code, again.json()) == (409, first.json())
        assert again.headers["Content-Type"] == "application/problem+json"

    def test_a_fault_of_ours_is_not_kept(self, shop, item, monkeypatch) -> None:
        client = Client(raise_request_exception=False)
        client.force_login(shop.lead)
        with monkeypatch.context() as broken:
            broken.setattr("api.houses.item_observe", lambda *_a, **_g: 1 / 0)
            assert observe(client, item).status_code == 500
        assert not StoredAnswer.objects.filter(person=shop.lead).exists()
        assert observe(client, item).status_code == 201

    def test_a_day_later_a_key_is_free_again(self, client, shop, item) -> None:
        client.force_login(shop.lead)
        observe(client, item)
        mine = StoredAnswer.objects.filter(person=shop.lead)
        mine.update(given_at=mine.get().given_at - KEPT)
        assert "Idempotency-Replayed" not in observe(client, item, outcome="fix").headers
        assert answers_forget() == 0
        mine.update(given_at=mine.get().given_at - KEPT)
        assert answers_forget() == 1

    def test_a_key_that_is_none_is_refused(self, client, shop, item) -> None:
        client.force_login(shop.lead)
        assert observe(client, item, "x" * 201).status_code == 400
        assert not shop.own(Observation).exists()


@pytest.mark.django_db
class TestMatch:
    def test_a_write_on_a_state_that_has_passed_is_refused(self, client, shop, job, item) -> None:
        client.force_login(shop.office)
        tag = client.get(f"/api/jobs/{job.id}").headers["ETag"]
        insulation_choose(shop.lead, job=job, kind="batts", vapour_barrier=False)
        stale = observe(client, item, None, **{"If-Match": tag})
        assert stale.status_code == 412
        assert not shop.own(Observation).exists()
        fresh = client.get(f"/api/jobs/{job.id}").headers["ETag"]
        assert fresh != tag
        assert observe(client, item, None, **{"If-Match": f'"x", {fresh}'}).status_code == 201
        assert observe(client, item, None, **{"If-Match": "*"}).status_code == 201

    def test_a_job_is_changed_on_its_tag(self, client, shop, job) -> None:
        client.force_login(shop.office)
        url = f"/api/jobs/{job.id}"
        tag = client.get(url).headers["ETag"]
        for status in (200, 412):
            answer = client.patch(url, {"name": "Lot 16"}, JSON, headers={"If-Match": tag})
            assert answer.status_code == status


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_calls_that_come_at_once_under_one_key_are_done_once(shop, item) -> None:
    answers = []

    def call() -> None:
        client = Client()
        client.force_login(shop.lead)
        answers.append(observe(client, item))
        connection.close()

    threads = [threading.Thread(target=call) for _ in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert [answer.status_code for answer in answers] == [201] * 12
    assert len({answer.json()["id"] for answer in answers}) == 1
    assert shop.own(Observation).count() == 1
