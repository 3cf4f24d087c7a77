"""Writes of who is in a shop: invited, come in, given another role, gone."""

from datetime import timedelta

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from jobs.access import require_role
from jobs.invitations import InvitationGone, gone_because
from jobs.models import Builder, Invitation, Job, Membership, Person, Role, Shop
from jobs.secrets import digest_of, new_secret
from jobs.services import refusal_messages as words
from jobs.services.leaving import end_with_membership
from jobs.services.shops import people_changed

GOOD_FOR = timedelta(days=14)


def language_set(actor: Person, *, language: str) -> Person:
    """The language that a person reads. Raises ValidationError for one that is not spoken here."""
    actor.language = language
    return _wish_kept(actor, "language")


def units_set(actor: Person, *, units: str) -> Person:
    """The units that a person measures in. Raises ValidationError for others than are known."""
    actor.units = units
    return _wish_kept(actor, "units")


def _wish_kept(actor: Person, name: str) -> Person:
    """Keep one of a person's own wishes, checked by itself."""
    exclude = []
    for f in Person._meta.fields:
        if f.name != name:
            exclude.append(f.name)
    actor.clean_fields(exclude=exclude)
    actor.save(update_fields=[name])
    return actor


def mail_set(_actor: Person | None, *, person: Person, address: str) -> Person:
    """Keep the address that a link for a lost password goes to; its reader has just shown it."""
    person.email = address
    exclude = []
    for f in Person._meta.fields:
        if f.name != "email":
            exclude.append(f.name)
    person.clean_fields(exclude=exclude)
    person.save(update_fields=["email"])
    return person


@transaction.atomic
def builder_add(actor: Person, *, shop: Shop, name: str) -> Builder:
    """One more builder that the shop works for."""
    require_role(actor, shop, Role.OFFICE)
    firm = Builder(shop=shop, name=name.strip())
    firm.full_clean()
    firm.save()
    return firm


@transaction.atomic
def locations_set(actor: Person, *, shop: Shop, keep: bool) -> Shop:
    """Whether photographs that come in from now on keep where and when they were taken."""
    require_role(actor, shop, Role.OFFICE)
    shop.keeps_locations = keep
    shop.save(update_fields=["keeps_locations"])
    return shop


@transaction.atomic
def office_first_set(actor: Person, *, shop: Shop, first: bool) -> Shop:
    """Whether the office looks at what is found otherwise on site before it is recorded."""
    require_role(actor, shop, Role.OFFICE)
    shop.office_looks_first = first
    shop.save(update_fields=["office_looks_first"])
    return shop


@transaction.atomic
def invitation_make(
    actor: Person | None,
    *,
    shop: Shop,
    role: Role,
    for_whom: str,
    builder: Builder | None = None,
) -> tuple[Invitation, str]:
    """A way into the shop for one person, and its secret, which is shown only once.

    Without an actor it is made by whoever runs the server.
    """
    if actor is not None:
        require_role(actor, shop, Role.OFFICE)
    now, secret = timezone.now(), new_secret()
    invitation = Invitation(
        shop=shop,
        role=role,
        builder=_firm_for(shop, role, builder),
        for_whom=for_whom.strip(),
        digest=digest_of(secret),
        made_by=actor,
        made_at=now,
        expires_at=now + GOOD_FOR,
    )
    invitation.full_clean()
    invitation.save()
    return invitation, secret


def _firm_for(shop: Shop, role: Role, builder: Builder | None) -> Builder | None:
    """The firm that goes with a role: a builder's people have one, nobody else has."""
    if role != Role.BUILDER:
        return None
    if builder is None or builder.shop_id != shop.id:
        raise ValidationError({"builder": said_later(words.FIRM_MISSING())})
    return builder


@transaction.atomic
def invitation_withdraw(actor: Person, *, invitation: Invitation) -> Invitation:
    """Take an invitation back; one that was used stays as it is."""
    require_role(actor, invitation.shop, Role.OFFICE)
    fresh = Invitation.objects.select_for_update().get(id=invitation.id)
    if fresh.used_at is None and fresh.withdrawn_at is None:
        fresh.withdrawn_at = timezone.now()
        fresh.save(update_fields=["withdrawn_at"])
    return fresh


@transaction.atomic
def invitation_accept(
    person: Person | None,
    *,
    invitation: Invitation,
    username: str = "",
    full_name: str = "",
    password: str = "",
) -> Person:
    """Come into the shop: as who is signed in already, or as somebody new with these.

    Raises InvitationGone when it was used, withdrawn or has run out meanwhile; ValidationError
    by field when what is given will not do. Then nothing is written.
    """
    fresh = Invitation.objects.select_for_update().get(id=invitation.id)
    if because := gone_because(fresh):
        raise InvitationGone(because)
    person = person or _new_person(username, full_name, password)
    if Membership.objects.filter(shop=fresh.shop, person=person).exists():
        there = words.ALREADY_OF_SHOP(person=str(person), shop=fresh.shop.name)
        raise ValidationError(said_later(there))
    Membership.objects.create(
        shop=fresh.shop, person=person, role=fresh.role, builder=fresh.builder
    )
    fresh.used_at, fresh.used_by = timezone.now(), person
    fresh.save(update_fields=["used_at", "used_by"])
    people_changed(fresh.shop)
    return person


def _new_person(username: str, full_name: str, password: str) -> Person:
    first, _, last = full_name.strip().partition(" ")
    person = Person(username=username.strip(), first_name=first, last_name=last)
    faults: dict[str, list[str]] = {}
    if not first:
        faults["full_name"] = [said_later(words.NAME_MISSING())]
    try:
        validate_password(password, person)
    except ValidationError as refused:
        faults["password"] = refused.messages
    person.set_password(password)
    try:
        person.full_clean()
    except ValidationError as refused:
        faults |= refused.message_dict
    if faults:
        raise ValidationError(faults)
    person.save()
    return person


@transaction.atomic
def membership_change(
    actor: Person, *, membership: Membership, role: Role, builder: Builder | None = None
) -> Membership:
    """Give a person another role in the shop. A shop keeps somebody in its office."""
    kept = _locked(actor, membership, leaves_office=role != Role.OFFICE)
    kept.role, kept.builder = role, _firm_for(kept.shop, role, builder)
    kept.full_clean()
    kept.save()
    _leads_no_more(kept)
    people_changed(kept.shop)
    return kept


@transaction.atomic
def membership_end(actor: Person, *, membership: Membership) -> None:
    """Let a person see nothing of the shop any more. What they recorded stays theirs.

    What was made for them ends with it, in the same transaction.
    """
    kept = _locked(actor, membership, leaves_office=True)
    kept.delete()
    _leads_no_more(kept, gone=True)
    end_with_membership(kept)
    people_changed(kept.shop)


def _locked(actor: Person, membership: Membership, *, leaves_office: bool) -> Membership:
    """The membership as it is now, the shop's others locked with it."""
    require_role(actor, membership.shop, Role.OFFICE)
    of_shop = Membership.objects.filter(shop=membership.shop).select_related("shop", "person")
    everyone = list(of_shop.select_for_update(of=("self",)).order_by("id"))
    kept = None
    for one in everyone:
        if one.id == membership.id:
            kept = one
            break
    if kept is None:
        raise ValidationError(said_later(words.PERSON_LEFT()))
    others = False
    for one in everyone:
        if one.role == Role.OFFICE and one.id != kept.id:
            others = True
            break
    if kept.role == Role.OFFICE and leaves_office and not others:
        raise ValidationError(said_later(words.OFFICE_EMPTY()))
    return kept


def _leads_no_more(membership: Membership, *, gone: bool = False) -> None:
    """A job is led by somebody of the shop; who went, or is a builder's now, leads none."""
    if gone or membership.role == Role.BUILDER:
        Job.objects.filter(shop=membership.shop, crew_lead=membership.person).update(crew_lead=None)
