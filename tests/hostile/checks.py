"""What holds after every call, asked of the tables by SQL of its own, and of what was answered."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from functools import cache
from typing import Any
from urllib.parse import unquote

from django.core import mail
from django.db import connection
from django.utils.dateparse import parse_datetime

from inspections.models import JobStanding
from inspections.record.chain import record_faults
from inspections.services.settling import due_settle
from jobs.models import Job
from tests.hostile.scene import Call
from tests.hostile.world import OWN, STRANGE, World
from tests.sure import sure

LIVE = """
    SELECT a.id, s.hold_count, s.released
    FROM inspections_coverrelease c
    JOIN jobs_area a ON a.id = c.area_id
    LEFT JOIN inspections_areastanding s ON s.area_id = a.id
    WHERE c.withdrawn_at IS NULL
"""
BAD_ITEMS = """
    SELECT i.rule, i.subject, i.verdict
    FROM inspections_coverrelease c
    JOIN inspections_item i ON i.area_id = c.area_id
    WHERE c.withdrawn_at IS NULL AND i.current AND i.stage = 'rough-in'
    AND i.verdict IN ('not_to_code', 'info_needed')
"""
CALLED = """
    SELECT d.what
    FROM inspections_coverrelease c
    JOIN inspections_deficiency d ON d.area_id = c.area_id
    WHERE c.withdrawn_at IS NULL AND d.accepted_at IS NULL
"""
UNANSWERED = """
    SELECT c.area_id, gone.withdrawn_because
    FROM inspections_coverrelease c
    JOIN inspections_coverrelease gone ON gone.area_id = c.area_id
    LEFT JOIN inspections_withdrawalanswer a ON a.cover_release_id = gone.id
    WHERE c.withdrawn_at IS NULL AND gone.withdrawn_by_id IS NOT NULL AND a.id IS NULL
"""
SEEN = """
    SELECT i.id, o.outcome, o.seen_at, o.recorded_at, o.known_at, {measure}
    FROM inspections_coverrelease c
    JOIN inspections_item i ON i.area_id = c.area_id
    JOIN inspections_observation o ON o.item_id = i.id
    WHERE c.withdrawn_at IS NULL AND i.current AND i.stage = 'rough-in'
    AND NOT o.stale AND o.fingerprint = i.fingerprint
"""
MEASURE = "o.measured_mm, i.measure_min_mm, i.measure_max_mm"
NO_MEASURE = "NULL, NULL, NULL"
"""Before items had limits of their own."""


OF_ORDER = (": delivery: ", "it rests on no acceptance before it")
"""What the auditor says of the order of things, by their moments."""


class Broken(AssertionError):
    """Something that must hold does not."""


def rows(statement: str) -> list[tuple[Any, ...]]:
    """What the database answers."""
    with connection.cursor() as cursor:
        cursor.execute(statement)
        return list(cursor.fetchall())


@cache
def seen_statement() -> str:
    """The statement that reads looks, with the limits of items where they have any."""
    with connection.cursor() as cursor:
        table = connection.introspection.get_table_description(cursor, "inspections_item")
    has_limits = "measure_min_mm" in {column.name for column in table}
    return SEEN.format(measure=MEASURE if has_limits else NO_MEASURE)


def nothing_false_is_clear() -> set[Any]:
    """No live cover release where the tables hold a fail, a hold, a fault or a deficiency.

    Gives the areas that have one.
    """
    live = rows(LIVE)
    for area, holds, released in live:
        if holds or not released:
            raise Broken(
                f"area {area} has a live cover release, {holds} holds, released: {released}"
            )
    for rule, subject, verdict in rows(BAD_ITEMS):
        raise Broken(f"{rule}:{subject} is {verdict} in a released area")
    for (what,) in rows(CALLED):
        raise Broken(f"{what!r} is called and not accepted in a released area")
    for area, because in rows(UNANSWERED):
        raise Broken(f"{because!r} withdrew a release of {area}, is unanswered, and it is clear")
    of_item: dict[Any, list[tuple[Any, ...]]] = defaultdict(list)
    for item, *seen in rows(seen_statement()):
        of_item[item].append(tuple(seen))
    for item, looks in of_item.items():
        if fails := list(_unanswered(looks)):
            raise Broken(f"item {item} of a released area has {len(fails)} fail(s) unanswered")
    return {area for area, _, _ in live}


def _unanswered(looks: list[tuple[Any, ...]]) -> Iterator[datetime]:
    """The moments of fails, and of what was not there to be seen, that no pass answers.

    An N/A with nothing to measure answers what could not be seen, and no fail.
    """
    passes, na, against = [], [], []
    for outcome, seen_at, recorded_at, known_at, measured, least, most in looks:
        recorded = _moment(recorded_at)
        claimed = min(_moment(seen_at), recorded)
        known = min(_moment(known_at), recorded) if known_at else recorded
        failing = outcome == "ok" and _contradicts(measured, least, most)
        if outcome == "ok" and not failing:
            passes.append((claimed, recorded, known))
        elif outcome == "na" and least is None and most is None:
            na.append((claimed, recorded, known))
        else:
            against.append((claimed, recorded, failing or outcome == "fix"))
    for claimed, recorded, failing in against:
        answered = any(
            later > claimed and came > recorded and known >= recorded
            for later, came, known in (passes if failing else [*passes, *na])
        )
        if not answered:
            yield recorded


def _contradicts(measured: float | None, least: float | None, most: float | None) -> bool:
    if measured is None:
        return False
    return (least is not None and measured < least) or (most is not None and measured > most)


def _moment(value: Any) -> datetime:
    """SQLite gives text, without a zone; PostgreSQL a moment."""
    found = sure(parse_datetime(value) if isinstance(value, str) else value)
    return found.replace(tzinfo=None) if found.tzinfo is None else _naive(found)


def _naive(moment: datetime) -> datetime:
    offset = moment.utcoffset() or timedelta()
    return (moment - offset).replace(tzinfo=None) if offset else moment.replace(tzinfo=None)


def answer_is_in_order(world: World, call: Call, answer: Any) -> None:
    """No fault of ours, and no word of the other shop."""
    # Readiness is to say so when the sweep is overdue: that one is an answer, no fault.
    not_ready = answer.status_code == 503 and call.path.partition("?")[0] == "/ready"
    if answer.status_code >= 500 and not not_ready:
        raise Broken(f"{answer.status_code} to {call}")
    streamed = b"".join(answer.streaming_content) if answer.streaming else answer.content
    foreign = STRANGE if call.who != "stranger" else OWN
    if _has(streamed + str(answer.headers).encode(), foreign) and not _sent(world, call, foreign):
        raise Broken(f"a word of another shop in the answer to {call}")


def _has(content: bytes, word: str) -> bool:
    return word.encode() in content or word.lower().encode() in content


def _sent(world: World, call: Call, foreign: str) -> bool:
    """Whether whoever called is of that shop by now, had the word, or a secret that opens it."""
    other = world.theirs
    if foreign == OWN:
        other = world.ours
    if world.is_in(call.who, other):
        return True
    asked = unquote(call.path) + call.body.decode("utf-8", "replace") + repr(call.files)
    return foreign.lower() in asked.lower() or any(
        secret in asked for secret in other.secrets.values()
    )


def mail_is_in_order(world: World, typed: Iterable[str]) -> None:
    """No message to one shop holds a word of the other, but for what the strangers typed.

    A stranger who came in by an invitation is of both.
    """
    if world.is_in("stranger", world.ours):
        return
    theirs = {value for text in typed for value in re.findall(rf"{OWN} \w+ \d+", text)}
    for message in mail.outbox:
        to_strangers = any(STRANGE.lower() in each for each in message.to)
        foreign = OWN if to_strangers else STRANGE
        text = f"{message.subject}\n{message.body}"
        if to_strangers:
            for value in theirs:
                text = text.replace(value, "")
        if foreign in text:
            raise Broken(f"a word of another shop in a message to {message.to}: {text}")


def everything_agrees(job: Job, *, clock_went_back: bool) -> None:
    """The sweep goes through, the job's record is whole, and the auditor finds no difference.

    The auditor looks at the job that the sequence was about, and at whatever crosses from one of
    the shops to the other. Where the clock was set back, moments are not in the order in which
    things happened, and what the auditor says of that order is left out.
    """
    due_settle()
    _nothing_set_aside()
    if faults := list(record_faults(job.id)):
        raise Broken(f"the record of {job}: {faults[0]}")
    nothing_false_is_clear()
    differences = _differences(job)
    if clock_went_back:
        differences = [each for each in differences if not any(w in each for w in OF_ORDER)]
    if differences:
        raise Broken(f"the auditor: {'; '.join(differences)}")


def _nothing_set_aside() -> None:
    names = {each.name for each in JobStanding._meta.get_fields()}
    if "set_aside_at" not in names:
        return
    for standing in JobStanding.objects.filter(set_aside_at__isnull=False):
        raise Broken(f"a job could not be settled: {standing.set_aside_because}")


def _differences(job: Job) -> list[str]:
    """What the auditor says, where the checkout has one."""
    try:
        from tests.audit.audited import audited
    except ImportError:
        return []
    return audited([job.id])
