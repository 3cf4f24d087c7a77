"""The record: unbroken, or it shows; and what was recorded stays as it was."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from inspections.append_only import TABLES, make_append_only, release
from inspections.models import (
    Acceptance,
    Answer,
    DeficiencyPhotograph,
    HouseRevision,
    InspectionEvent,
    InspectionKind,
    InsulationChoice,
    JobAnswer,
    Observation,
    Outcome,
    Photograph,
    RecordEntry,
    TradeReport,
    WithdrawalAnswer,
)
from inspections.record.chain import record_faults
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_photograph
from inspections.services.facts import changing_facts
from inspections.services.insulation import insulation_choose
from inspections.services.observations import item_observe
from inspections.services.photographs import photograph_add
from inspections.services.trades import trade_report
from jobs.origin import coming_from
from tests.inspections.test_photographs import picture, upload

pytestmark = pytest.mark.django_db
KEPT = (
    Acceptance,
    DeficiencyPhotograph,
    HouseRevision,
    InspectionEvent,
    InsulationChoice,
    JobAnswer,
    Observation,
    Photograph,
    RecordEntry,
    TradeReport,
    WithdrawalAnswer,
)


@pytest.fixture
def job(shop, house_bytes):
    shop.shop.trades = ["plumbing"]
    shop.shop.save()
    job = shop.roughed_in(house_bytes)
    trade_report(shop.office, job=job, trade="plumbing")
    bedroom = job.areas.select_related("job__shop", "job__authority").get(code="bedroom")
    shop.release(bedroom)
    shop.withdraw(bedroom)
    shop.answer_withdrawal(bedroom)
    item = job.items.select_related("job__shop").first()
    photograph_add(shop.lead, item=item, upload=upload(picture()))
    garage = job.areas.select_related("job__shop", "job__authority").get(code="garage")
    inspection = shop.booked(garage, kind=InspectionKind.FINAL)
    inspection_answer(
        shop.office,
        inspection=inspection,
        answer=Answer.NOT_ACCEPTED,
        reference="F1",
        called=[Called(garage, "a plate")],
    )
    called = job.deficiencies.select_related("job__shop", "area").get()
    deficiency_photograph(shop.lead, deficiency=called, upload=upload(picture()))
    insulation_choose(shop.office, job=job, kind="spray_foam", vapour_barrier=True)
    return job


def verify(*arguments: str) -> tuple[str | int | None, str]:
    out = StringIO()
    try:
        call_command("verify_record", *arguments, stdout=out, stderr=out)
    except SystemExit as end:
        return end.code, out.getvalue()
    return 0, out.getvalue()


@pytest.mark.parametrize("number", [-0.0, 0.0, 5e-324, 1e-7, 0.1, 100000.0, 1e16, 1e22, 1e308, 7])
def test_a_record_with_any_number_in_it_is_unbroken(shop, number) -> None:
    job = shop.job()
    with changing_facts(shop.office, "measured", job.id) as change:
        change.detail = {"measured_mm": number, "among others": [number]}
    assert list(record_faults(job.id)) == []
    assert job.record.last().detail["measured_mm"] == number


def test_every_change_is_an_entry_with_who_and_from_where(shop, job) -> None:
    with coming_from("page"):
        item_observe(shop.lead, item=job.items.first(), outcome=Outcome.FIX, note="loose")
    entry = job.record.last()
    assert (entry.action, entry.by, entry.origin) == ("item observed", shop.lead, "page")
    assert entry.detail["note"] == "loose"
    assert [each.number for each in job.record.all()] == list(range(1, job.record.count() + 1))
    assert [each.action for each in job.record.all()][:3] == [
        "permit applied for",
        "permit issued",
        "house recorded",
    ]


def test_an_unbroken_record_is_said_to_be_so(job) -> None:
    code, said = verify(str(job.id))
    assert code == 0
    assert f"{job.record.count()} entries, unbroken" in said


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda r: r.filter(number=3).update(detail={"revision": 9}), "entry 3 (house recorded)"),
        (lambda r: r.filter(number=2).delete(), "entry 2 is missing"),
        (lambda r: r.order_by("-number")[:1].get().delete(), "were written"),
    ],
)
def test_an_altered_record_is_found_out(job, spoil, words: str) -> None:
    release(connection)  # as somebody would who owns the database
    try:
        spoil(RecordEntry.objects.filter(job=job))
    finally:
        make_append_only(connection)
    code, said = verify()
    assert code == 1
    assert words in said
    assert list(record_faults(job.id))


@pytest.mark.parametrize("kind", KEPT)
def test_the_database_refuses_to_edit_or_delete_what_was_recorded(job, kind) -> None:
    assert kind._meta.db_table in TABLES
    row = kind.objects.first()
    with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
        kind.objects.filter(id=row.id).update(id=row.id)
    with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
        kind.objects.filter(id=row.id)._raw_delete(using="default")


def test_a_record_that_is_not_there_is_said_so() -> None:
    code, said = verify("01a213fb-7117-7590-a281-4eae037604f8")
    assert code == 1
    assert "No job of that id has a record" in said
