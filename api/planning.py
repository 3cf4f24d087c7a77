"""The API of what a plan rests on: crews, places of houses, promises, the office's own work."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in
from api.calls import Call
from api.jobs import OfJob, person_named
from api.serializers.days import (
    CrewChangeSerializer,
    CrewSerializer,
    OwnTaskSerializer,
    PlaceSerializer,
    PromiseSerializer,
)
from inspections.days.selectors import crew_read
from inspections.selectors import areas_named
from jobs.models import Role
from jobs.services.crews import crew_change, date_promise, own_task_add, site_place


class OneCrew(View):
    """One crew."""

    roles = (Role.OFFICE,)

    @extend_schema(request=CrewChangeSerializer, responses=CrewSerializer)
    def patch(self, request: Call, crew_id: UUID) -> Response:
        """Give it another name or lead, or the day from which it is no longer a crew."""
        crew = crew_read(request.user, crew_id)
        self.for_writing(crew.shop)
        given = given_in(CrewChangeSerializer, request)
        if given.get("lead") is not None:
            given["lead"] = person_named(crew.shop, given["lead"])
        return Response(CrewSerializer(crew_change(request.user, crew=crew, **given)).data)


class JobPlace(OfJob):
    """Where a job's house stands."""

    roles = (Role.OFFICE,)

    @extend_schema(request=PlaceSerializer, responses=PlaceSerializer)
    def put(self, request: Call, job_id: UUID) -> Response:
        """Record it; driving times are reckoned from it where none are recorded."""
        job, given = self.read(job_id), given_in(PlaceSerializer, request)
        return Response(PlaceSerializer(site_place(request.user, job=job, **given)).data)


class JobPromises(OfJob):
    """Days that were promised to a job's builder."""

    roles = (Role.OFFICE,)

    @extend_schema(request=PromiseSerializer, responses={201: PromiseSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Promise one; a later one for the same takes its place."""
        job, given = self.read(job_id), given_in(PromiseSerializer, request)
        made = date_promise(request.user, job=job, **given)
        return Response(PromiseSerializer(made).data, status=201)


class JobTasks(OfJob):
    """Work that the office adds to a job."""

    roles = (Role.OFFICE,)

    @extend_schema(request=OwnTaskSerializer, responses={201: OwnTaskSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Add a task; the next plan places it."""
        job, given = self.read(job_id), given_in(OwnTaskSerializer, request)
        code = given.pop("area", {}).get("code")
        area = areas_named(job, [code])[0] if code else None
        made = own_task_add(request.user, job=job, area=area, **given)
        return Response(OwnTaskSerializer(made).data, status=201)
