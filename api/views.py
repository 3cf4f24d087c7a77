"""The API: the same reads and writes as the pages, through the same services."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.serializers import (
    ClearanceSerializer,
    HappenedSerializer,
    InsulationSerializer,
    ItemSerializer,
    JobSerializer,
    ObservationSerializer,
    ReasonSerializer,
)
from inspections.selectors import area_read, checklist, item_read, job_read, jobs_with_areas
from inspections.services import (
    clearance_issue,
    clearance_withdraw,
    insulation_choose,
    item_observe,
)
from inspections.timeline import area_timeline
from jobs.access import SITE_ROLES, require_role


class JobList(APIView):
    """The jobs that the caller may see."""

    @extend_schema(responses=JobSerializer(many=True))
    def get(self, request: Request) -> Response:
        """Each job with its stage and its areas, hold or clear."""
        return Response(JobSerializer(jobs_with_areas(request.user), many=True).data)


class JobDetail(APIView):
    """One job."""

    @extend_schema(responses=JobSerializer)
    def get(self, request: Request, job_id: UUID) -> Response:
        """Its stage, permit and areas."""
        return Response(JobSerializer(job_read(request.user, job_id)).data)


class JobItems(APIView):
    """A job's checklist."""

    @extend_schema(responses=ItemSerializer(many=True))
    def get(self, request: Request, job_id: UUID) -> Response:
        """Every current item, in the order a person walks."""
        lines = checklist(job_read(request.user, job_id))
        return Response(ItemSerializer(lines, many=True).data)


class ItemObservations(APIView):
    """What was seen of an item."""

    @extend_schema(responses=ObservationSerializer(many=True))
    def get(self, request: Request, item_id: UUID) -> Response:
        """Every observation, the earliest first."""
        item = item_read(request.user, item_id)
        seen = item.observations.select_related("seen_by")
        return Response(ObservationSerializer(seen, many=True).data)

    @extend_schema(request=ObservationSerializer, responses={201: ObservationSerializer})
    def post(self, request: Request, item_id: UUID) -> Response:
        """Record an observation; a later one supersedes it."""
        given = ObservationSerializer(data=request.data)
        given.is_valid(raise_exception=True)
        item = item_read(request.user, item_id)
        seen = item_observe(request.user, item=item, **given.validated_data)
        return Response(ObservationSerializer(seen).data, status=201)


class JobInsulation(APIView):
    """The insulation chosen for a job."""

    @extend_schema(responses=InsulationSerializer(many=True))
    def get(self, request: Request, job_id: UUID) -> Response:
        """Every choice, the earliest first; the last one counts."""
        job = job_read(request.user, job_id)
        chosen = job.insulation_choices.select_related("recorded_by")
        return Response(InsulationSerializer(chosen, many=True).data)

    @extend_schema(request=InsulationSerializer, responses={201: InsulationSerializer})
    def post(self, request: Request, job_id: UUID) -> Response:
        """Choose it; the items that rest on it are drawn anew."""
        given = InsulationSerializer(data=request.data)
        given.is_valid(raise_exception=True)
        job = job_read(request.user, job_id)
        made = insulation_choose(request.user, job=job, **given.validated_data)
        return Response(InsulationSerializer(made).data, status=201)


class AreaTimeline(APIView):
    """The history of an area."""

    @extend_schema(responses=HappenedSerializer(many=True))
    def get(self, request: Request, area_id: UUID) -> Response:
        """Everything on record about it, the earliest first."""
        area = area_read(request.user, area_id)
        require_role(request.user, area.job.shop, *SITE_ROLES)
        return Response(HappenedSerializer(area_timeline(area), many=True).data)


class AreaClearances(APIView):
    """The clearances of an area."""

    @extend_schema(responses=ClearanceSerializer(many=True))
    def get(self, request: Request, area_id: UUID) -> Response:
        """Every clearance, live and withdrawn."""
        area = area_read(request.user, area_id)
        return Response(ClearanceSerializer(area.clearances.all(), many=True).data)

    @extend_schema(request=None, responses={201: ClearanceSerializer})
    def post(self, request: Request, area_id: UUID) -> Response:
        """Clear the area on the authority's answer; refused with its holds while it has any."""
        area = area_read(request.user, area_id)
        clearance = clearance_issue(request.user, area=area)
        return Response(ClearanceSerializer(clearance).data, status=201)

    @extend_schema(request=ReasonSerializer, responses=ClearanceSerializer)
    def delete(self, request: Request, area_id: UUID) -> Response:
        """Withdraw the live clearance, with the reason."""
        given = ReasonSerializer(data=request.data)
        given.is_valid(raise_exception=True)
        area = area_read(request.user, area_id)
        clearance = clearance_withdraw(request.user, area=area, **given.validated_data)
        return Response(ClearanceSerializer(clearance).data)
