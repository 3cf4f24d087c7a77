"""The API of documents: a job's sheets as PDF."""

from uuid import UUID

from django.http import HttpResponse
from drf_spectacular.utils import OpenApiParameter, OpenApiTypes, extend_schema
from rest_framework.negotiation import BaseContentNegotiation
from rest_framework.request import Request

from api.jobs import OfJob
from inspections.documents import job_checklist_pdf
from inspections.load_sheets import LoadSheet, job_sheet_pdf
from inspections.models import HouseRevision
from inspections.selectors import job_read
from inspections.site_sheets import SiteSheet, inspector_pack_pdf, site_sheet_pdf
from jobs.access import require_role
from jobs.models import Role


class AsItIs(BaseContentNegotiation):
    """A document has one form; whatever is accepted, it comes in that."""

    def select_renderer(self, _request: Request, renderers, _suffix=None):
        """The first, for what a refusal says."""
        return renderers[0], renderers[0].media_type


class JobChecklistSheet(OfJob):
    """A job's checklist on paper."""

    content_negotiation_class = AsItIs

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: UUID) -> HttpResponse:
        """Every item by room with its working, and what was seen of it."""
        job = self.inside(job_read(request.user, job_id))
        return _pdf("checklist", job_checklist_pdf(job, self.latest(job)))


class JobPowerSheet(OfJob):
    """A job's load calculation, panel schedule or hookup sheet on paper, for the office."""

    content_negotiation_class = AsItIs

    @extend_schema(
        parameters=[OpenApiParameter("which", str, OpenApiParameter.PATH, enum=list(LoadSheet))],
        responses={(200, "application/pdf"): OpenApiTypes.BINARY},
    )
    def get(self, request: Request, job_id: UUID, which: str) -> HttpResponse:
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
    def get(self, request: Request, job_id: UUID, which: str) -> HttpResponse:
        """One of `mending`, `deficiencies` and `take-off`."""
        job = self.inside(job_read(request.user, job_id))
        if which not in SiteSheet._value2member_map_:
            raise HouseRevision.DoesNotExist
        return _pdf(which, site_sheet_pdf(job, self.latest(job), SiteSheet(which)))


class JobPack(OfJob):
    """The inspector's pack, for the office."""

    content_negotiation_class = AsItIs

    @extend_schema(responses={(200, "application/pdf"): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: UUID) -> HttpResponse:
        """Everything that is shown at a visit, with a bookmark for each part."""
        job = job_read(request.user, job_id)
        require_role(request.user, job.shop, Role.OFFICE)
        return _pdf("pack", inspector_pack_pdf(job, self.latest(job)))


def _pdf(name: str, content: bytes) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response
