"""Reads of shops and jobs that more than one caller needs."""

from uuid import UUID

from django.db.models import Exists, OuterRef, Q, QuerySet

from jobs.models import Authority, Job, Membership, Person, Role, Shop


def jobs_visible_to(person: Person) -> QuerySet[Job]:
    """The jobs that a person may see: their shops' own, or those of their builder's firm."""
    mine = Membership.objects.filter(person=person, shop=OuterRef("shop"))
    own_shop = mine.exclude(role=Role.BUILDER)
    own_houses = mine.filter(builder=OuterRef("builder"))
    return Job.objects.filter(Q(Exists(own_shop)) | Q(Exists(own_houses))).select_related(
        "shop", "builder", "authority", "crew_lead"
    )


def shops_with_role(person: Person, role: Role) -> QuerySet[Shop]:
    """The shops in which the person has that role."""
    mine = Membership.objects.filter(person=person, role=role).values("shop")
    return Shop.objects.filter(id__in=mine).order_by("id")


def authorities_of(person: Person) -> QuerySet[Authority]:
    """The authorities of the shops whose office the person keeps."""
    shops = shops_with_role(person, Role.OFFICE)
    return Authority.objects.filter(shop__in=shops).select_related("shop").order_by("id")


def authority_get(person: Person, authority_id: UUID) -> Authority:
    """One of them; otherwise Authority.DoesNotExist."""
    return authorities_of(person).get(id=authority_id)
