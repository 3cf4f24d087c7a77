"""A job's house as a file: workbook, CSV in a zip, or JSON. For those who record houses."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from inspections.house_files import FORMS, house_file_of
from inspections.selectors import job_read
from jobs.access import role_in
from jobs.models import Role
from pages.asking import found_or_404


@login_required
@require_GET
def house_file(request: HttpRequest, job_id: UUID, form: str) -> HttpResponse:
    """The latest revision as a file; a blank one to fill in before there is any."""
    job = found_or_404(job_read, request.user, job_id)
    if form not in FORMS or role_in(request.user, job.shop) not in (Role.OFFICE, Role.CREW_LEAD):
        raise Http404
    name, made = house_file_of(job, form)
    response = HttpResponse(made, content_type=FORMS[form])
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
