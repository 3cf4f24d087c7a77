"""A shop with crews, for tests of plans and lists."""

from datetime import date

from inspections.days.services import plan_ask, plan_make, plan_tell
from jobs.models import Crew, Plan, Role, Skill
from jobs.planning.effort import Effort
from jobs.services.crews import crew_open, skill_set, work_rules_change
from tests.people import Shopful

MONDAY = date(2026, 3, 16)
EFFORT = Effort(work=0.1, seconds=30, workers=1)


def crewed(shop: Shopful) -> tuple[Crew, Crew]:
    """Two crews of two, each with a licensed person; the first led by the shop's crew lead."""
    first = _crew(shop, "Crew A", shop.lead, "anna")
    return first, _crew(shop, "Crew B", shop.person("berta", Role.CREW_LEAD), "bodo")


def _crew(shop: Shopful, name: str, lead, other: str) -> Crew:
    mate = shop.person(other, Role.CREW_MEMBER)
    skill_set(shop.office, shop=shop.shop, person=lead, skill=Skill.LICENSED)
    people = {lead: date(2026, 1, 1), mate: date(2026, 1, 1)}
    return crew_open(shop.office, shop=shop.shop, name=name, lead=lead, people=people)


def told(shop: Shopful, first_day: date = MONDAY) -> Plan:
    """A plan that was asked for, made and told."""
    plan = made(shop, first_day)
    assert plan.state == Plan.State.MADE, plan.faults
    return plan_tell(shop.office, plan=plan)


def made(shop: Shopful, first_day: date = MONDAY) -> Plan:
    """A plan that was asked for and worked out."""
    plan = plan_ask(shop.office, shop=shop.shop, first_day=first_day)
    return plan_make(plan.id, EFFORT)


def rules(shop: Shopful, **given):
    """The shop's work rules, changed."""
    return work_rules_change(shop.office, shop=shop.shop, **given)
