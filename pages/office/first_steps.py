"""From an empty shop to the first checked house: what is there, and what comes next."""

from collections.abc import Sequence
from dataclasses import dataclass

from inspections.models import HouseRevision
from jobs.models import Job, Shop


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way, and whether the facts say that it was taken."""

    name: str
    done: bool


NAMES = ("authority", "builder", "job", "house")
"""The steps in order, by what each brings into being."""


def first_steps(shop: Shop) -> Sequence[Step]:
    """The steps to a first checked house, each done or not. Asks a query each."""
    there = (
        shop.authorities.exists(),
        shop.builders.exists(),
        Job.objects.filter(shop=shop).exists(),
        HouseRevision.objects.filter(job__shop=shop).exists(),
    )
    steps = []
    for name, done in zip(NAMES, there, strict=True):
        steps.append(Step(name, done))
    return steps
