"""Where an item stands, from its finding and the looks that people took at it.

`answering.py` says which look answers which; the same stands here in SQL, for what asks it of many
items at each settling. A test holds the two together.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, TypedDict

from django.db.models import Case, CharField, Exists, OuterRef, Q, QuerySet, Subquery, Value, When
from django.db.models.functions import Least

from inspections.models import PASSING, Item, Observation, Outcome
from inspections.standing.answers import Look, as_it_counts, come_to, contest, deciding
from inspections.standing.holds import Seen, Standing, item_standing

BOOTS = "boots"
"""The rule whose failing items have a hold of their own, since the builder can lift it."""

STANDING_COLUMNS = ("verdict", "seen", "workmanship")

NOTHING_SEEN = datetime(2000, 1, 1, tzinfo=UTC)
"""As of when somebody knew the looks at an item who was shown that there are none."""

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class _OfSeen(TypedDict):
        seen: str | None

    SeenItem = WithAnnotations[Item, _OfSeen]


def items_with_seen(items: QuerySet[Item]) -> "QuerySet[SeenItem]":
    """The items, each with `seen`: what the looks at its facts as they are now come to, if any."""
    looks = Observation.objects.filter(
        item=OuterRef("pk"), fingerprint=OuterRef("fingerprint"), stale=False
    )
    least, most = OuterRef("measure_min_mm"), OuterRef("measure_max_mm")
    contradicted = Q(measured_mm__lt=least) | Q(measured_mm__gt=most)
    failed = Q(outcome=Outcome.FIX) | (Q(outcome=Outcome.OK) & contradicted)
    measured = Q(measure_min_mm__isnull=False) | Q(measure_max_mm__isnull=False)
    hidden = looks.filter(outcome=Outcome.CANT_SEE)
    na = looks.filter(outcome=Outcome.NA)
    passes = looks.filter(outcome__in=PASSING).annotate(claimed=CLAIMED)
    last_pass = passes.order_by("-claimed", "-recorded_at", "outcome").values("outcome")[:1]
    seen = Case(
        When(
            Exists(_unanswered(looks.filter(failed), by=(Outcome.OK,))), then=Value(Seen.FIX.value)
        ),
        When(Exists(_unanswered(hidden, by=PASSING)), then=Value(Seen.CANT_SEE.value)),
        When(measured & Exists(_unanswered(na, by=PASSING)), then=Value(Seen.CANT_SEE.value)),
        # With no fail left, the last pass is one that nothing contradicts.
        default=Subquery(last_pass),
        output_field=CharField(null=True),
    )
    return items.annotate(seen=seen)


CLAIMED = Least("seen_at", "recorded_at")
"""When a look was made, as it counts."""


def _unanswered(looks: QuerySet[Observation], by: Collection[Outcome]) -> QuerySet[Observation]:
    """Those that no pass of these kinds answers.

    Three things need not be asked here. A pass is recorded after what it answers, so when it was
    made need not be bounded by when it came. One that its own measure contradicts is a fail
    itself: either it stands, or what answers it answers all that it would have answered. The same
    is so of an N/A where there is something to measure, which counts as not seen.
    """
    answering = Observation.objects.filter(
        Q(known_at=None) | Q(known_at__gte=OuterRef("recorded_at")),
        item=OuterRef("item"),
        fingerprint=OuterRef("fingerprint"),
        stale=False,
        outcome__in=by,
        recorded_at__gt=OuterRef("recorded_at"),
        seen_at__gt=Least(OuterRef("seen_at"), OuterRef("recorded_at")),
    )
    return looks.filter(~Exists(answering))


def standing_of(verdict: str, seen: str | None, workmanship: bool) -> Standing:
    """Where an item stands, from the columns of `items_with_seen`."""
    return item_standing(verdict, seen, workmanship)


@dataclass(frozen=True, slots=True)
class Looked:
    """What the looks at an item come to."""

    seen: Seen | None
    latest: Observation | None
    """The look that decides, or the last one at facts that have changed since."""
    contest: tuple[Observation, ...]
    """A look against the item and the pass that disputes it, in the order made; or none."""
    known_at: datetime
    """As of when somebody knows of these looks who is shown them."""


def counted_look(item: Item, look: Observation) -> Look[Observation]:
    """A look as it counts for the item; of the item's facts as they are now."""
    return Look(
        outcome=as_it_counts(look.outcome, look.measured_mm, item.measure),
        claimed=min(look.seen_at, look.recorded_at),
        recorded=look.recorded_at,
        known=min(look.known_at or look.recorded_at, look.recorded_at),
        source=look,
    )


def looked(item: Item, observations: Iterable[Observation]) -> Looked:
    """What observations of the item, stale ones left out, come to."""
    looks = []
    for each in observations:
        looks.append(counted_look(item, each))
    now = []
    for look in looks:
        if look.source.fingerprint == item.fingerprint:
            now.append(look)
    decided = deciding(now)
    last = decided or sorted(looks, key=lambda look: look.order)
    contested = []
    for look in contest(now):
        contested.append(look.source)
    return Looked(
        seen=come_to(now),
        latest=last[-1].source if last else None,
        contest=tuple(contested),
        known_at=max((look.recorded for look in looks), default=NOTHING_SEEN),
    )


@dataclass(frozen=True, slots=True)
class ItemRow:
    """What an area's holds need to know of one of its rough-in items."""

    rule: str
    subject: str
    fingerprint: str
    standing: Standing
    to_confirm: bool
    """Whether it is open only because nobody on site has confirmed it."""

    @property
    def lacks_boot(self) -> bool:
        """Whether it is a box in an outside wall that pierces the vapour barrier."""
        return self.rule == BOOTS and self.standing is Standing.FIX
