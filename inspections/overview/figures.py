"""A shop's figures: how often one inspection is enough, how long things take, what comes back.

Each number is drawn from what was recorded and knows the jobs that it is made of.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.db.models import OuterRef, Subquery

from config.languages.own_words import Typed
from config.messages.message import Percent, Ratio, Text, Value
from inspections.conclusions.areas import today_at
from inspections.models import Acceptance, Answer, CoverRelease, HouseRevision, Observation
from inspections.overview import figure_messages as words
from inspections.overview.written_up import inspections_counted, reasons_called
from inspections.standing.inspection_messages import inspection_kind
from jobs.models import Job, Shop


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One line of a figure: its name, its cells, and the jobs that it is made of."""

    key: str
    """By which its address names it."""
    name: Value
    cells: Sequence[Value]
    jobs: frozenset[UUID]
    share: float | None = None
    """What is drawn beside the table, from 0 to 1; None: nothing."""

    @property
    def percent(self) -> str:
        """The share in hundredths, as a drawing takes it in any language."""
        if self.share is None:
            return ""
        return f"{100 * self.share:.1f}"


@dataclass(frozen=True, slots=True)
class Figure:
    """A table of numbers, with how they were counted."""

    key: str
    title: Text
    how: Text
    heads: Sequence[Text]
    rows: Sequence[FigureRow]

    @property
    def drawn(self) -> bool:
        """Whether a share is drawn beside its rows."""
        for row in self.rows:
            if row.share is not None:
                return True
        return False


@dataclass(frozen=True, slots=True)
class FirstAnswer:
    """What the inspector said of an area at the first inspection that answered for it."""

    job: Job
    accepted: bool
    day: date


def figures_of(shop: Shop, now: datetime) -> list[Figure]:
    """Every figure of a shop, in a fixed number of queries."""
    first = _first_answers(shop)
    return [
        _first("first-by-month", "month", first, lambda each: f"{each.day:%Y-%m}"),
        _first("first-by-crew", "lead", first, lambda each: str(each.job.crew_lead or "")),
        _first("first-by-authority", "authority", first, lambda each: str(each.job.authority)),
        _waited(shop),
        _promises(shop, now),
        _again(shop),
        _inspections(shop),
        _written_up(shop),
    ]


def figure_row(figures: Iterable[Figure], key: str, of: str) -> tuple[Figure, FigureRow] | None:
    """One line of one figure, by their keys; None where there is none."""
    for figure in figures:
        for row in figure.rows:
            if (figure.key, row.key) == (key, of):
                return figure, row
    return None


def _answers(shop: Shop) -> Iterable[Acceptance]:
    found = Acceptance.objects.filter(area__job__shop=shop, inspection__isnull=False)
    related = ("area__job__shop", "area__job__authority", "area__job__crew_lead")
    return found.select_related(*related).order_by("recorded_at", "id")


def _first_answers(shop: Shop) -> list[FirstAnswer]:
    by_area: dict[UUID, FirstAnswer] = {}
    for each in _answers(shop):
        job, accepted = each.area.job, each.answer != Answer.NOT_ACCEPTED
        day = today_at(job, each.recorded_at)
        by_area.setdefault(each.area_id, FirstAnswer(job, accepted, day))
    return list(by_area.values())


def _first(
    key: str, by: str, answers: Sequence[FirstAnswer], name: Callable[[FirstAnswer], str]
) -> Figure:
    groups: dict[str, list[FirstAnswer]] = {}
    for each in answers:
        groups.setdefault(name(each), []).append(each)
    rows = []
    for of, group in sorted(groups.items()):
        accepted = 0
        ids = []
        for each in group:
            accepted += each.accepted
            ids.append(each.job.id)
        share = accepted / len(group)
        part = words.PART_OF(part=accepted, whole=len(group))
        cells = (part, Percent(round(100 * share)))
        named = Typed(of) if of else words.NO_LEAD()
        rows.append(FigureRow(of, named, cells, frozenset(ids), share))
    return Figure(key, words.FIRST[by](), words.FIRST_HOW(), _heads(by, "areas", "share"), rows)


def _heads(*names: str) -> tuple[Text, ...]:
    return tuple(words.HEADS[name]() for name in names)


def _waited(shop: Shop) -> Figure:
    """Days from what was last seen or recorded before it to the acceptance, by month."""
    area, before = OuterRef("area"), {"recorded_at__lte": OuterRef("recorded_at")}
    seen = Observation.objects.filter(item__area=area, **before).order_by("-seen_at")
    drawn = HouseRevision.objects.filter(job=OuterRef("area__job"), **before)
    accepted = (
        Acceptance.objects.filter(area__job__shop=shop)
        .exclude(answer=Answer.NOT_ACCEPTED)
        .annotate(
            seen=Subquery(seen.values("seen_at")[:1]),
            drawn=Subquery(drawn.order_by("-recorded_at").values("recorded_at")[:1]),
        )
        .select_related("area__job")
        .order_by("recorded_at", "id")
    )
    by_month: dict[str, list[tuple[float, UUID]]] = {}
    done: set[UUID] = set()
    for each in accepted:
        moments = []
        for at in (each.seen, each.drawn):
            if at:
                moments.append(at)
        ready = max(moments, default=None)
        if ready is None or each.area_id in done:
            continue
        done.add(each.area_id)
        days = (each.recorded_at - ready).total_seconds() / 86_400
        month = f"{today_at(each.area.job, each.recorded_at):%Y-%m}"
        by_month.setdefault(month, []).append((days, each.area.job_id))
    rows = []
    for month, group in sorted(by_month.items()):
        days, jobs = zip(*group, strict=True)
        cells = (len(group), Ratio(sum(days) / len(group)))
        rows.append(FigureRow(month, month, cells, frozenset(jobs)))
    heads = _heads("month", "areas", "days")
    return Figure("waited", words.WAITED(), words.WAITED_HOW(), heads, rows)


def _promises(shop: Shop, now: datetime) -> Figure:
    """Drywall dates against the day on which the last area was released, by builder."""
    jobs = shop.jobs.filter(drywall_on__isnull=False).select_related("builder")
    live = CoverRelease.objects.filter(area__job__shop=shop, withdrawn_at__isnull=True)
    released: dict[UUID, list[datetime]] = {}
    for job_id, at in live.values_list("area__job", "issued_at"):
        released.setdefault(job_id, []).append(at)
    groups: dict[str, dict[UUID, int]] = {}
    for job in jobs.prefetch_related("areas"):
        days = _days_late(job, released.get(job.id, []), now)
        if days is not None:
            groups.setdefault(str(job.builder), {})[job.id] = days
    rows = []
    for name, days_by_job in sorted(groups.items()):
        rows.append(_promise_row(name, days_by_job))
    heads = _heads("builder", "kept", "days-late")
    return Figure("promises", words.PROMISES(), words.PROMISES_HOW(), heads, rows)


def _days_late(job: Job, released: list[datetime], now: datetime) -> int | None:
    """Days from the drywall date to when the whole house was released, or to today; None before
    either.
    """
    assert job.drywall_on is not None  # it was asked so
    day = today_at(job, now)
    if released and len(released) == len(job.areas.all()):
        day = today_at(job, max(released))
    elif day <= job.drywall_on:
        return None
    return (day - job.drywall_on).days


def _promise_row(builder: str, days_by_job: dict[UUID, int]) -> FigureRow:
    late = []
    for days in days_by_job.values():
        if days > 0:
            late.append(days)
    count = len(days_by_job)
    kept = count - len(late)
    mean: Value = words.NONE_LATE()
    if late:
        mean = Ratio(sum(late) / len(late))
    cells = (words.PART_OF(part=kept, whole=count), mean)
    return FigureRow(builder, Typed(builder), cells, frozenset(days_by_job), kept / count)


def _again(shop: Shop) -> Figure:
    """Inspections that ended in a refusal, each paid for again where the authority asks a fee."""
    refused = Acceptance.objects.filter(
        area__job__shop=shop, inspection__isnull=False, answer=Answer.NOT_ACCEPTED
    )
    found = refused.select_related("area__job__authority").order_by("id")
    groups: dict[tuple[str, str], dict[UUID, UUID]] = {}
    for each in found:
        job = each.area.job
        key = (str(job.authority), job.authority.reinspection_fee)
        assert each.inspection_id is not None  # it was asked so
        groups.setdefault(key, {})[each.inspection_id] = job.id
    rows = []
    for (name, fee), inspections in sorted(groups.items()):
        asks = Typed(fee) if fee else words.NO_FEE()
        cells = (len(inspections), asks)
        rows.append(FigureRow(name, Typed(name), cells, frozenset(inspections.values())))
    heads = _heads("authority", "reinspections", "fee")
    return Figure("again", words.AGAIN(), words.AGAIN_HOW(), heads, rows)


def _inspections(shop: Shop) -> Figure:
    rows = []
    for each in inspections_counted(shop):
        rows.append(
            FigureRow(
                each.kind.value,
                inspection_kind(each.kind),
                (each.held, each.accepted, each.no_access, each.nobody_came),
                each.job_ids,
                each.accepted_share,
            )
        )
    heads = _heads("inspection", "held", "accepted", "no-access", "nobody-came")
    return Figure("inspections", words.INSPECTIONS(), words.INSPECTIONS_HOW(), heads, rows)


def _written_up(shop: Shop) -> Figure:
    rows = []
    for each in reasons_called(shop):
        days: Value = words.NONE_CORRECTED()
        if each.mean_days_to_correct is not None:
            days = Ratio(each.mean_days_to_correct)
        reason: Value = each.reason
        if isinstance(reason, str):
            reason = Typed(reason)
        rows.append(FigureRow(each.key, reason, (each.called, each.open, days), each.job_ids))
    heads = _heads("reason", "written-up", "open", "days-to-correct")
    return Figure("called", words.WRITTEN_UP(), words.WRITTEN_UP_HOW(), heads, rows)


def jobs_of_row(shop: Shop, row: FigureRow) -> Iterable[Job]:
    """The jobs that a number is made of."""
    found = shop.jobs.filter(id__in=row.jobs)
    return found.select_related("builder", "standing").order_by("id")
