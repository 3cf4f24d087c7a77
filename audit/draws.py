"""Drawing: where an item stands, what holds an area, which stage a job is in. Pure.

Written from what the project promises, apart from the code that keeps it: this module must not be
changed to follow that code, and a difference between the two is a fault in one of them.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from audit.tables import JobTables, Row
from audit.times import day_at, days_later, midnight
from inspections.checker.facts import digest

OK, OPEN, FIX, INFO_NEEDED = "ok", "open", "fix", "info_needed"
BY_THE_CREW = {"house", FIX, INFO_NEEDED, OPEN, "boots"}
"""What holds an area until the crew's own work is done."""


@dataclass(frozen=True, slots=True)
class AuditHold:
    """One reason why an area may not be covered, and its figure or name where it has one."""

    reason: str
    figure: str = ""

    def __str__(self) -> str:
        if self.figure:
            return f"{self.reason} ({self.figure})"
        return self.reason


def claimed(look: Row) -> datetime:
    """When it was made, as far as that can be believed: never later than it came."""
    moment: datetime = min(look.seen_at, look.recorded_at)
    return moment


def known(look: Row) -> datetime:
    """As of when whoever made it knew what others had seen."""
    moment: datetime = min(look.known_at or look.recorded_at, look.recorded_at)
    return moment


def counts_as(look: Row, item: Row) -> str:
    """What a look counts as: an OK whose own measure breaks the limit is a Fix.

    An N/A of what is to be measured settles nothing: it counts as Can't see.
    """
    outcome: str = look.outcome
    least, most = item.measure_min_mm, item.measure_max_mm
    if outcome == "na" and (least is not None or most is not None):
        return "cant_see"
    if outcome != "ok" or look.measured_mm is None:
        return outcome
    too_small = least is not None and look.measured_mm < least
    too_large = most is not None and look.measured_mm > most
    if too_small or too_large:
        return "fix"
    return "ok"


def answers(ok: Row, no: Row) -> bool:
    """Whether an OK answers a Fix or a Can't see, or an N/A a Can't see.

    It is later by both clocks, and whoever made it could know of the other.
    """
    made_later = claimed(ok) > claimed(no)
    came_later = ok.recorded_at > no.recorded_at
    return made_later and came_later and known(ok) >= no.recorded_at


def item_stands(item: Row, looks: Sequence[Row]) -> str:
    """Where an item stands, by its figures and what was seen of its facts as now."""
    if item.verdict == "info_needed":
        return INFO_NEEDED
    if item.verdict == "not_to_code":
        return FIX
    by_kind: dict[str, list[Row]] = {"ok": [], "na": [], "fix": [], "cant_see": []}
    for look in looks:
        by_kind[counts_as(look, item)].append(look)
    oks, settling = by_kind["ok"], [*by_kind["ok"], *by_kind["na"]]
    if _any_unanswered(by_kind["fix"], oks):
        return FIX
    if _any_unanswered(by_kind["cant_see"], settling):
        return OPEN
    if settling:
        return OK
    if item.verdict == "ok" and not item.workmanship:
        return OK
    return OPEN


def not_confirmed(item: Row, looks: Sequence[Row]) -> bool:
    """Whether what hands made is drawn as it should be, and nobody on site has said anything."""
    return bool(item.workmanship) and item.verdict == "ok" and not looks


def _any_unanswered(against: Sequence[Row], by: Sequence[Row]) -> bool:
    """Whether one of the looks against an item is answered by none of those."""
    for look in against:
        if not _is_answered(look, by):
            return True
    return False


def _is_answered(no: Row, oks: Sequence[Row]) -> bool:
    for ok in oks:
        if answers(ok, no):
            return True
    return False


def permit_ends(tables: JobTables) -> date | None:
    """The last day on which the permit is good; None: it does not end."""
    permit, idle_days = tables.permit, tables.job.authority__idle_days
    ends = [permit.expires_on]
    if permit.issued_on is not None and idle_days is not None:
        quiet_since = permit.issued_on
        for event in tables.events:
            if event.happening == "held":
                quiet_since = max(quiet_since, day_at(event.recorded_at, tables.zone))
        ends.append(days_later(quiet_since, idle_days))
    days = []
    for day in ends:
        if day is not None:
            days.append(day)
    return min(days, default=None)


def permit_good(tables: JobTables, today: date) -> bool:
    """Whether work may be covered under the permit on a day."""
    permit = tables.permit
    if permit is None or permit.issued_on is None or permit.issued_on > today:
        return False
    if permit.closed_on is not None and permit.closed_on <= today:
        return True
    ends = permit_ends(tables)
    return ends is None or today <= ends


def permit_turns_from_rows(tables: JobTables, now: datetime) -> datetime | None:
    """The next moment at which the calendar alone makes the permit good or ends it."""
    permit, turns = tables.permit, []
    if permit is None or permit.issued_on is None:
        return None
    turns.append(midnight(permit.issued_on, tables.zone))
    ends = permit_ends(tables)
    after = None
    if ends is not None:
        after = days_later(ends, 1)
    if after is not None and (permit.closed_on is None or permit.closed_on > after):
        turns.append(midnight(after, tables.zone))
    moments = []
    for moment in turns:
        if moment is not None and moment > now:
            moments.append(moment)
    return min(moments, default=None)


def holds_from_rows(tables: JobTables, area: Row, now: datetime) -> list[AuditHold]:
    """Every hold on an area at a moment."""
    return [
        *_permit(tables, now),
        *_items(tables, area),
        *_photographs(tables, area),
        *_deficiencies(tables, area),
        *_trades(tables),
        *_acceptance(tables, area),
        *_withdrawals(tables, area),
    ]


def _permit(tables: JobTables, now: datetime) -> Iterator[AuditHold]:
    if not permit_good(tables, day_at(now, tables.zone)):
        yield AuditHold("permit")


def _rough_in(tables: JobTables, area: Row) -> list[Row]:
    items: list[Row] = []
    for item in tables.items_by_area.get(area.id, ()):
        if item.stage == "rough-in":
            items.append(item)
    return items


def _items(tables: JobTables, area: Row) -> Iterator[AuditHold]:
    items = _rough_in(tables, area)
    if not items:
        yield AuditHold("house")
    reasons, drawn_only = [], 0
    for item in items:
        looks = tables.looks[item.id]
        if not_confirmed(item, looks):
            drawn_only += 1
        else:
            reasons.append(_reason(item, looks))
    counted = Counter(reasons)
    for reason in (FIX, INFO_NEEDED, OPEN, "boots"):
        if counted[reason]:
            yield AuditHold(reason, str(counted[reason]))
    if drawn_only:
        yield AuditHold(OPEN, str(drawn_only))


def _reason(item: Row, looks: Sequence[Row]) -> str:
    """A box without a boot holds by a reason of its own, since the builder can lift that."""
    stands = item_stands(item, looks)
    if item.rule == "boots" and stands == FIX:
        return "boots"
    return stands


def _photographs(tables: JobTables, area: Row) -> Iterator[AuditHold]:
    wanted = []
    for item in _rough_in(tables, area):
        if item.rule in tables.job.shop__photo_rules:
            wanted.append(item)
    missing = sum(item.id not in tables.photographed for item in wanted)
    if missing:
        yield AuditHold("photograph", str(missing))


def _deficiencies(tables: JobTables, area: Row) -> Iterator[AuditHold]:
    still = []
    for d in tables.of_area(tables.deficiencies, area.id):
        if d.accepted_at is None:
            still.append(d)
    called = 0
    for each in still:
        called += each.corrected_at is None
    if called:
        yield AuditHold("deficiency", str(called))
    if len(still) > called:
        yield AuditHold("deficiency", str(len(still) - called))


def _trades(tables: JobTables) -> Iterator[AuditHold]:
    done = {}
    for report in tables.reports:
        if report.area_id is None:
            done[report.trade] = report.done
    for trade in tables.job.shop__trades:
        if not done.get(trade):
            yield AuditHold("trade", trade)


def rests_on(tables: JobTables, area: Row) -> str:
    """What an acceptance of the area would rest on now: its items and their facts."""
    rows = []
    for i in _rough_in(tables, area):
        rows.append([i.rule, i.subject, i.fingerprint])
    return digest(rows)


def _acceptance(tables: JobTables, area: Row) -> Iterator[AuditHold]:
    said = tables.of_area(tables.acceptances, area.id)
    if not said or said[-1].answer == "not_accepted":
        yield AuditHold("acceptance")
        return
    again = False
    for each in _withdrawn(tables, area):
        if _again(each, said[-1]):
            again = True
            break
    if again or said[-1].rests_on != rests_on(tables, area):
        yield AuditHold("changed")


def _again(cover_release: Row, said: Row) -> bool:
    """Whether the authority must see the area again after a withdrawal, and has not yet."""
    again = cover_release.withdrawal_answer__inspect_again
    return bool(again) and said.recorded_at <= cover_release.withdrawn_at


def _withdrawn(tables: JobTables, area: Row) -> list[Row]:
    """Cover releases that somebody withdrew, and said why."""
    of_area = tables.of_area(tables.cover_releases, area.id)
    by_hand: list[Row] = []
    for each in of_area:
        if each.withdrawn_by_id is not None:
            by_hand.append(each)
    return by_hand


def _withdrawals(tables: JobTables, area: Row) -> Iterator[AuditHold]:
    """The reason of a withdrawal holds until somebody answers it."""
    for cover_release in _withdrawn(tables, area):
        if cover_release.withdrawal_answer__id is None:
            yield AuditHold("withdrawn")


def stage_from_rows(
    tables: JobTables, holds: dict[Any, list[AuditHold]], released: set[Any], now: datetime
) -> str:
    """The first stage that still has something to do, by the areas' holds and cover releases."""
    if not _permit_issued(tables, now):
        return "permit"
    if not tables.areas or _crew_has_work(holds):
        return "rough-in"
    for area in tables.areas:
        if area.id not in released:
            return "cover-up approval"
    if not {"hookup", "final"} & {each.milestone for each in tables.milestones}:
        return "construction hookup"
    if _finish_open(tables):
        return "finish"
    return "final"


def _finish_open(tables: JobTables) -> bool:
    """Whether an item of the finish has not passed."""
    for item in tables.items:
        if item.found_later:
            continue
        if item.stage == "finish" and item_stands(item, tables.looks[item.id]) != OK:
            return True
    return False


def _permit_issued(tables: JobTables, now: datetime) -> bool:
    """Whether the permit is issued by today at the house."""
    if tables.permit is None or tables.permit.issued_on is None:
        return False
    return bool(tables.permit.issued_on <= day_at(now, tables.zone))


def _crew_has_work(holds: dict[Any, list[AuditHold]]) -> bool:
    """Whether anything that the crew lifts holds any area."""
    for of_area in holds.values():
        for hold in of_area:
            if hold.reason in BY_THE_CREW:
                return True
    return False
