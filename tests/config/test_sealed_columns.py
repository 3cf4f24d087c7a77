"""Columns that are sealed: what the database holds, and a change of keys while people work."""

import threading
import time

import pytest
from django.core.exceptions import FieldError
from django.core.management import CommandError, call_command
from django.db import connection
from django.utils import timezone

from api.models import StoredAnswer
from config import resealing
from config.sealed_field import Sealed
from config.sealing import KeyMissing, first_key_id, forget_keys, is_sealed, key_id, new_key

pytestmark = pytest.mark.alone
SECRET = '{"secret": "of tests alone"}'


@pytest.fixture
def keyed(settings, tmp_path):
    """Set the keys of the site."""

    def with_keys(*keys: str) -> None:
        settings.VAR = tmp_path
        given = {"studbay_sealing_keys": list(keys), "database_url": ""}
        settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)
        forget_keys()

    yield with_keys
    forget_keys()


def answer(shop, number: int = 0, body: str = SECRET) -> StoredAnswer:
    return StoredAnswer.objects.create(
        person=shop.lead, key=f"key {number}", call="c", body=body, given_at=timezone.now()
    )


def held(row: StoredAnswer) -> str:
    """What the database has, past all fields."""
    with connection.cursor() as cursor:
        identity = row.id if connection.features.has_native_uuid_field else row.id.hex
        cursor.execute("SELECT body FROM api_storedanswer WHERE id = %s", [identity])
        return str(cursor.fetchone()[0])


def write_clear(row: StoredAnswer, text: str) -> None:
    """As the version before does, which knows no seal."""
    with connection.cursor() as cursor:
        identity = row.id if connection.features.has_native_uuid_field else row.id.hex
        cursor.execute("UPDATE api_storedanswer SET body = %s WHERE id = %s", [text, identity])


@pytest.mark.django_db
def test_the_database_holds_what_nobody_reads_without_the_key(shop, keyed) -> None:
    keyed(new_key())
    row = answer(shop)
    assert is_sealed(held(row))
    assert "of tests alone" not in held(row)
    assert row.body == SECRET
    assert StoredAnswer.objects.get(id=row.id).body == SECRET
    StoredAnswer.objects.filter(id=row.id).update(body="another")
    assert is_sealed(held(row))
    (many,) = StoredAnswer.objects.bulk_create(
        [StoredAnswer(person=shop.member, key="k", call="c", body=SECRET, given_at=row.given_at)]
    )
    assert is_sealed(held(many))
    assert SECRET not in repr(vars(StoredAnswer.objects.get(id=many.id))), "a row carries it about"


@pytest.mark.django_db
def test_nothing_is_nothing_and_what_was_in_clear_is_read(shop, keyed) -> None:
    keyed(new_key())
    empty = answer(shop, body="")
    assert held(empty) == ""
    row = answer(shop, 1)
    write_clear(row, "in clear")
    assert StoredAnswer.objects.get(id=row.id).body == "in clear"


@pytest.mark.django_db
def test_what_looks_sealed_and_was_typed_is_sealed(shop, keyed) -> None:
    keyed(new_key())
    typed = "s1:00000000:bm90aGluZw=="
    row = answer(shop, body=typed)
    assert held(row) != typed
    assert StoredAnswer.objects.get(id=row.id).body == typed


@pytest.mark.django_db
def test_a_row_whose_key_is_missing_is_read_and_written_but_for_that(shop, keyed) -> None:
    keyed(new_key())
    row = answer(shop)
    before = held(row)
    keyed(new_key())
    found = StoredAnswer.objects.get(id=row.id)
    assert found.key == "key 0"
    found.status = 201
    found.save()
    assert held(row) == before
    with pytest.raises(KeyMissing):
        _ = found.body


@pytest.mark.django_db
def test_looking_it_up_is_refused(shop) -> None:
    answer(shop)
    for wanted in ({"body": SECRET}, {"body__contains": "s"}, {"body__in": [SECRET]}):
        with pytest.raises(FieldError, match="digest"):
            list(StoredAnswer.objects.filter(**wanted))
    assert StoredAnswer.objects.filter(person=shop.lead, body__isnull=False).exists()


@pytest.mark.django_db
def test_a_call_whose_answer_cannot_be_opened_is_told_in_words(shop, keyed, client) -> None:
    client.raise_request_exception = False
    keyed(new_key())
    client.force_login(shop.office)
    sent = {"content_type": "application/json", "headers": {"Idempotency-Key": "one"}}
    body = {"shop": str(shop.shop.id), "role": "crew_lead", "for_whom": "Somebody new"}
    address = "/api/invitations"
    first = client.post(address, body, **sent)
    assert first.status_code == 201, first.content
    secret = first.json()["secret"]
    assert secret in client.post(address, body, **sent).content.decode()
    assert secret not in held(StoredAnswer.objects.get(person=shop.office))
    keyed(new_key())
    client.force_login(shop.office)  # the session was sealed too
    again = client.post(address, body, **sent)
    assert again.status_code == 503
    assert "A key of this site is missing" in again.json()["detail"]


@pytest.mark.django_db
def test_every_row_is_sealed_anew_and_the_old_key_can_go(shop, keyed, capsys) -> None:
    old, new = new_key(), new_key()
    keyed(old)
    rows = [answer(shop, number) for number in range(5)]
    write_clear(rows[4], SECRET)
    keyed(new, old)
    fresh = answer(shop, 9)
    call_command("reseal")
    assert "sealed anew" in capsys.readouterr().out
    keyed(new)
    for row in (*rows, fresh):
        assert key_id(held(row)) == first_key_id()
        assert StoredAnswer.objects.get(id=row.id).body == SECRET
    before = [held(row) for row in rows]
    assert resealing.reseal().resealed == 0
    assert [held(row) for row in rows] == before, "a second run changes nothing"


@pytest.mark.django_db
def test_what_cannot_be_opened_stays_and_fails_the_command(shop, keyed, capsys) -> None:
    lost, old, new = new_key(), new_key(), new_key()
    keyed(lost)
    gone = answer(shop, 0)
    keyed(old)
    kept = answer(shop, 1)
    before = held(gone)
    keyed(new, old)
    with pytest.raises(CommandError, match=f"1 stay as they are(.|\n)*{key_id(before)}"):
        call_command("reseal")
    capsys.readouterr()
    assert held(gone) == before
    assert key_id(held(kept)) == first_key_id()


@pytest.mark.django_db(transaction=True)
def test_a_run_that_is_stopped_anywhere_is_taken_up_again(shop, keyed, monkeypatch) -> None:
    old, new = new_key(), new_key()
    keyed(old)
    rows = [answer(shop, number) for number in range(6)]
    keyed(new, old)
    seen: list[tuple[object, ...]] = []
    done = resealing._row

    def stops(*given) -> None:
        if len(seen) == 3:
            raise KeyboardInterrupt
        seen.append(given)
        done(*given)

    monkeypatch.setattr(resealing, "_row", stops)
    with pytest.raises(KeyboardInterrupt):
        resealing.reseal()
    assert {StoredAnswer.objects.get(id=row.id).body for row in rows} == {SECRET}
    monkeypatch.setattr(resealing, "_row", done)
    resealing.reseal()
    assert {key_id(held(row)) for row in rows} == {first_key_id()}


@pytest.mark.django_db
def test_what_was_written_between_reading_and_locking_is_kept(shop, keyed, monkeypatch) -> None:
    old, new = new_key(), new_key()
    keyed(old)
    row, gone = answer(shop, 0), answer(shop, 1)
    keyed(new, old)
    read = resealing._values

    def then_somebody_writes(place):
        found = list(read(place))
        StoredAnswer.objects.filter(id=row.id).update(body="written meanwhile")
        StoredAnswer.objects.filter(id=gone.id).delete()
        return found

    monkeypatch.setattr(resealing, "_values", then_somebody_writes)
    assert not resealing.reseal().faults
    assert StoredAnswer.objects.get(id=row.id).body == "written meanwhile"


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_what_people_write_meanwhile_is_not_lost(shop, keyed) -> None:
    """Somebody writes each row again and again while the run goes over all of them."""
    old, new = new_key(), new_key()
    keyed(old)
    rows = [answer(shop, number, "0") for number in range(12)]
    keyed(new, old)
    stop, written = threading.Event(), {row.id: 0 for row in rows}

    def people() -> None:
        turn = 0
        while not stop.is_set():
            turn += 1
            for row in rows:
                StoredAnswer.objects.filter(id=row.id).update(body=str(turn))
                written[row.id] = turn
        connection.close()

    busy = threading.Thread(target=people)
    busy.start()
    until = time.monotonic() + 2
    while time.monotonic() < until:
        told = resealing.reseal()
        assert not told.faults
    stop.set()
    busy.join()
    resealing.reseal()
    assert {row.id: int(StoredAnswer.objects.get(id=row.id).body) for row in rows} == written
    assert {key_id(held(row)) for row in rows} == {first_key_id()}


def test_a_sealed_value_tells_nothing_of_itself() -> None:
    assert repr(Sealed("s1:00000000:abc", "table.column")) == "<sealed table.column>"
