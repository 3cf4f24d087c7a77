"""What a test is sure is there, where the code must reckon with its absence."""

from typing import TypeVar

from django.db.models import Model, QuerySet

Thing = TypeVar("Thing")
Row = TypeVar("Row", bound=Model)


def sure(thing: Thing | None) -> Thing:
    """The thing itself; a test that has nothing there fails here."""
    assert thing is not None, "nothing is there"
    return thing


def the_first(rows: "QuerySet[Row]") -> Row:
    """The first of these rows, of which there must be one."""
    return sure(rows.first())
