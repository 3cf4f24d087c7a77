"""The API of jobs: opened, changed, permitted, insulated, brought on by milestones and trades."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in, one_page, paged, tag_of
from api.calls import Call
from api.filters import JobFilter
from api.refusal_messages import NO_AUTHORITY, NO_BUILDER, NO_PERSON
from api.serializers.jobs import (
    InsulationSerializer,
    JobChangeSerializer,
    JobOpenSerializer,
    JobSerializer,
    MilestoneSerializer,
    MoveSerializer,
    PermitChangeSerializer,
    PermitSerializer,
    TradeSerializer,
)
from config.languages import said_later
from config.messages.message import Text
from inspections.days.selectors import shop_of
from inspections.models import HouseRevision, TradeReport
from inspections.overview.progress import job_breaches, job_moves
from inspections.selectors import areas_named, job_read, jobs_with_areas, with_areas
from inspections.services.insulation import insulation_choose
from inspections.services.jobs import job_change
from inspections.services.milestones import milestone_record
from inspections.services.permits import (
    permit_amend,
    permit_apply,
    permit_close,
    permit_correct,
    permit_extend,
    permit_issue,
)
from inspections.services.trades import trade_report
from inspections.standing.stages import Milestone
from jobs.access import SITE_ROLES, require_role
from jobs.models import Authority, Builder, Job, Permit, Person, Role, Shop
from jobs.services.jobs import job_open


class OfJob(View):
    """A view on one job, as its caller may see it."""

    def job_of(self, **ids: Any) -> Job:
        """The job of the address."""
        return job_read(self.request.user, ids["job_id"])

    def read(self, job_id: UUID) -> Job:
        """The job, as the caller may see it; for a write, if the caller's role is one that may."""
        job = job_read(self.request.user, job_id)
        self.for_writing(job.shop)
        return job

    def latest(self, job: Job) -> HouseRevision:
        """The job's latest revision, or HouseRevision.DoesNotExist."""
        return job.revisions.latest("number")

    def inside(self, job: Job) -> Job:
        """The job, for the shop's own people alone."""
        require_role(self.request.user, job.shop, *SITE_ROLES)
        return job


class Jobs(View):
    """The jobs that the caller may see."""

    narrowed = JobFilter

    @extend_schema(responses=JobSerializer(many=True))
    def get(self, request: Call) -> Response:
        """Each job with its stage and its areas, hold or clear."""
        return paged(self, request, jobs_with_areas(request.user), JobSerializer)

    @extend_schema(request=JobOpenSerializer, responses={201: JobSerializer})
    def post(self, request: Call) -> Response:
        """Open a job, for the office."""
        shop = shop_of(request.user, Role.OFFICE)
        given = given_in(JobOpenSerializer, request)
        made = job_open(request.user, shop=shop, **_of_shop(shop, given))
        return Response(JobSerializer(_told(request.user, made.id)).data, status=201)


class OneJob(OfJob):
    """One job. Its entity tag is another once a fact of it is recorded."""

    roles = (Role.OFFICE,)

    @extend_schema(responses=JobSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """Its stage, permit and areas."""
        told = _told(request.user, job_id)
        return Response(JobSerializer(told).data, headers={"ETag": tag_of(told)})

    @extend_schema(request=JobChangeSerializer, responses=JobSerializer)
    def patch(self, request: Call, job_id: UUID) -> Response:
        """Change what it is; its record keeps what it was."""
        job, given = self.read(job_id), given_in(JobChangeSerializer, request)
        job_change(request.user, job=job, **_of_shop(job.shop, given))
        return Response(JobSerializer(_told(request.user, job_id)).data)


def _told(person: Person, job_id: UUID) -> Job:
    return with_areas(job_read(person, job_id))


def _of_shop(shop: Shop, given: dict[str, Any]) -> dict[str, Any]:
    """What was given with the shop's own builder, authority and crew lead in place of ids."""
    found = dict(given)
    if "builder" in given:
        builders = Builder.objects.filter(shop=shop, id=given["builder"])
        found["builder"] = _one(builders, NO_BUILDER())
    if "authority" in given:
        authorities = Authority.objects.filter(shop=shop, id=given["authority"])
        found["authority"] = _one(authorities, NO_AUTHORITY())
    if given.get("crew_lead"):
        found["crew_lead"] = person_named(shop, given["crew_lead"])
    return found


def _one(found: Any, otherwise: Text) -> Any:
    one = found.first()
    if one is None:
        raise ValidationError(said_later(otherwise))
    return one


def person_named(shop: Shop, username: str) -> Person:
    """The person of the shop who signs in by that name."""
    found = Person.objects.filter(memberships__shop=shop, username=username)
    stranger = NO_PERSON(name=username, shop=shop.name)
    person: Person = _one(found, stranger)
    return person


class JobMoves(OfJob):
    """Whose move a job is, and what was done out of order."""

    @extend_schema(responses=MoveSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """What moves it on, by whom; and breaches of the order of things."""
        job = self.inside(job_read(request.user, job_id))
        found = {"moves": job_moves(job), "breaches": job_breaches(job)}
        return Response(MoveSerializer(found).data)


class JobPermit(OfJob):
    """A job's permit."""

    roles = (Role.OFFICE,)

    @extend_schema(responses=PermitSerializer)
    def get(self, request: Call, job_id: UUID) -> Response:
        """As it stands; 404 before it was applied for."""
        return Response(PermitSerializer(_permit(job_read(request.user, job_id))).data)

    @extend_schema(request=PermitChangeSerializer, responses={201: PermitSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record what happened to it."""
        job, given = self.read(job_id), given_in(PermitChangeSerializer, request)
        what = given.pop("what")
        services: dict[str, Callable[..., Permit]] = {
            "issued": permit_issue,
            "extended": permit_extend,
            "corrected": permit_correct,
            "amended": permit_amend,
            "closed": permit_close,
        }
        if what == "applied":
            kept = permit_apply(request.user, job=job, **given)
        else:
            kept = services[what](request.user, permit=_permit(job), **given)
        return Response(PermitSerializer(kept).data, status=201)


def _permit(job: Job) -> Permit:
    return Permit.objects.get(job=job)


class JobInsulation(OfJob):
    """The insulation chosen for a job."""

    roles = (Role.OFFICE, Role.CREW_LEAD, Role.BUILDER)

    @extend_schema(responses=InsulationSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every choice, the earliest first; the last one counts."""
        chosen = job_read(request.user, job_id).insulation_choices.select_related("recorded_by")
        return paged(self, request, chosen, InsulationSerializer)

    @extend_schema(request=InsulationSerializer, responses={201: InsulationSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Choose it; the items that rest on it are drawn anew."""
        job, given = self.read(job_id), given_in(InsulationSerializer, request)
        made = insulation_choose(request.user, job=job, **given)
        return Response(InsulationSerializer(made).data, status=201)


class JobMilestones(OfJob):
    """What was reported done for a whole job."""

    roles = (Role.OFFICE,)

    @extend_schema(responses=MilestoneSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """The hookup, the temporary service gone, the finish, the final."""
        job = self.inside(job_read(request.user, job_id))
        return one_page(job.milestones.order_by("id"), MilestoneSerializer)

    @extend_schema(request=MilestoneSerializer, responses={201: MilestoneSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record one, for the office; refused while something speaks against it, unless insisted
        on."""
        job, given = self.read(job_id), given_in(MilestoneSerializer, request)
        given["milestone"] = Milestone(given["milestone"])
        made = milestone_record(request.user, job=job, **given)
        return Response(MilestoneSerializer(made).data, status=201)


class JobTrades(OfJob):
    """Other trades' words on a job."""

    roles = (Role.OFFICE, Role.CREW_LEAD, Role.BUILDER)

    @extend_schema(responses=TradeSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every report, the earliest first; the last of a trade counts."""
        job = job_read(request.user, job_id)
        found = TradeReport.objects.filter(job=job).select_related("area")
        return paged(self, request, found, TradeSerializer)

    @extend_schema(request=TradeSerializer, responses={201: TradeSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Record that a trade's rough-in, or a layer over an area, is done or no longer is."""
        job, given = self.read(job_id), given_in(TradeSerializer, request)
        code = given.pop("area", {}).get("code")
        area = None
        if code:
            area = areas_named(job, [code])[0]
        made = trade_report(request.user, job=job, area=area, **given)
        return Response(TradeSerializer(made).data, status=201)
