"""Rows whose references lead to two shops, two jobs or two areas, found by walking all models.

No model is listed here: every reference of every table of the project is followed to the shop, the
job and the area that it leads to, and a row must come to the same one by each of its references.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, reduce
from operator import or_
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db.models import F, ForeignKey, Model, Q

from audit.found import About, Found, Sort
from inspections.models import Item
from jobs.models import Area, Job, Person, Shop

APPS = ("jobs", "inspections", "notifications", "api")
MAY_DIFFER = {
    ("jobs_drivetime", Job): "it leads from one house to another",
    ("notifications_delivery", Shop): "a person of two shops is reached by one address",
}
"""Tables whose rows may lead to two of a kind, each with why."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two ways of a table to a shop, a job or an area, which must come to the same."""

    owner: type[Model]
    one: str
    other: str

    @property
    def differ(self) -> Q:
        """Rows that lead to two."""
        both = Q(**{f"{self.one}__isnull": False, f"{self.other}__isnull": False})
        return both & ~Q(**{self.one: F(self.other)})


def _references(model: type[Model]) -> list[ForeignKey[Any, Any]]:
    """What a row refers to, people aside: a person belongs to no shop."""
    found = []
    for field in model._meta.concrete_fields:
        other = field.related_model
        if not isinstance(field, ForeignKey) or other is None or other == Person:
            continue
        if other._meta.app_label in APPS:
            found.append(field)
    return found


@cache
def way(model: type[Model], owner: type[Model]) -> str | None:
    """The shortest chain of references from a table to what owns its rows; None: there is none."""
    ways: list[tuple[type[Model], tuple[str, ...]]] = [(model, ())]
    seen = {model}
    for here, names in ways:
        if here == owner:
            return "__".join(names)
        for field in _references(here):
            if field.related_model not in seen:
                seen.add(field.related_model)
                ways.append((field.related_model, (*names, field.name)))
    return None


def _ways(model: type[Model], owner: type[Model]) -> list[str]:
    """Every reference of a table that leads to an owner, with the way from there."""
    found = []
    for field in _references(model):
        rest = way(field.related_model, owner)
        if rest is not None:
            found.append(f"{field.name}__{rest}" if rest else field.name)
    return found


@cache
def owner_ways() -> Mapping[type[Model], Sequence[Pair]]:
    """By table, all ways that must come to the same. Two that come to one job need not be followed
    on to the shop.
    """
    ways: dict[type[Model], list[Pair]] = {}
    for name in APPS:
        for model in apps.get_app_config(name).get_models(include_auto_created=True):
            if pairs := list(_pairs_of(model)):
                ways[model] = pairs
    return ways


def _pairs_of(model: type[Model]) -> Iterator[Pair]:
    """The first way to each owner beside every other way to it."""
    to_job = tuple(f"{way}__" for way in _ways(model, Job))
    for owner in (Item, Area, Job, Shop):
        if (model._meta.db_table, owner) in MAY_DIFFER:
            continue
        first, *rest = _ways(model, owner) or [""]
        for other in rest:
            by_job = first.startswith(to_job) and other.startswith(to_job)
            if owner != Shop or not by_job:
                yield Pair(owner, first, other)


def crossings_of_jobs(job_ids: Sequence[UUID]) -> Iterator[Found]:
    """Rows about these jobs that lead to two owners, each told once of each job."""
    found: dict[Found, None] = {}
    for model in owner_ways():
        for name in _ways(model, Job):
            found |= dict.fromkeys(_crossed(model, Q(**{f"{name}__in": job_ids}), name))
    yield from found


def crossings_of_shop(shop_id: UUID) -> Iterator[Found]:
    """Rows of a shop that are about no job and lead to two owners."""
    for model in owner_ways():
        no_way = {}
        for name in _ways(model, Job):
            no_way[f"{name}__isnull"] = True
        no_job = Q(**no_way)
        for name in _ways(model, Shop):
            yield from _crossed(model, no_job & Q(**{name: shop_id}))


def _crossed(model: type[Model], which: Q, job: str = "") -> Iterator[Found]:
    """Those of the rows that lead to two owners, a line for each two ways."""
    mine = owner_ways()[model]
    differs = []
    for pair in mine:
        differs.append(pair.differ)
    differ = reduce(or_, differs)
    columns = sorted({way for pair in mine for way in (pair.one, pair.other)} | {job or "pk"})
    rows = model._default_manager.filter(which & differ).order_by()
    for key, *values in rows.values_list("pk", *columns)[:MOST]:
        leads = dict(zip(columns, values, strict=True))
        for pair in mine:
            one, other = leads[pair.one], leads[pair.other]
            if None not in (one, other) and one != other:
                table, owner = model._meta.verbose_name, pair.owner._meta.verbose_name
                tables = f"{table} {key}: {pair.one} leads to {owner} {one}"
                facts = f"{pair.other} leads to {owner} {other}"
                of_job = None
                if job:
                    of_job = leads[job]
                yield Found(Sort.DIFFERENCE, About.SHOP, tables, facts, job_id=of_job)


MOST = 20
"""Of one kind in one slice; more say nothing new."""
