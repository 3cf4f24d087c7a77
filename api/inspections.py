"""The API of inspections, deficiencies and the record, through the same services as the pages."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in, paged
from api.calls import Call
from api.filters import DeficiencyFilter, InspectionFilter, RecordFilter
from api.jobs import OfJob
from api.serializers.inspections import (
    AnswerSerializer,
    AskSerializer,
    DeficiencySerializer,
    EarliestSerializer,
    EventSerializer,
    InspectionSerializer,
)
from api.serializers.jobs import RecordSerializer
from inspections.models import Answer, Inspection
from inspections.overview.inspections import earliest_inspection_of
from inspections.selectors import (
    areas_named,
    deficiency_read,
    inspection_read,
    inspections_of,
    job_read,
)
from inspections.services.answers import Called, inspection_answer
from inspections.services.deficiencies import deficiency_correct
from inspections.services.inspections import inspection_ask, inspection_happen
from jobs.models import Job, Role


class JobInspections(OfJob):
    """The inspections of a job."""

    narrowed = InspectionFilter
    roles = (Role.OFFICE,)

    @extend_schema(responses=InspectionSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every inspection and what happened to it, the earliest first."""
        job = self.inside(job_read(request.user, job_id))
        return paged(self, request, inspections_of(job), InspectionSerializer)

    @extend_schema(request=AskSerializer, responses={201: InspectionSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Ask the authority for an inspection; refused while items are open unless insisted on."""
        job, given = self.read(job_id), given_in(AskSerializer, request)
        asked = given
        asked["areas"] = areas_named(job, asked.get("areas", []))
        made = inspection_ask(request.user, job=job, **asked)
        return Response(InspectionSerializer(made).data, status=201)


class EarliestInspection(OfJob):
    """The first window in which the authority could come."""

    @extend_schema(responses=EarliestSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """Asked for now, with the working."""
        return Response(
            EarliestSerializer(earliest_inspection_of(job_read(request.user, job_id))).data
        )


class OfInspection(View):
    """A view on one inspection, written by the office."""

    roles = (Role.OFFICE,)

    def job_of(self, **ids: UUID) -> Job:
        """The inspection's job."""
        return job_read(
            self.request.user, inspection_read(self.request.user, ids["inspection_id"]).job_id
        )

    def read(self, inspection_id: UUID) -> Inspection:
        """The inspection; for a write, if the caller's role is one that may."""
        inspection = inspection_read(self.request.user, inspection_id)
        self.for_writing(inspection.job.shop)
        return inspection


class InspectionEvents(OfInspection):
    """What happens to an inspection."""

    @extend_schema(request=EventSerializer, responses={201: InspectionSerializer})
    def post(self, request: Call, inspection_id: UUID) -> Response:
        """Book, move or cancel it, or record that nobody got in or nobody came."""
        inspection, given = self.read(inspection_id), given_in(EventSerializer, request)
        inspection_happen(request.user, inspection=inspection, **given)
        fresh = inspection_read(request.user, inspection_id)
        return Response(InspectionSerializer(fresh).data, status=201)


class InspectionAnswer(OfInspection):
    """What the inspector said."""

    @extend_schema(request=AnswerSerializer, responses={201: InspectionSerializer})
    def post(self, request: Call, inspection_id: UUID) -> Response:
        """Record a result for each area or for the job, with what was written up and accepted."""
        inspection, told = self.read(inspection_id), given_in(AnswerSerializer, request)
        answers = told.get("answers", {})
        areas = dict(zip(answers, areas_named(inspection.job, list(answers)), strict=True))
        called = []
        for each in told.get("called", []):
            called.append(
                Called(**{**each, "area": areas_named(inspection.job, [each["area"]])[0]})
            )
        found = {}
        for code, answer in answers.items():
            found[areas[code]] = Answer(answer)
        lifted = []
        for each in told.get("lifted", []):
            lifted.append(deficiency_read(request.user, each))
        inspection_answer(
            request.user,
            inspection=inspection,
            answers=found,
            answer=Answer(told["answer"]) if "answer" in told else None,
            reference=told["reference"],
            called=called,
            lifted=lifted,
        )
        return Response(
            InspectionSerializer(inspection_read(request.user, inspection_id)).data, status=201
        )


class JobDeficiencies(OfJob):
    """What the inspector called on a job."""

    narrowed = DeficiencyFilter

    @extend_schema(responses=DeficiencySerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every deficiency, open and accepted."""
        job = self.inside(job_read(request.user, job_id))
        found = job.deficiencies.select_related("area")
        return paged(self, request, found, DeficiencySerializer)


class DeficiencyCorrected(View):
    """A deficiency that was corrected."""

    @extend_schema(request=None, responses=DeficiencySerializer)
    def post(self, request: Call, deficiency_id: UUID) -> Response:
        """Record that it was corrected; the inspector's acceptance lifts it."""
        found = deficiency_read(request.user, deficiency_id)
        return Response(
            DeficiencySerializer(deficiency_correct(request.user, deficiency=found)).data
        )


class JobRecord(OfJob):
    """The record of a job."""

    narrowed = RecordFilter

    @extend_schema(responses=RecordSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every change, the first first."""
        job = self.inside(job_read(request.user, job_id))
        entries = job.record.select_related("by")
        return paged(self, request, entries, RecordSerializer)
