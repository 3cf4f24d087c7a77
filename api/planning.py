"""The API of what a plan rests on: crews, places of houses, promises, the office's own work."""

from uuid import UUID

from django.core.exceptions import ValidationError
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from api.base import View, given_in
from api.calls import Call
from api.days import CrewSerializer
from api.jobs import OfJob
from api.serializers.fields import DaySerializerField
from inspections.days.selectors import crew_read
from inspections.selectors import areas_named
from jobs.models import Crew, OwnTask, Person, PromisedDate, Role, Shop, Site, Skill
from jobs.moments import ANY_DAY
from jobs.services.crews import crew_change, date_promise, own_task_add, site_place


class CrewChangeSerializer(serializers.Serializer[Crew]):
    """What is to change of a crew; what is not given stays."""

    name = serializers.CharField(max_length=60, required=False)
    lead = serializers.CharField(required=False, allow_null=True)
    stood_down_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)


class PlaceSerializer(serializers.Serializer[Site]):
    """Where a house stands, in degrees (WGS 84)."""

    latitude = serializers.FloatField(min_value=-90, max_value=90)
    longitude = serializers.FloatField(min_value=-180, max_value=180)


class PromiseSerializer(serializers.Serializer[PromisedDate]):
    """A day that was promised to the builder."""

    promised = serializers.ChoiceField(source="what", choices=PromisedDate.What.choices)
    on = DaySerializerField(ANY_DAY)
    weight = serializers.IntegerField(min_value=0, max_value=1000, required=False)


class OwnTaskSerializer(serializers.Serializer[OwnTask]):
    """Work that the office adds to a job by hand, in person-minutes."""

    id = serializers.UUIDField(read_only=True)
    name = serializers.CharField(max_length=120)
    minutes = serializers.IntegerField(min_value=1, max_value=60_000)
    area = serializers.CharField(source="area.code", required=False, allow_null=True)
    skill = serializers.ChoiceField(choices=Skill.choices, required=False, allow_blank=True)
    not_before = DaySerializerField(ANY_DAY, required=False, allow_null=True)
    due_on = DaySerializerField(ANY_DAY, required=False, allow_null=True)


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
            given["lead"] = _person(crew.shop, given["lead"])
        return Response(CrewSerializer(crew_change(request.user, crew=crew, **given)).data)


def _person(shop: Shop, username: str) -> Person:
    person = Person.objects.filter(memberships__shop=shop, username=username).first()
    if person is None:
        raise ValidationError(f"Nobody called {username!r} works for {shop.name}.")
    return person


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
