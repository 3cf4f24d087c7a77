"""The feed of changes: nothing skipped, nothing told twice, whoever writes and reads at once."""

import threading

import pytest
from django.db import connection

from inspections.models import RecordEntry
from inspections.record.feed import changes_since
from inspections.services.trades import trade_report
from tests.inspections.tiny import HOUSES


def told(shop, since: int = 0, most: int = 500) -> list[tuple[int, str]]:
    return [(each.number, str(each.entry_id)) for each in changes_since(shop.shop, since, most)]


@pytest.mark.django_db
def test_everything_that_was_recorded_is_told_once_in_order(shop, stranger_shop) -> None:
    shop.roughed_in(HOUSES["clean"])
    stranger_shop.roughed_in(HOUSES["clean"])
    first = told(shop)
    entries = RecordEntry.objects.filter(job__shop=shop.shop)
    assert [number for number, _ in first] == list(range(1, entries.count() + 1))
    assert {entry for _, entry in first} == {str(entry.id) for entry in entries}
    job = shop.roughed_in(HOUSES["clean"])
    later = told(shop, first[-1][0])
    assert len(later) == job.record.count()
    assert told(shop)[: len(first)] == first


@pytest.mark.django_db
def test_a_program_reads_on_from_where_it_was(client, shop, stranger_shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    client.force_login(shop.lead)
    seen, since, more = [], 0, True
    while more:
        answer = client.get(f"/api/changes?since={since}&limit=2").json()
        seen += answer["results"]
        since, more = answer["last"], answer["more"]
    assert [each["action"] for each in seen] == list(job.record.values_list("action", flat=True))
    assert client.get(f"/api/changes?since={since}").json() == {
        "results": [],
        "last": since,
        "more": False,
    }
    for bad in ("-1", "x", "1.5", "9" * 30):
        assert client.get(f"/api/changes?since={bad}").status_code == 400
    client.force_login(shop.builder)
    assert client.get("/api/changes").status_code == 404
    client.force_login(stranger_shop.office)
    assert client.get("/api/changes").json()["results"] == []


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_four_read_while_sixteen_write_and_all_hear_the_same(shop, whole) -> None:
    jobs = [shop.roughed_in(HOUSES["clean"]) for _ in range(4)]
    for job in jobs:
        job.shop.trades = ["plumbing"]
        job.shop.save()
    writes, done, heard, faults = 40 if whole else 12, threading.Event(), {}, []

    def guarded(work, *given) -> None:
        try:
            work(*given)
        except BaseException as fault:
            faults.append(fault)
            raise
        finally:
            connection.close()

    def write(number: int) -> None:
        for turn in range(writes):
            job = jobs[(number + turn) % len(jobs)]
            trade_report(shop.office, job=job, trade="plumbing", done=bool(turn % 2))

    def read(number: int) -> None:
        mine: list[tuple[int, str]] = []
        while True:
            ended = done.is_set()
            found = told(shop, mine[-1][0] if mine else 0, 7 + number)
            mine += found
            if ended and not found:
                break
        heard[number] = mine

    readers = [threading.Thread(target=guarded, args=(read, n)) for n in range(4)]
    writers = [threading.Thread(target=guarded, args=(write, n)) for n in range(16)]
    for thread in (*readers, *writers):
        thread.start()
    for thread in writers:
        thread.join(300)
    done.set()
    for thread in readers:
        thread.join(60)
    assert not faults
    everything = {str(each) for each in shop.own(RecordEntry).values_list("id", flat=True)}
    assert len(everything) >= 16 * writes
    for mine in heard.values():
        assert mine == heard[0]
        assert [number for number, _ in mine] == list(range(1, len(everything) + 1))
        assert {entry for _, entry in mine} == everything
