"""The API of plans, crews' days and work reports, through the same services as the pages."""

from datetime import date, timedelta
from uuid import UUID

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from api.base import View, given_in, one_page, paged
from api.calls import Call
from api.jobs import OfJob, person_named
from api.serializers.days import (
    AbsenceSerializer,
    AskPlanSerializer,
    CrewSerializer,
    DaySerializer,
    PlanSerializer,
    WholePlanSerializer,
    WorkReportSerializer,
)
from config.languages import said_later
from inspections.days.problem import shop_now
from inspections.days.selectors import (
    crew_read,
    day_of,
    plan_read,
    plans_of,
    shop_of,
)
from inspections.days.services import day_lists_send, plan_ask, plan_tell
from jobs.access import SITE_ROLES
from jobs.models import Crew, Role
from jobs.moments import ANY_DAY, DayRefused, day_given
from jobs.services.crews import absence_record, work_report


class Plans(View):
    """The plans of the shop whose office the caller keeps."""

    @extend_schema(responses=PlanSerializer(many=True))
    def get(self, request: Call) -> Response:
        """The latest first."""
        shop = shop_of(request.user, Role.OFFICE)
        return one_page(plans_of(shop)[:50], PlanSerializer)

    @extend_schema(request=AskPlanSerializer, responses={202: PlanSerializer})
    def post(self, request: Call) -> Response:
        """Ask for a plan; a worker makes it, and the state of the plan tells when it is made."""
        shop = shop_of(request.user, Role.OFFICE)
        given = given_in(AskPlanSerializer, request)
        plan = plan_ask(request.user, shop=shop, first_day=given.get("first_day"))
        return Response(PlanSerializer(plan).data, status=202)


class OnePlan(View):
    """One plan."""

    @extend_schema(responses=WholePlanSerializer)
    def get(self, request: Call, plan_id: UUID) -> Response:
        """With all its work."""
        return Response(WholePlanSerializer(plan_read(request.user, plan_id)).data)


class PlanTold(View):
    """The telling of a plan."""

    @extend_schema(request=None, responses=PlanSerializer)
    def post(self, request: Call, plan_id: UUID) -> Response:
        """Tell people the plan: their lists are drawn from it from now on."""
        plan = plan_read(request.user, plan_id)
        return Response(PlanSerializer(plan_tell(request.user, plan=plan)).data)


class Crews(View):
    """The crews of the shop whose office the caller keeps."""

    @extend_schema(responses=CrewSerializer(many=True))
    def get(self, request: Call) -> Response:
        """By name."""
        shop = shop_of(request.user, Role.OFFICE)
        found = Crew.objects.filter(shop=shop).select_related("lead")
        return paged(self, request, found, CrewSerializer)


DAY = OpenApiParameter("day", date, description="tomorrow at the shop unless given")


class CrewDay(View):
    """A crew's list for a day."""

    @extend_schema(parameters=[DAY], responses=DaySerializer)
    def get(self, request: Call, crew_id: UUID) -> Response:
        """As it is now and as it was last sent."""
        crew = crew_read(request.user, crew_id)
        return Response(DaySerializer(day_of(crew, _day(request, crew))).data)

    @extend_schema(parameters=[DAY], request=None, responses={201: DaySerializer})
    def post(self, request: Call, crew_id: UUID) -> Response:
        """Send it: it is kept as it is, and what changes later is a further number."""
        crew = crew_read(request.user, crew_id)
        day = _day(request, crew)
        day_lists_send(request.user, shop=crew.shop, day=day, crews=[crew])
        return Response(DaySerializer(day_of(crew, day)).data, status=201)


def _day(request: Call, crew: Crew) -> date:
    now, given = timezone.now(), request.query_params.get("day")
    if not given:
        return shop_now(crew.shop, now).date() + timedelta(days=1)
    try:
        return day_given(given, ANY_DAY, now)
    except DayRefused as fault:
        raise serializers.ValidationError({"day": [said_later(fault.text)]}) from None


class Absences(View):
    """When people of the shop are away."""

    @extend_schema(request=AbsenceSerializer, responses={201: AbsenceSerializer})
    def post(self, request: Call) -> Response:
        """Record that somebody is away."""
        shop = shop_of(request.user, Role.OFFICE, Role.CREW_LEAD)
        kept = given_in(AbsenceSerializer, request)
        person = person_named(shop, kept.pop("person")["username"])
        made = absence_record(request.user, shop=shop, person=person, **kept)
        return Response(AbsenceSerializer(made).data, status=201)


class JobWork(OfJob):
    """What crews report of a job's tasks."""

    roles = SITE_ROLES

    @extend_schema(request=WorkReportSerializer, responses={201: WorkReportSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record that a task is done, or that it is not after all."""
        job, given = self.read(job_id), given_in(WorkReportSerializer, request)
        made = work_report(request.user, job=job, **given)
        return Response(WorkReportSerializer(made).data, status=201)
