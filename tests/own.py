"""Rows of one shop alone: beside every tested shop there is the stranger's."""

from collections import deque
from functools import cache
from typing import TypeVar

from django.db import models

from jobs.models import Person, Shop

Row = TypeVar("Row", bound=models.Model)


@cache
def path_to_shop(model: type[models.Model]) -> str:
    """The shortest way from a row to its shop, as a lookup says it: `area__job__shop`.

    It leads through no person: somebody may work with several shops. Raises LookupError for rows
    that are of no shop.
    """
    if model is Shop:
        return "pk"
    ahead = deque([(model, "")])
    seen = {model, Person}
    while ahead:
        here, way = ahead.popleft()
        for field in here._meta.concrete_fields:
            other = field.related_model
            if other is Shop:
                return f"{way}{field.name}"
            if other is not None and other not in seen:
                seen.add(other)
                ahead.append((other, f"{way}{field.name}__"))
    raise LookupError(f"{model._meta.label} is of no shop")


def own(shop: Shop, model: type[Row]) -> models.QuerySet[Row]:
    """The rows of a table that are of this shop."""
    return model._default_manager.filter(**{path_to_shop(model): shop.pk})
