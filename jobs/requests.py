"""What a view is asked by somebody who has signed in."""

from django.http import HttpRequest

from jobs.models import Person


class SignedIn(HttpRequest):
    """A request behind `login_required`: whoever sent it is a person, and never a stranger."""

    user: Person
