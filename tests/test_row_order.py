"""Rows come in an order that somebody chose: PostgreSQL gives others as they were last written."""

import pytest
from django.db.models import Model

from tests.stranger.rows import kinds

OWN = [model for model in kinds() if not model._meta.auto_created]


@pytest.mark.parametrize("model", OWN, ids=lambda model: model.__name__)
def test_rows_of_every_table_have_an_order(model: type[Model]) -> None:
    assert model._meta.ordering, "give its Meta an ordering that ends in the id"
