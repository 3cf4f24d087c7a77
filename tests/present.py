"""What a test knows to be there: asserted in one place, so that its type says so too."""

from typing import TypeVar

from django.db.models import Manager, Model, QuerySet

Kind = TypeVar("Kind")
Row = TypeVar("Row", bound=Model)


def present(value: Kind | None) -> Kind:
    """A value that may be missing elsewhere, and is there in this test."""
    assert value is not None, "this test rests on what is not there"
    return value


def the_first(rows: QuerySet[Row] | Manager[Row]) -> Row:
    """The first of rows of which this test has one at least."""
    return present(rows.first())


def of_kind(kind: type[Kind], value: object) -> Kind:
    """A value that may be of several kinds elsewhere, and is of this one in this test."""
    assert isinstance(value, kind), f"this test rests on a {kind.__name__}, not on {value!r}"
    return value
