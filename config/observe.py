"""What an operator sees: ids in every log line, counts and times for Prometheus, readiness."""

import json
import logging
import re
import time
from collections.abc import Callable, Iterator
from contextvars import ContextVar
from datetime import UTC, datetime, timedelta
from hmac import compare_digest
from typing import Any
from uuid import uuid4

from celery import current_task
from django.conf import settings
from django.db import DatabaseError, connection
from django.db.models import Exists, F, OuterRef
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_GET
from prometheus_client import REGISTRY, Counter, Histogram, generate_latest
from prometheus_client.core import GaugeMetricFamily
from prometheus_client.exposition import CONTENT_TYPE_LATEST

from config.redact import one_line, redacted

request_id: ContextVar[str] = ContextVar("request_id", default="")
ID = re.compile(r"^[A-Za-z0-9._-]{8,64}$")
SWEEPS, LONGEST_WAIT = 2, timedelta(minutes=3)
"""So many of them a job may wait whose moment has come or whose facts changed, and no longer."""
LABELS = ["view", "method", "status"]
ANSWERS = Counter("studbay_answers", "Answers by view, method and status", LABELS)
SECONDS = Histogram("studbay_answer_seconds", "Seconds to an answer by view", ["view"])


def observe_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Give each request an id, or keep the one it came with; count its answer."""

    def answer(request: HttpRequest) -> HttpResponse:
        sent = request.headers.get("X-Request-ID", "")
        mark = request_id.set(sent if ID.match(sent) else uuid4().hex)
        began = time.perf_counter()
        try:
            response = get_response(request)
            response["X-Request-ID"] = request_id.get()
        finally:
            request_id.reset(mark)
        view = getattr(request.resolver_match, "url_name", None) or "none"
        ANSWERS.labels(view, request.method, response.status_code).inc()
        SECONDS.labels(view).observe(time.perf_counter() - began)
        return response

    return answer


class TextLines(logging.Formatter):
    """A log line as text, with its moment in UTC, without secrets."""

    def formatTime(self, record: logging.LogRecord, *_: object) -> str:  # noqa: N802
        """The moment as ISO 8601 writes it, with its zone."""
        return datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds")

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802
        """What is said, on one line, whatever somebody sent."""
        return one_line(super().formatMessage(record))

    def format(self, record: logging.LogRecord) -> str:
        """One line, and a trace where there is one."""
        return redacted(super().format(record))


class JsonLines(logging.Formatter):
    """A log line as JSON, without secrets, with the ids of its request or its task."""

    def format(self, record: logging.LogRecord) -> str:
        """One line."""
        line: dict[str, Any] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(),
            "level": record.levelname.lower(),
            "logger": record.name,
            "says": redacted(record.getMessage()),
        }
        if door := getattr(record, "door", None):
            line["door"] = door
        if request_id.get():
            line["request"] = request_id.get()
        if current_task and current_task.request.id:
            line["task"] = current_task.request.id
            line["about"] = [redacted(str(each)) for each in current_task.request.args or ()]
        if record.exc_info:
            line["trace"] = redacted(self.formatException(record.exc_info))
        return json.dumps(line)


class Waiting:
    """How much waits, read from the database when Prometheus asks."""

    def collect(self) -> Iterator[GaugeMetricFamily]:
        """One gauge for each kind of work."""
        from inspections.models import JobStanding, Pack
        from jobs.models import Plan
        from notifications.models import Delivery, State

        now = timezone.now()
        counts = {
            "jobs": JobStanding.objects.filter(next_at__lte=now, set_aside_at=None).count(),
            "jobs set aside": JobStanding.objects.exclude(set_aside_at=None).count(),
            "messages": Delivery.objects.filter(state=State.DUE, due_at__lte=now).count(),
            "plans": Plan.objects.filter(state=Plan.State.ASKED).count(),
            "packs": Pack.objects.filter(state=Pack.State.ASKED).count(),
        }
        waiting = GaugeMetricFamily("studbay_waiting", "What is due and not done", labels=["work"])
        for work, count in counts.items():
            waiting.add_metric([work], count)
        yield waiting


@require_GET
def metrics(request: HttpRequest) -> HttpResponse:
    """Counts and times for Prometheus, for whoever has the token; 404 for anyone else."""
    token = settings.ENVIRONMENT.studbay_metrics_token
    sent = request.headers.get("Authorization", "").removeprefix("Bearer ")
    if not token or not compare_digest(sent.encode(), token.encode()):
        raise Http404
    if not any(isinstance(each, Waiting) for each in list(REGISTRY._collector_to_names)):
        REGISTRY.register(Waiting())
    return HttpResponse(generate_latest(REGISTRY), content_type=CONTENT_TYPE_LATEST)


def _sweep_overdue() -> bool:
    """Whether a job waits to be settled for so long that nobody can be sweeping.

    It waits since its next moment passed, or since the last change of its facts. A job that was
    set aside has a worker that tried it, and is told of elsewhere.
    """
    from inspections.models import JobStanding, RecordEntry

    patience = SWEEPS * timedelta(seconds=settings.ENVIRONMENT.studbay_sweep_seconds)
    since = timezone.now() - min(patience, LONGEST_WAIT)
    waiting = JobStanding.objects.filter(set_aside_at=None)
    if waiting.filter(next_at__lt=since).exists():
        return True
    changed_since = RecordEntry.objects.filter(job=OuterRef("job"), at__gte=since)
    behind = waiting.filter(settled__lt=F("facts"))
    return behind.exclude(Exists(changed_since)).exists()


@require_GET
def ready(_request: HttpRequest) -> JsonResponse:
    """Whether all is well: 200, or 503 with what is missing and when to ask again.

    Without a sweep pages are served, and say of each job since when it was not checked.
    """
    missing = []
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
        if _sweep_overdue():
            missing.append("sweep")
    except DatabaseError:
        missing.append("database")
    if missing:
        return JsonResponse({"missing": missing}, status=503, headers={"Retry-After": "5"})
    return JsonResponse({"ready": True})
