"""The API of areas: their history, cover releases, and links without an account."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import View, given_in, one_page, paged
from api.calls import Call
from api.jobs import OfJob
from api.serializers.areas import (
    AcceptanceSerializer,
    CoverReleaseSerializer,
    HappenedSerializer,
    LinkMadeSerializer,
    LinkSerializer,
    ReasonSerializer,
    WithdrawalAnswerSerializer,
)
from inspections.models import Acceptance, Link
from inspections.overview.timeline import area_timeline
from inspections.selectors import (
    area_read,
    cover_release_read,
    inspection_read,
    job_read,
    link_read,
)
from inspections.services.acceptances import acceptance_elapse, acceptance_waive
from inspections.services.cover_releases import (
    cover_release_issue,
    cover_release_withdraw,
    withdrawal_answer,
)
from inspections.services.links import cover_link_make, link_withdraw
from jobs.access import SITE_ROLES, require_role
from jobs.models import Area, Job, Role


class OfArea(View):
    """A view on one area."""

    def job_of(self, **ids: UUID) -> Job:
        """The area's job."""
        return job_read(self.request.user, area_read(self.request.user, ids["area_id"]).job_id)

    def read(self, area_id: UUID) -> Area:
        """The area; for a write, if the caller's role is one that may."""
        area = area_read(self.request.user, area_id)
        self.for_writing(area.job.shop)
        return area


class AreaTimeline(OfArea):
    """The history of an area."""

    @extend_schema(responses=HappenedSerializer(many=True))
    def get(self, request: Call, area_id: UUID) -> Response:
        """Everything on record about it, the earliest first."""
        area = area_read(request.user, area_id)
        require_role(request.user, area.job.shop, *SITE_ROLES)
        return one_page(area_timeline(area), HappenedSerializer)


class AreaAcceptances(OfArea):
    """The authority's acceptance of an area without an inspection."""

    roles = (Role.OFFICE,)

    @extend_schema(request=AcceptanceSerializer, responses={201: AcceptanceSerializer})
    def post(self, request: Call, area_id: UUID) -> Response:
        """Record a waiver of the inspection, or that nobody came in the time stated."""
        area, given = self.read(area_id), given_in(AcceptanceSerializer, request)
        if given.pop("basis") == Acceptance.Basis.WAIVER:
            made = acceptance_waive(request.user, area=area, reference=given["reference"])
        else:
            inspection = inspection_read(request.user, given.pop("inspection"))
            made = acceptance_elapse(request.user, area=area, inspection=inspection, **given)
        return Response(AcceptanceSerializer(made).data, status=201)


class AreaCoverReleases(OfArea):
    """The cover releases of an area."""

    roles = (Role.OFFICE,)

    @extend_schema(responses=CoverReleaseSerializer(many=True))
    def get(self, request: Call, area_id: UUID) -> Response:
        """Every cover release, live and withdrawn."""
        told = ("acceptance", "withdrawn_by", "withdrawal_answer__recorded_by")
        area = area_read(request.user, area_id)
        found = area.cover_releases.select_related(*told, "area__standing", "area__job__standing")
        return paged(self, request, found, CoverReleaseSerializer)

    @extend_schema(request=None, responses={201: CoverReleaseSerializer})
    def post(self, request: Call, area_id: UUID) -> Response:
        """Release the area on the authority's answer; refused with its holds while it has any."""
        cover_release = cover_release_issue(request.user, area=self.read(area_id))
        return Response(CoverReleaseSerializer(cover_release).data, status=201)


class AreaWithdrawal(OfArea):
    """The live cover release of an area, taken back."""

    roles = (Role.OFFICE,)

    @extend_schema(request=ReasonSerializer, responses=CoverReleaseSerializer)
    def post(self, request: Call, area_id: UUID) -> Response:
        """Withdraw the live cover release, with the reason."""
        area, given = self.read(area_id), given_in(ReasonSerializer, request)
        cover_release = cover_release_withdraw(request.user, area=area, **given)
        return Response(CoverReleaseSerializer(cover_release).data)


class CoverReleaseAnswer(View):
    """What was done about the reason for which somebody withdrew a cover release."""

    roles = (Role.OFFICE, Role.CREW_LEAD)

    def job_of(self, **ids: UUID) -> Job:
        """The cover release's job."""
        cover_release = cover_release_read(self.request.user, ids["cover_release_id"])
        return job_read(self.request.user, cover_release.area.job_id)

    @extend_schema(request=WithdrawalAnswerSerializer, responses={201: WithdrawalAnswerSerializer})
    def post(self, request: Call, cover_release_id: UUID) -> Response:
        """Answer it; until then the reason holds the area."""
        cover_release = cover_release_read(request.user, cover_release_id)
        self.for_writing(cover_release.area.job.shop)
        given = given_in(WithdrawalAnswerSerializer, request)
        answer = withdrawal_answer(request.user, cover_release=cover_release, **given)
        return Response(WithdrawalAnswerSerializer(answer).data, status=201)


class JobLinks(OfJob):
    """Links by which a builder follows a job's cover without an account."""

    roles = (Role.OFFICE,)

    @extend_schema(responses=LinkSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every link, without its secret."""
        job = job_read(request.user, job_id)
        require_role(request.user, job.shop, Role.OFFICE)
        return paged(self, request, job.links.filter(kind=Link.Kind.COVER), LinkSerializer)

    @extend_schema(request=LinkMadeSerializer, responses={201: LinkMadeSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Make one; its secret is shown only once, and opens /l/SECRET."""
        job, given = self.read(job_id), given_in(LinkMadeSerializer, request)
        link, secret = cover_link_make(request.user, job=job, **given)
        return Response(LinkMadeSerializer(link).data | {"secret": secret}, status=201)


class LinkWithdrawal(View):
    """A link taken back."""

    @extend_schema(request=None, responses=LinkSerializer)
    def post(self, request: Call, link_id: UUID) -> Response:
        """Whoever holds it reads from then on that it is no longer valid."""
        found = link_withdraw(request.user, link=link_read(request.user, link_id))
        return Response(LinkSerializer(found).data)
