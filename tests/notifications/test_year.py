"""A year in four shops: what was sent is, one by one, what an independent walk says should be."""

from collections import Counter
from datetime import datetime

import pytest
from django.core import mail
from django.db.models import QuerySet
from django.utils import timezone

from notifications.models import Delivery, Notice, State
from tests.audit.audited import audited
from tests.clock import Clock
from tests.notifications.year.play import play
from tests.notifications.year.script import BEGIN, END, TICK, people, scripts
from tests.notifications.year.walk import Told, quiet, summaries, walk
from tests.sure import sure

pytestmark = pytest.mark.django_db


def in_play() -> QuerySet[Delivery]:
    """What went out in the shops of the year."""
    return Delivery.objects.filter(state=State.SENT, shop__name__startswith="Shop ")


def sent() -> list[tuple[Told, Delivery]]:
    """Every notice that went out, with its delivery."""
    found = []
    deliveries = in_play().select_related("person")
    for delivery in deliveries.prefetch_related("notices__job"):
        name, _, place = delivery.person.username.rpartition("-")
        stood = _notices(delivery)
        for notice in delivery.notices.all():
            if notice.id in stood:
                about = notice.job.name if notice.job else f"shop {place}"
                told = (about, name, notice.reason, _floor(sure(delivery.ended_at)))
                found.append((told, delivery))
    return found


def _notices(delivery: Delivery) -> list[object]:
    """The notices that a message told of."""
    ended = sure(delivery.ended_at)
    return [n.id for n in delivery.notices.all() if not n.moot_at or n.moot_at > ended]


def _floor(moment: datetime) -> datetime:
    return BEGIN + (moment - BEGIN) // TICK * TICK


def acknowledge() -> None:
    """Whoever got an urgent notice says at once that they have seen it."""
    got = Notice.objects.filter(urgent=True, seen_at=None, deliveries__state=State.SENT)
    Notice.objects.filter(id__in=list(got.values_list("id", flat=True))).update(
        seen_at=timezone.now(), escalate_at=None
    )


@pytest.mark.any_database
def test_a_year_is_told_as_the_walk_says(monkeypatch, settings, whole, capsys) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    jobs = list(scripts(50 if whole else 1))
    audits: list[int] = []

    def each_tick() -> None:
        acknowledge()
        if timezone.now().month != len(audits):  # the first of a month, and of the year
            audits.append(1)
            assert audited() == []

    ticks = play(jobs, Clock(BEGIN).put(monkeypatch), each_tick)
    assert len(audits) == 12
    assert audited() == []

    should = [told for job in jobs for told in walk(job)]
    should += [told for place in range(4) for told in summaries(place)]
    pairs = sent()
    was = [told for told, _ in pairs]
    late = Counter(was) - Counter(should)
    missing = Counter(should) - Counter(was)
    assert (sorted(missing.elements()), sorted(late.elements())) == ([], [])
    once = [told_of for delivery in {d for _, d in pairs} for told_of in _notices(delivery)]
    assert len(once) == len(set(once)) == len(was)  # none twice

    ids = [message.extra_headers["Message-ID"] for message in mail.outbox]
    assert len(ids) == len(set(ids)) == in_play().count()
    cast = {f"{person.name}-{place}": person for place in range(4) for person in people(place)}
    for told, delivery in pairs:
        urgent = any(notice.urgent for notice in delivery.notices.all())
        assert urgent or not quiet(cast[delivery.person.username], told[3])
    assert was
    assert max(told[3] for told in was) < END
    with capsys.disabled():
        print(
            f"\n{len(jobs)} jobs, 40 people: {len(was)} notices in {len(ids)} messages, "
            f"{ticks} ticks"
        )
