"""Errors told to a tracker that speaks Sentry's protocol: where and what, never who or with what.

Off unless STUDBAY_ERRORS_DSN is set. What is sent is drawn up anew from a few parts of what the
library gathered; whatever else it gathers, now or in a later version, stays here.
"""

from collections.abc import Iterable
from typing import Any

from celery import current_task

from config.environment import Environment
from config.redact import redacted

KEPT = ("event_id", "timestamp", "platform", "level", "logger", "exception", "logentry", "sdk")
"""Parts of an event that are sent: no request, person or machine, no trail of what came before."""
OF_FRAME = (
    *("filename", "abs_path", "function", "module", "lineno"),
    *("pre_context", "context_line", "post_context", "in_app"),
)
"""What is told of a line of code: never what its variables held."""


def watch_errors(environment: Environment) -> None:
    """Tell errors from now on, where that is set."""
    if not environment.studbay_errors_dsn:
        return
    import sentry_sdk  # it takes long to load
    from sentry_sdk.integrations.celery import CeleryIntegration
    from sentry_sdk.integrations.django import DjangoIntegration
    from sentry_sdk.integrations.logging import LoggingIntegration

    sentry_sdk.init(
        dsn=environment.studbay_errors_dsn,
        integrations=[
            DjangoIntegration(middleware_spans=False, signals_spans=False),
            CeleryIntegration(),
            LoggingIntegration(level=None),
        ],
        auto_enabling_integrations=False,
        send_default_pii=False,
        max_request_body_size="never",
        include_local_variables=False,
        max_breadcrumbs=0,
        auto_session_tracking=False,
        send_client_reports=False,
        server_name="",
        shutdown_timeout=2,
        before_send=_sent,
    )


def _sent(event: Any, hint: Any) -> Any:
    """As the library asks it, in types of its own."""
    return outgoing_event(event, hint)


def outgoing_event(event: dict[str, Any], _hint: dict[str, Any]) -> dict[str, Any]:
    """What is sent of an event."""
    from config.observe import request_id

    kept = _only(event, KEPT)
    for each in kept.get("exception", {}).get("values", []):
        if trace := each.get("stacktrace"):
            trace["frames"] = [_only(frame, OF_FRAME) for frame in trace.get("frames", [])]
    kept["tags"] = {}
    if request_id.get():
        kept["tags"]["request"] = request_id.get()
    if current_task and current_task.request.id:
        kept["tags"] |= {"task": current_task.name, "task_id": current_task.request.id}
    discreet: dict[str, Any] = _discreet(kept)
    return discreet


def _only(given: dict[str, Any], names: Iterable[str]) -> dict[str, Any]:
    """What it has under these names."""
    kept: dict[str, Any] = {}
    for name in names:
        if name in given:
            kept[name] = given[name]
    return kept


def _discreet(value: Any) -> Any:
    """The same without secrets, however deep they lie."""
    if isinstance(value, str):
        return redacted(value)
    if isinstance(value, dict):
        return {name: _discreet(each) for name, each in value.items()}
    if isinstance(value, list | tuple):
        kept = []
        for each in value:
            kept.append(_discreet(each))
        return kept
    return value
