"""The inspector comes tomorrow: who must be there, and what must be open."""

from collections.abc import Iterator
from datetime import timedelta

from config.messages.message import Listed, Value
from inspections.models import Happening
from notifications.facts import JobFacts
from notifications.messages.inspections import SOMEBODY, TOMORROW
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

BOOKED = (Happening.BOOKED, Happening.MOVED)


@reason("inspection tomorrow", NoticeKind.INSPECTION)
def inspection_tomorrow(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, the day before at the shop's hour.

    An inspection that is booked later than that is told of at once, until it begins.
    """
    for each in facts.inspections:
        last = each.last
        if last is None or last.happening not in BOOKED:
            continue
        assert last.starts_at is not None  # it is booked
        eve = facts.day_of(last.starts_at) - timedelta(days=1)
        at = max(facts.at(eve, facts.rules.list_at), last.recorded_at)
        lead_names = []
        for person in facts.leads:
            lead_names.append(person.get_full_name() or str(person))
        there: Value = SOMEBODY()
        if lead_names:
            there = Listed(tuple(lead_names), "or")
        text = TOMORROW(
            job=str(facts.job),
            inspection=each.title,
            window=facts.window(last),
            address=facts.job.address,
            who=there,
        )
        who = facts.office_leads_and_builder
        yield from due_for(
            who, last.id, text, at, until=last.starts_at, inspection_id=each.inspection.id
        )
