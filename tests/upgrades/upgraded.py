"""What an upgrade does to a database of an earlier version, as `manage.py migrate` would do it.

The report says which rows are lost or changed, what each job shows after settling, and what became
of a phone's queue.
"""

import json
from typing import Any

from django.core.management import call_command
from django.db import connection
from django.test import Client
from django.utils import timezone

from config.celery import app
from config.sealing import is_sealed, unseal
from inspections.models import CoverRelease
from inspections.record.chain import record_faults
from inspections.services.rechecks import answers_carry, jobs_by_older_rules, recheck_plan
from inspections.services.settling import job_settle
from jobs.models import Job, Person, Shop
from notifications.services.notices import shop_follow
from tests.upgrades.renamed import ANEW, RENAMED, VALUES

CONCLUSIONS = ("inspections_areastanding", "inspections_jobstanding")
"""Copies of what follows from facts; they are drawn again, not carried over."""
OURS = ("jobs_", "inspections_", "notifications_", "api_", "mfa_")

Rows = dict[Any, dict[str, Any]]


def tables() -> dict[str, Rows]:
    """Every row of every table of facts as it stands, by its key."""
    with connection.cursor() as cursor:
        names = connection.introspection.table_names(cursor)
    return {name: rows(name) for name in names if name.startswith(OURS)}


def rows(table: str) -> Rows:
    with connection.cursor() as cursor:
        key = connection.introspection.get_primary_key_column(cursor, table)
        cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
        columns = [column[0] for column in cursor.description]
        found = [dict(zip(columns, row, strict=True)) for row in cursor.fetchall()]
    return {row[key]: row for row in found}


def lost(before: dict[str, Rows], after: dict[str, Rows]) -> list[str]:
    """Rows and values that are no more, or are others."""
    found = []
    for table, kept in before.items():
        if table in CONCLUSIONS:
            continue
        now = after.get(RENAMED.get(table, table), {})
        for key, row in kept.items():
            found += _row_lost(table, key, row, now.get(key))
    return found


def _row_lost(table: str, key: Any, row: dict[str, Any], now: dict[str, Any] | None) -> list[str]:
    if now is None:
        return [f"{table} {key} is gone"]
    found = []
    for column, value in row.items():
        name = RENAMED.get(f"{table}.{column}", column)
        if name not in now:
            found.append(f"{table}.{column} is gone")
        elif not _same(table, column, value, RENAMED.get(table, table), name, now[name]):
            found.append(f"{table} {key}: {column} was {value!r} and is {now[name]!r}")
    return found


def _same(table: str, column: str, value: Any, table_now: str, name: str, now: Any) -> bool:
    """Whether a value came through: opened where it is sealed, since what seals knows its place."""
    was = _anew(table, column, _opened(table, column, value))
    is_now = _opened(table_now, name, now)
    if rule := ANEW.get(f"{table}.{column}"):
        return bool(was == rule(is_now))
    return bool(was == is_now)


def _anew(table: str, column: str, value: Any) -> Any:
    """A value as the migrations that renamed it write it."""
    if rule := ANEW.get(f"{table}.{column}"):
        return rule(value)
    if isinstance(value, str):
        return VALUES.get(f"{table}.{column}", {}).get(value, value)
    return value


def _opened(table: str, column: str, value: Any) -> Any:
    """What was sealed on the way is what it was."""
    sealed = isinstance(value, str) and is_sealed(value)
    return unseal(value, of=f"{table}.{column}") if sealed else value


def shown() -> dict[str, Any]:
    """What each job shows."""
    found = {}
    for job in Job.objects.select_related("standing"):
        live = CoverRelease.objects.filter(area__job=job, withdrawn_at__isnull=True)
        holds = {}
        for area in job.areas.select_related("standing"):
            holds[area.code] = sorted({hold["reason"] for hold in area.standing.holds})
        found[str(job.id)] = {
            "name": job.name,
            "stage": job.standing.stage,
            "live": sorted(live.values_list("area__code", flat=True)),
            "items": job.items.count(),
            "current": job.items.filter(current=True).count(),
            "holds": holds,
            "record": [str(fault) for fault in record_faults(job.id)],
        }
    return found


def sent(queue: dict[str, Any]) -> list[dict[str, Any]]:
    """What becomes of what a phone that was loaded before has kept; sent twice, as phones do."""
    client = Client(SERVER_NAME="localhost")
    client.force_login(Person.objects.get(username=queue["person"]))
    answers = []
    for _ in range(2):
        body = {"phone_now": timezone.now().isoformat(), "ticks": queue["ticks"]}
        answer = client.post(
            f"/walk/{queue['job']}/sync", json.dumps(body), content_type="application/json"
        )
        assert answer.status_code == 200, answer.content[:500]
        answers.append(answer.json()["taken"])
    assert answers[0] == answers[1]
    taken: list[dict[str, Any]] = answers[0]
    return taken


def settle() -> None:
    """Draw again what follows for each job."""
    for job_id in Job.objects.order_by("id").values_list("id", flat=True):
        job_settle(job_id)


def carry() -> dict[str, Any]:
    """Carry answers over to the rules of today, as the sweep does; how many items of how many."""
    carried = 0
    for job_id in jobs_by_older_rules():
        carried += answers_carry(job_id)
    otherwise: dict[str, list[list[Any]]] = {}
    for job in Job.objects.filter(revisions__isnull=False).distinct():
        for each in recheck_plan(job):
            otherwise.setdefault(job.name, []).append([*each.key, each.was, each.now])
    return {"carried": carried, "otherwise": otherwise, "left": len(jobs_by_older_rules())}


def follow() -> None:
    """Draw again who is told of what in each shop."""
    for shop_id in Shop.objects.order_by("id").values_list("id", flat=True):
        shop_follow(shop_id)


def upgrade(queue: dict[str, Any]) -> dict[str, Any]:
    """Upgrade, settle, send; the report."""
    app.conf.task_always_eager = True
    before = tables()
    call_command("migrate", verbosity=0)
    missing = lost(before, tables())
    settle()
    settled = shown()
    carried = carry()
    settle()
    return {
        "lost": missing,
        "jobs": settled,
        "by newer rules": shown(),
        "sent": sent(queue),
        **carried,
    }
