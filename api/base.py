"""What every view of the API shares: each write once, lists by page, fields that were asked for."""

import hashlib
import json
from collections.abc import Callable, Iterable
from datetime import timedelta
from functools import wraps
from typing import Any, TypeVar

from django.core.exceptions import ValidationError as NotAnId
from django.db import transaction
from django.db.models import Model, QuerySet
from django.utils import timezone
from django_filters import FilterSet
from rest_framework.exceptions import APIException, ParseError, ValidationError
from rest_framework.pagination import CursorPagination
from rest_framework.permissions import SAFE_METHODS
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer, Serializer
from rest_framework.views import APIView

from api import refusal_messages as words
from api.calls import Call
from api.models import StoredAnswer
from api.serializers.fields import Told, told_each
from config.languages import said_later
from config.messages.message import Joined
from inspections.services.facts import lock_areas, lock_job
from jobs.access import require_role
from jobs.models import Job, Role, Shop

KEPT = timedelta(hours=24)
LONGEST_KEY = 200  # characters
UNSAFE = ("post", "put", "patch", "delete")
Handler = Callable[..., Response]
Row = TypeVar("Row", bound=Model)


class KeyReused(APIException):
    """An Idempotency-Key that came with another call before."""

    status_code = 409
    default_detail = said_later(words.KEY_USED())


class Stale(APIException):
    """If-Match names a state that has passed."""

    status_code = 412
    default_detail = said_later(words.JOB_CHANGED())


class ByAge(CursorPagination):
    """Pages by id, the oldest first: what is added meanwhile comes later and moves nothing."""

    ordering = "id"
    page_size = 50
    max_page_size = 200
    page_size_query_param = "limit"


class View(APIView):
    """A view whose unsafe calls are done once for each Idempotency-Key, and only if If-Match holds.

    `observes` lets tokens of that scope write here. A view on a job says which by `job_of`.
    """

    request: Call
    observes = False
    roles: tuple[Role, ...] = ()
    """Who may write here; whoever may see it when empty."""
    pagination_class = ByAge
    narrowed: type[FilterSet] | None = None
    """What its list can be narrowed by."""

    def __init_subclass__(cls, **given: Any) -> None:
        super().__init_subclass__(**given)
        for name in UNSAFE:
            if handler := cls.__dict__.get(name):
                setattr(cls, name, _once(handler))

    def for_writing(self, shop: Shop) -> None:
        """Refuse a write by somebody whose role in the shop it is not, before its body is read."""
        if self.request.method not in SAFE_METHODS and self.roles:
            require_role(self.request.user, shop, *self.roles)

    def job_of(self, **_ids: Any) -> Job | None:
        """The job that a call is about, as the caller may see it; None: of no one job."""
        return None

    def prepare(self, **_ids: Any) -> None:
        """What takes long and locks nothing, done before the transaction of a write begins."""

    def _sparse(self, response: Response, wanted: list[str]) -> Response:
        told = isinstance(response, Response) and isinstance(response.data, dict)
        if response.status_code != 200 or not told:
            return response
        try:
            response.data = _picked(response.data, wanted)
        except ParseError as fault:
            return self.handle_exception(fault)
        return response

    def finalize_response(
        self, request: Request, response: Response, *args: Any, **given: Any
    ) -> Response:
        """With the fields that were asked for, and the rate of the caller in headers."""
        if wanted := request.query_params.get("fields"):
            response = self._sparse(response, wanted.split(","))
        response = super().finalize_response(request, response, *args, **given)
        for name, value in getattr(request, "rate", {}).items():
            response[name] = str(value)
        return response


def _picked(data: Any, wanted: list[str]) -> Any:
    if isinstance(data, dict) and isinstance(data.get("results"), list):
        results = []
        for each in data["results"]:
            results.append(_picked(each, wanted))
        return data | {"results": results}
    if strange := [name for name in wanted if name not in data]:
        names = Joined(tuple(data), ", ")
        raise ParseError(said_later(words.NO_SUCH_FIELD(name=strange[0], names=names)))
    by_name = {}
    for name in wanted:
        by_name[name] = data[name]
    return by_name


def given_in(serializer: type[Serializer[Any]], request: Call) -> dict[str, Any]:
    """What was sent, in the serializer's shape; 400 with every fault when it has another."""
    given = serializer(data=request.data)
    given.is_valid(raise_exception=True)
    return dict(given.validated_data)


def tag_of(job: Job) -> str:
    """The entity tag of a job: it is another once a fact of the job is recorded."""
    return f'"{job.id.hex[-8:]}-{job.standing.facts}"'


def _once(handler: Handler) -> Handler:
    @wraps(handler)
    def done(self: View, request: Call, *args: Any, **ids: Any) -> Response:
        key = request.headers.get("Idempotency-Key")
        if key is None:
            self.prepare(**ids)
            with transaction.atomic():
                _require_match(self, request, ids)
                return handler(self, request, *args, **ids)
        if not 1 <= len(key) <= LONGEST_KEY:
            raise ParseError(said_later(words.KEY_LENGTH(most=LONGEST_KEY)))
        told = hashlib.sha256(f"{request.method} {request.get_full_path()}\n".encode())
        told.update(request.body)
        call = told.hexdigest()
        self.prepare(**ids)  # after the body was read: a form's parts are read from its stream
        with transaction.atomic():
            kept, answered = _kept(request, key, call)
            if answered:
                return _again(kept)
            response = _tried(self, request, handler, args, ids)
            kept.status = response.status_code
            if response.data is not None:
                kept.body = JSONRenderer().render(response.data).decode()
            kept.content_type = response.content_type or ""
            kept.save()
        return response

    return done


def _kept(request: Call, key: str, call: str) -> tuple[StoredAnswer, bool]:
    """The row of a key, and whether its call was answered before. Two at once come one by one."""
    mine, now = StoredAnswer.objects.filter(person=request.user, key=key), timezone.now()
    mine.filter(given_at__lt=now - KEPT).delete()
    first = {"call": call, "given_at": now}
    kept, made = StoredAnswer.objects.get_or_create(person=request.user, key=key, defaults=first)
    if not made and kept.call != call:
        raise KeyReused
    return kept, not made


def _tried(view: View, request: Call, handler: Handler, args: Any, ids: Any) -> Response:
    """The answer, a refusal among them; what was refused is undone. A fault of ours goes on."""
    try:
        with transaction.atomic():
            _require_match(view, request, ids)
            return handler(view, request, *args, **ids)
    except Exception as refusal:  # noqa: BLE001 - handle_exception raises again what is no refusal
        return view.handle_exception(refusal)


def _again(kept: StoredAnswer) -> Response:
    body = None
    if kept.body:
        body = json.loads(kept.body)
    headers = {"Idempotency-Replayed": "true"}
    return Response(body, kept.status, headers=headers, content_type=kept.content_type or None)


def _require_match(view: View, request: Call, ids: dict[str, Any]) -> None:
    wanted = request.headers.get("If-Match")
    job = None
    if wanted:
        job = view.job_of(**ids)
    if wanted is None or job is None:
        return
    lock_job(job.id)
    lock_areas(job.id)
    job.standing.refresh_from_db()
    tags = set()
    for tag in wanted.split(","):
        tags.add(tag.strip())
    if "*" not in tags and tag_of(job) not in tags:
        raise Stale


def answers_forget() -> int:
    """Forget answers whose day is over; how many there were."""
    return StoredAnswer.objects.filter(given_at__lt=timezone.now() - KEPT).delete()[0]


def paged(
    view: View, request: Call, found: QuerySet[Row, Row], serializer: type[BaseSerializer[Row]]
) -> Response:
    """One page of a list, narrowed by what the query asks; 400 when it asks what cannot be."""
    if view.narrowed is not None:
        sieve = view.narrowed(request.query_params, found)
        if not sieve.is_valid():
            raise ValidationError(sieve.errors)
        found = sieve.qs
    pager = ByAge()
    try:
        page = pager.paginate_queryset(found, request, view=view)
    except NotAnId:
        raise ParseError(said_later(words.CURSOR_BAD())) from None
    return pager.get_paginated_response(told_each(page or (), serializer))


def one_page(found: Iterable[Told], serializer: type[BaseSerializer[Told]]) -> Response:
    """A list that is short by nature, in the shape of a page."""
    return Response({"next": None, "previous": None, "results": told_each(found, serializer)})
