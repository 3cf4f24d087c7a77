"""What a test is sure of, where the code must reckon with its absence or with another kind."""

from typing import TypeVar

from django.db.models import Manager, Model, QuerySet

Thing = TypeVar("Thing")
Row = TypeVar("Row", bound=Model)


def sure(thing: Thing | None) -> Thing:
    """The thing itself; a test that has nothing there fails here."""
    assert thing is not None, "nothing is there"
    return thing


def the_first(rows: QuerySet[Row] | Manager[Row]) -> Row:
    """The first of these rows, of which there must be one."""
    return sure(rows.first())


def of_kind(kind: type[Thing], thing: object) -> Thing:
    """The thing itself; a test in which it is of another kind fails here."""
    assert isinstance(thing, kind), f"no {kind.__name__}: {thing!r}"
    return thing
