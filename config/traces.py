"""Traces by OTLP: how long a request or a task took, and its statements; no addresses or values.

Off unless STUDBAY_TRACES_URL is set. Spans are made here, of what is known to be harmless:
ready-made instruments write down addresses, which open things, and whole statements.
"""

import re
from collections.abc import Callable
from typing import Any

from celery import signals
from django.core.exceptions import ImproperlyConfigured
from django.db.backends.signals import connection_created
from django.http import HttpRequest, HttpResponse

from config.environment import Environment

TABLE = re.compile(r'\b(?:FROM|INTO|UPDATE|JOIN)\s+"?(\w+)', re.IGNORECASE)


def watch_time(environment: Environment) -> None:
    """Tell spans from now on, where that is set. Raises ImproperlyConfigured without library."""
    if not environment.studbay_traces_url:
        return
    try:
        from opentelemetry import trace
        from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
        from opentelemetry.sdk.resources import Resource
        from opentelemetry.sdk.trace import TracerProvider
        from opentelemetry.sdk.trace.export import BatchSpanProcessor
        from opentelemetry.sdk.trace.sampling import ParentBasedTraceIdRatio
    except ImportError:
        raise ImproperlyConfigured(
            "STUDBAY_TRACES_URL: needs `pip install -r requirements-traces.txt`"
        ) from None
    provider = TracerProvider(
        resource=Resource({"service.name": "studbay"}),
        sampler=ParentBasedTraceIdRatio(environment.studbay_traces_share),
    )
    exporter = OTLPSpanExporter(endpoint=environment.studbay_traces_url, timeout=5)
    provider.add_span_processor(BatchSpanProcessor(exporter))
    trace.set_tracer_provider(provider)
    connection_created.connect(_watch_statements, weak=False)
    signals.before_task_publish.connect(_send_along, weak=False)
    signals.task_prerun.connect(_task_begins, weak=False)
    signals.task_postrun.connect(_task_ends, weak=False)
    signals.task_failure.connect(_task_fails, weak=False)


def _span(name: str, kind: str, attributes: dict[str, Any], context: Any = None) -> Any:
    """A span that is the current one for a block. Exceptions are told by kind alone, elsewhere."""
    from opentelemetry import trace

    return trace.get_tracer("studbay").start_as_current_span(
        name,
        context=context,
        kind=trace.SpanKind[kind],
        attributes=attributes,
        record_exception=False,
        set_status_on_exception=False,
    )


def _failed(span: Any, why: str) -> None:
    from opentelemetry.trace import StatusCode

    span.set_status(StatusCode.ERROR, why)


def trace_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """A span for each request: the pattern of its address, never the address."""
    from config.observe import request_id

    def answer(request: HttpRequest) -> HttpResponse:
        known = {"http.request.method": request.method, "studbay.request": request_id.get()}
        with _span(str(request.method), "SERVER", known) as span:
            response = get_response(request)
            if found := request.resolver_match:
                span.update_name(f"{request.method} {found.url_name}")
                span.set_attribute("http.route", found.route)
            span.set_attribute("http.response.status_code", response.status_code)
            if response.status_code >= 500:
                _failed(span, str(response.status_code))
        return response

    return answer


def _watch_statements(connection: Any, **_: Any) -> None:
    if _statement not in connection.execute_wrappers:
        connection.execute_wrappers.append(_statement)


def _statement(execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any) -> Any:
    """A span for a statement: what it does to which table, without its text or its values."""
    from opentelemetry import trace

    if not trace.get_current_span().is_recording():
        return execute(sql, params, many, context)
    table = TABLE.search(sql)
    words = filter(None, (sql.split(maxsplit=1)[0].upper(), table and table[1]))
    known = {"db.system.name": context["connection"].vendor}
    with _span(" ".join(words), "CLIENT", known) as span:
        try:
            return execute(sql, params, many, context)
        except Exception as error:
            _failed(span, type(error).__name__)
            raise


_running: dict[str, tuple[Any, Any]] = {}
"""Spans of tasks that this process is at, by the task's id."""


def _send_along(headers: dict[str, Any], **_: Any) -> None:
    """Let the worker go on in the trace of who asked."""
    from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

    TraceContextTextMapPropagator().inject(headers)


def _task_begins(task_id: str, task: Any, **_: Any) -> None:
    from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

    asked = {"traceparent": getattr(task.request, "traceparent", None)}
    carried = {}
    for k, v in asked.items():
        if v:
            carried[k] = v
    context = TraceContextTextMapPropagator().extract(carried)
    block = _span(task.name, "CONSUMER", {"studbay.task": task_id}, context)
    _running[task_id] = (block, block.__enter__())


def _task_fails(task_id: str, exception: BaseException, **_: Any) -> None:
    if task_id in _running:
        _failed(_running[task_id][1], type(exception).__name__)


def _task_ends(task_id: str, **_: Any) -> None:
    if found := _running.pop(task_id, None):
        found[0].__exit__(None, None, None)
