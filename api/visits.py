"""The API of visits, deficiencies and the record, through the same services as the pages."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in, paged
from api.calls import Call
from api.filters import DeficiencyFilter, RecordFilter, VisitFilter
from api.jobs import OfJob
from api.serializers.jobs import RecordSerializer
from api.serializers.visits import (
    AnswerSerializer,
    AskSerializer,
    DeficiencySerializer,
    EarliestSerializer,
    EventSerializer,
    VisitSerializer,
)
from inspections.models import Answer, Inspection
from inspections.overview.visits import earliest_visit_of
from inspections.selectors import areas_named, deficiency_read, job_read, visit_read, visits_of
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_mend
from inspections.services.visits import inspection_ask, inspection_happen
from jobs.models import Job, Role


class JobVisits(OfJob):
    """The visits of a job."""

    narrowed = VisitFilter
    roles = (Role.OFFICE,)

    @extend_schema(responses=VisitSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every visit and what happened to it, the earliest first."""
        job = self.inside(job_read(request.user, job_id))
        return paged(self, request, visits_of(job), VisitSerializer)

    @extend_schema(request=AskSerializer, responses={201: VisitSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Ask the authority for a visit; refused while items are open unless insisted on."""
        job, given = self.read(job_id), given_in(AskSerializer, request)
        asked = given
        asked["areas"] = areas_named(job, asked.get("areas", []))
        made = inspection_ask(request.user, job=job, **asked)
        return Response(VisitSerializer(made).data, status=201)


class EarliestVisit(OfJob):
    """The first window in which the authority could come."""

    @extend_schema(responses=EarliestSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """Asked for now, with the working."""
        return Response(EarliestSerializer(earliest_visit_of(job_read(request.user, job_id))).data)


class OfVisit(View):
    """A view on one visit, written by the office."""

    roles = (Role.OFFICE,)

    def job_of(self, **ids: UUID) -> Job:
        """The visit's job."""
        return job_read(self.request.user, visit_read(self.request.user, ids["visit_id"]).job_id)

    def read(self, visit_id: UUID) -> Inspection:
        """The visit; for a write, if the caller's role is one that may."""
        visit = visit_read(self.request.user, visit_id)
        self.for_writing(visit.job.shop)
        return visit


class VisitEvents(OfVisit):
    """What happens to a visit."""

    @extend_schema(request=EventSerializer, responses={201: VisitSerializer})
    def post(self, request: Call, visit_id: UUID) -> Response:
        """Book, move or cancel it, or record that nobody got in or nobody came."""
        visit, given = self.read(visit_id), given_in(EventSerializer, request)
        inspection_happen(request.user, inspection=visit, **given)
        fresh = visit_read(request.user, visit_id)
        return Response(VisitSerializer(fresh).data, status=201)


class VisitAnswer(OfVisit):
    """What the inspector said."""

    @extend_schema(request=AnswerSerializer, responses={201: VisitSerializer})
    def post(self, request: Call, visit_id: UUID) -> Response:
        """Record an answer for each area or for the job, what was called and what was lifted."""
        visit, told = self.read(visit_id), given_in(AnswerSerializer, request)
        answers = told.get("answers", {})
        areas = dict(zip(answers, areas_named(visit.job, list(answers)), strict=True))
        called = []
        for each in told.get("called", []):
            called.append(Called(**{**each, "area": areas_named(visit.job, [each["area"]])[0]}))
        found = {}
        for code, answer in answers.items():
            found[areas[code]] = Answer(answer)
        lifted = []
        for each in told.get("lifted", []):
            lifted.append(deficiency_read(request.user, each))
        inspection_answer(
            request.user,
            inspection=visit,
            answers=found,
            answer=Answer(told["answer"]) if "answer" in told else None,
            reference=told["reference"],
            called=called,
            lifted=lifted,
        )
        return Response(VisitSerializer(visit_read(request.user, visit_id)).data, status=201)


class JobDeficiencies(OfJob):
    """What the inspector called on a job."""

    narrowed = DeficiencyFilter

    @extend_schema(responses=DeficiencySerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every deficiency, open and lifted."""
        job = self.inside(job_read(request.user, job_id))
        found = job.deficiencies.select_related("area")
        return paged(self, request, found, DeficiencySerializer)


class DeficiencyMended(View):
    """A deficiency that was mended."""

    @extend_schema(request=None, responses=DeficiencySerializer)
    def post(self, request: Call, deficiency_id: UUID) -> Response:
        """Record that it was mended; the inspector's acceptance lifts it."""
        found = deficiency_read(request.user, deficiency_id)
        return Response(DeficiencySerializer(deficiency_mend(request.user, deficiency=found)).data)


class JobRecord(OfJob):
    """The record of a job."""

    narrowed = RecordFilter

    @extend_schema(responses=RecordSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every change, the first first."""
        job = self.inside(job_read(request.user, job_id))
        entries = job.record.select_related("by")
        return paged(self, request, entries, RecordSerializer)
