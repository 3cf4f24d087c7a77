"""Reads of plans and of the lists for a day, for pages, the API and notices."""

from datetime import date
from uuid import UUID

from django.db.models import QuerySet

from inspections.days.lists import NextDay, draw_lists
from jobs.models import Crew, DayList, Membership, Person, Plan, Role, Shop


def next_day_lists(shop: Shop, day: date) -> list[NextDay]:
    """The list of each crew that has work that day, as it is now, by the plan last told.

    `NextDay.lead` is the person to tell and `NextDay.content()` the list as plain values.
    """
    return draw_lists(shop, day)


def sent_lists(shop: Shop, day: date) -> QuerySet[DayList]:
    """What was sent to the shop's crews for that day, the latest number of each last."""
    return DayList.objects.filter(shop=shop, day=day).select_related("crew__lead")


def crews_led_by(person: Person) -> QuerySet[Crew]:
    """The crews that the person leads."""
    return Crew.objects.filter(lead=person).select_related("shop", "lead")


def shop_of(person: Person, *roles: Role) -> Shop:
    """The first shop in which the person has one of the roles, or Shop.DoesNotExist."""
    mine = Membership.objects.filter(person=person, role__in=roles).order_by("id")
    membership = mine.select_related("shop").first()
    if membership is None:
        raise Shop.DoesNotExist
    return membership.shop


def plans_of(shop: Shop) -> QuerySet[Plan]:
    """The shop's plans, the latest first."""
    return Plan.objects.filter(shop=shop).select_related("asked_by", "told_by")


def plan_read(person: Person, plan_id: UUID) -> Plan:
    """A plan of a shop whose office the person keeps, or Plan.DoesNotExist."""
    offices = Membership.objects.filter(person=person, role=Role.OFFICE).values("shop")
    return Plan.objects.select_related("shop").get(id=plan_id, shop__in=offices)
