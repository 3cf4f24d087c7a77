"""The request that a view of the API answers, whose caller is known."""

from rest_framework.request import Request

from jobs.models import Person


class Call(Request):
    """A call that a view answers: whoever makes it is a person, and never a stranger."""

    user: Person
