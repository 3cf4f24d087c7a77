"""The API of corrections: which facts close a line, and what was corrected on site."""

from uuid import UUID

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.response import Response

from api.base import given_in, paged
from api.calls import Call
from api.jobs import OfJob
from api.serializers.corrections import FactCorrectionSerializer
from inspections.models import FactCorrection
from inspections.overview.correctable import correctable
from inspections.selectors import job_read
from inspections.services.fact_corrections import (
    CorrectedFact,
    fact_correct,
    fact_correction_undo,
)
from jobs.access import SITE_ROLES


class JobFixes(OfJob):
    """What closes a line that is not to code or needs info."""

    @extend_schema(responses=OpenApiTypes.OBJECT)
    def get(self, request: Call, job_id: UUID) -> Response:
        """Lines with the facts that settle them, and what is missing as questions."""
        return Response(correctable(self.inside(job_read(request.user, job_id))))


class JobCorrections(OfJob):
    """Facts of a house that were corrected on site."""

    roles = SITE_ROLES

    @extend_schema(responses=FactCorrectionSerializer(many=True))
    def get(self, request: Call, job_id: UUID) -> Response:
        """Every correction, the earliest first."""
        job = self.inside(job_read(request.user, job_id))
        rows = FactCorrection.objects.filter(job=job).select_related("made_by")
        return paged(self, request, rows, FactCorrectionSerializer)

    @extend_schema(request=FactCorrectionSerializer, responses={201: FactCorrectionSerializer})
    def post(self, request: Call, job_id: UUID) -> Response:
        """Correct facts as the next revision, once by its id; or undo a correction."""
        job, given = self.read(job_id), given_in(FactCorrectionSerializer, request)
        name, undoes = given.pop("id"), given.pop("undoes_id", None)
        if undoes is not None:
            undone = FactCorrection.objects.select_related("job__shop").get(id=undoes, job=job)
            made = fact_correction_undo(request.user, correction=undone, correction_id=name)
            return Response(FactCorrectionSerializer(made).data, status=201)
        changes = []
        for each in given.pop("changes", ()):
            typed = each.get("typed", "")
            changes.append(CorrectedFact(tuple(each["path"]), each["was"], each["now"], typed))
        made = fact_correct(
            request.user,
            job=job,
            correction_id=name,
            base=given.pop("base", 0),
            changes=changes,
            withdraws=given.pop("withdraws", False),
            **given,
        )
        return Response(FactCorrectionSerializer(made).data, status=201)
