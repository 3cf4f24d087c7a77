"""The API of documents: a job's sheets as PDF."""

from collections.abc import Iterable
from uuid import UUID

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.negotiation import BaseContentNegotiation
from rest_framework.renderers import BaseRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from api.base import View, given_in
from api.calls import Call
from api.jobs import OfJob
from api.serializers.houses import PackSerializer
from config.downloads import download
from inspections.models import HouseRevision, Pack
from inspections.papers.documents import job_checklist_pdf
from inspections.papers.load_sheets import LoadSheet, job_sheet_pdf
from inspections.papers.site_list import job_site_list_pdf
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from inspections.selectors import job_read, pack_read
from inspections.services.packs import pack_ask
from jobs.access import require_role
from jobs.models import Role


class AsItIs(BaseContentNegotiation):
    """A document has one form; whatever is accepted, it comes in that."""

    def select_renderer(
        self, _request: Request, renderers: Iterable[BaseRenderer], _suffix: str | None = None
    ) -> tuple[BaseRenderer, str]:
        """The first, for what a refusal says."""
        first = next(iter(renderers))
        return first, first.media_type


class JobChecklistSheet(OfJob):
    """A job's checklist on paper."""

    content_negotiation_class = AsItIs

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    def get(self, request: Call, job_id: UUID) -> HttpResponse:
        """Every item by room with its working, and what was seen of it."""
        job = self.inside(job_read(request.user, job_id))
        return _pdf("checklist", job_checklist_pdf(job, self.latest(job)))


class JobSiteList(OfJob):
    """A job's site list on paper: a plan with what is open by number, then room by room."""

    content_negotiation_class = AsItIs

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    def get(self, request: Call, job_id: UUID) -> HttpResponse:
        """What is open of the stage that the job is at, each line with a box to tick."""
        job = self.inside(job_read(request.user, job_id))
        return _pdf("site-list", job_site_list_pdf(job, self.latest(job)))


class JobPowerSheet(OfJob):
    """A job's load calculation, panel schedule or hookup sheet on paper, for the office."""

    content_negotiation_class = AsItIs

    @extend_schema(
        parameters=[OpenApiParameter("which", str, OpenApiParameter.PATH, enum=list(LoadSheet))],
        responses={(200, "application/pdf"): OpenApiTypes.BINARY},
    )
    def get(self, request: Call, job_id: UUID, which: str) -> HttpResponse:
        """One of `load`, `panel` and `hookup`."""
        job = job_read(request.user, job_id)
        require_role(request.user, job.shop, Role.OFFICE)
        if which not in LoadSheet._value2member_map_:
            raise HouseRevision.DoesNotExist
        return _pdf(which, job_sheet_pdf(job, self.latest(job), LoadSheet(which)))


class JobWorkSheet(OfJob):
    """A sheet that the crew works by, on paper."""

    content_negotiation_class = AsItIs

    @extend_schema(
        parameters=[OpenApiParameter("which", str, OpenApiParameter.PATH, enum=list(SiteSheet))],
        responses={(200, "application/pdf"): OpenApiTypes.BINARY},
    )
    def get(self, request: Call, job_id: UUID, which: str) -> HttpResponse:
        """One of `corrections`, `deficiencies`, `take-off` and `handover`."""
        job = self.inside(job_read(request.user, job_id))
        if which not in SiteSheet._value2member_map_:
            raise HouseRevision.DoesNotExist
        return _pdf(which, site_sheet_pdf(job, self.latest(job), SiteSheet(which)))


class JobPacks(OfJob):
    """Packs of a job: the inspector's, and the owner's at the end."""

    roles = (Role.OFFICE,)

    @extend_schema(request=PackSerializer, responses={202: PackSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Ask for one; a worker makes it. Its address tells how far it is."""
        job, given = self.read(job_id), given_in(PackSerializer, request)
        made = pack_ask(request.user, job=job, **given)
        return Response(PackSerializer(made).data, status=202)


class OfPack(View):
    """A view on one pack, for the office."""

    def found(self, request: Call, pack_id: UUID) -> Pack:
        """The pack, or Pack.DoesNotExist."""
        pack = pack_read(request.user, pack_id)
        require_role(request.user, pack.job.shop, Role.OFFICE)
        return pack


class OnePack(OfPack):
    """How far a pack is."""

    @extend_schema(responses=PackSerializer)
    def get(self, request: Call, pack_id: UUID) -> Response:
        """Its state, and how many of its parts are done."""
        return Response(PackSerializer(self.found(request, pack_id)).data)


class PackFile(OfPack):
    """The file of a pack."""

    content_negotiation_class = AsItIs

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    def get(self, request: Call, pack_id: UUID) -> HttpResponse:
        """Once it is made, with a bookmark for each part; 404 before."""
        pack = self.found(request, pack_id)
        if pack.state != Pack.State.MADE:
            raise Pack.DoesNotExist
        assert pack.content is not None  # it is made
        return _pdf("pack", bytes(pack.content))


def _pdf(name: str, content: bytes) -> HttpResponse:
    return download(content, f"{name}.pdf")
