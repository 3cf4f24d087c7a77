"""Whether the site is well, for whatever watches it."""

from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET


@require_GET
def healthy(_request: HttpRequest) -> HttpResponse:
    """Whether the site answers and reaches its database."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok", content_type="text/plain; charset=utf-8")
