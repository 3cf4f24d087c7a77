"""What a form would do, said before it is done: it is recorded once the reader confirms that."""

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse

from config.messages.message import Value
from jobs.models import Job
from pages.responses import render_at

UNSENT = {"csrfmiddlewaretoken", "confirmed"}


def confirm(
    request: HttpRequest, job: Job, says: Sequence[Value], button: Value, told: Value = ""
) -> HttpResponse:
    """A page with what speaks against it, who is told, and the same form to send once more.

    All that was typed goes along, with `confirmed` beside it; nothing is written before.
    """
    typed = []
    for name, values in request.POST.lists():
        if name not in UNSENT:
            for value in values:
                typed.append((name, value))
    context = {"job": job, "says": says, "told": told, "button": button, "typed": typed}
    response = render_at(request, job, "confirm.html", context)
    response.status_code = 409
    return response
