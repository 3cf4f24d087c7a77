"""Where an item stands, from its finding and the looks that people took at it."""

from dataclasses import dataclass

from django.db.models import Case, Exists, OuterRef, Q, QuerySet, Subquery, Value, When

from inspections.holds import Seen, Standing, item_standing
from inspections.models import Item, Observation, Outcome

BOOTS = "boots"
"""The rule whose failing items have a hold of their own, since the contractor can lift it."""

CONTESTED = "contested"
"""In place of an outcome: two people saw the same facts otherwise, neither knowing of the other."""

STANDING_COLUMNS = ("verdict", "fingerprint", "seen_outcome", "seen_fingerprint")


def items_with_latest(items: QuerySet[Item]) -> QuerySet[Item]:
    """The items, each with `seen_outcome` and `seen_fingerprint` of its latest observation.

    While two people contest what they saw, the outcome is the worse one, whoever was later.
    """
    counted = Observation.objects.filter(item=OuterRef("pk"), stale=False)
    latest = counted.order_by("-seen_at", "-recorded_at", "-id")
    against = counted.filter(fingerprint=OuterRef("fingerprint"))
    return items.annotate(
        seen_outcome=Case(
            When(Exists(unsettled(against)), then=Value(CONTESTED)),
            default=Subquery(latest.values("outcome")[:1]),
        ),
        seen_fingerprint=Subquery(latest.values("fingerprint")[:1]),
    )


def unsettled(looks: QuerySet[Observation]) -> QuerySet[Observation]:
    """Those that contest another, until somebody looked again who knew of both."""
    again = Observation.objects.filter(item=OuterRef("item"), stale=False, contests=None)
    again = again.filter(Q(known_at=None) | Q(known_at__gte=OuterRef("recorded_at")))
    again = again.filter(recorded_at__gt=OuterRef("recorded_at"))
    return looks.exclude(contests=None).exclude(Exists(again))


def standing_of(
    verdict: str, fingerprint: str, seen_outcome: str | None, seen_fingerprint: str | None
) -> Standing:
    """Where an item stands, from the columns of `items_with_latest`."""
    if seen_outcome == CONTESTED:
        seen_outcome, seen_fingerprint = Outcome.FAIL, fingerprint
    passed, absent = seen_outcome == Outcome.PASS, seen_outcome == Outcome.ABSENT
    seen = Seen(passed, seen_fingerprint or "", absent) if seen_outcome else None
    return item_standing(verdict, fingerprint, seen)


@dataclass(frozen=True, slots=True)
class ItemRow:
    """What an area's holds need to know of one of its rough-in items."""

    rule: str
    subject: str
    fingerprint: str
    standing: Standing

    @property
    def lacks_boot(self) -> bool:
        """Whether it is a box in an outside wall that pierces the vapour barrier."""
        return self.rule == BOOTS and self.standing is Standing.FAILING
