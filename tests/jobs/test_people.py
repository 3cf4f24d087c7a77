"""Who is in a shop: invited, come in once, given another role, gone."""

from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.access import NotAllowed, role_in
from jobs.invitations import InvitationGone, invitation_open
from jobs.models import Invitation, Membership, Person, Role
from jobs.selectors import jobs_visible_to
from jobs.services.people import (
    builder_add,
    invitation_accept,
    invitation_make,
    invitation_withdraw,
    membership_change,
    membership_end,
)

pytestmark = pytest.mark.django_db
NEW = {"username": "rowan", "full_name": "Rowan Ashdale", "password": "stud-and-plate-9"}


def invited(shop, role=Role.CREW_LEAD, **given):
    return invitation_make(
        shop.office, shop=shop.shop, role=role, for_whom="Rowan Ashdale", **given
    )


def member_of(shop, person) -> Membership:
    return Membership.objects.get(shop=shop.shop, person=person)


def test_an_invitation_opens_once_and_gives_the_role(shop) -> None:
    made, secret = invited(shop)
    assert secret not in str(Invitation.objects.values())
    joined = invitation_accept(None, invitation=invitation_open(secret), **NEW)
    assert role_in(joined, shop.shop) is Role.CREW_LEAD
    assert joined.check_password(NEW["password"])
    assert str(joined) == "Rowan Ashdale"
    with pytest.raises(InvitationGone, match="was used"):
        invitation_open(secret)
    with pytest.raises(InvitationGone, match="was used"):
        invitation_accept(shop.other_builder, invitation=made)


def test_who_has_an_account_comes_in_as_that(shop, stranger_shop) -> None:
    made, _ = invited(shop, Role.BUILDER, builder=shop.firm)
    job = shop.job()
    invitation_accept(stranger_shop.lead, invitation=made)
    assert list(jobs_visible_to(stranger_shop.lead)) == [job]
    again, _ = invited(shop)
    with pytest.raises(ValidationError, match="already in "):
        invitation_accept(stranger_shop.lead, invitation=again)
    again.refresh_from_db()
    assert again.used_at is None


def test_one_that_ran_out_or_was_withdrawn_opens_nothing(shop) -> None:
    made, secret = invited(shop)
    Invitation.objects.filter(id=made.id).update(expires_at=timezone.now() - timedelta(seconds=1))
    with pytest.raises(InvitationGone, match="expired on"):
        invitation_open(secret)
    other, secret = invited(shop)
    invitation_withdraw(shop.office, invitation=other)
    with pytest.raises(InvitationGone, match="withdrew"):
        invitation_open(secret)
    with pytest.raises(Invitation.DoesNotExist):
        invitation_open("nothing")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"password": "short"}, "password"),
        ({"password": "password123"}, "password"),
        ({"full_name": "  "}, "full_name"),
        ({"username": ""}, "username"),
    ],
)
def test_what_will_not_do_is_said_by_field_and_nothing_is_written(shop, change, field) -> None:
    made, _ = invited(shop)
    people = Person.objects.count()
    with pytest.raises(ValidationError) as refused:
        invitation_accept(None, invitation=made, **NEW | change)
    assert field in refused.value.message_dict
    assert Person.objects.count() == people
    made.refresh_from_db()
    assert made.used_at is None


def test_a_name_that_is_taken_is_refused(shop) -> None:
    made, _ = invited(shop)
    with pytest.raises(ValidationError) as refused:
        invitation_accept(None, invitation=made, **NEW | {"username": shop.lead.username})
    assert "username" in refused.value.message_dict


def test_a_builder_s_person_has_a_firm_of_this_shop(shop, stranger_shop) -> None:
    for firm in (None, stranger_shop.firm):
        with pytest.raises(ValidationError, match="Choose the builder"):
            invited(shop, Role.BUILDER, builder=firm)
    made, _ = invited(shop, Role.CREW_MEMBER, builder=shop.firm)
    assert made.builder is None


def test_a_shop_keeps_somebody_in_its_office(shop) -> None:
    own = member_of(shop, shop.office)
    with pytest.raises(ValidationError, match="at least one person in its office"):
        membership_end(shop.office, membership=own)
    with pytest.raises(ValidationError, match="at least one person in its office"):
        membership_change(shop.office, membership=own, role=Role.CREW_LEAD)
    membership_change(shop.office, membership=member_of(shop, shop.lead), role=Role.OFFICE)
    membership_end(shop.office, membership=own)
    assert role_in(shop.office, shop.shop) is None
    with pytest.raises(ValidationError, match="already left the shop"):
        membership_end(shop.lead, membership=own)


@pytest.mark.parametrize("gone", [True, False])
def test_who_leaves_the_crew_leads_no_job_any_more(shop, gone) -> None:
    job = shop.job()
    job.standing.next_at = None
    job.standing.save()
    mine = member_of(shop, shop.lead)
    if gone:
        membership_end(shop.office, membership=mine)
    else:
        membership_change(shop.office, membership=mine, role=Role.BUILDER, builder=shop.other_firm)
    job.refresh_from_db()
    assert job.crew_lead is None
    job.standing.refresh_from_db()
    assert job.standing.next_at is not None  # who is told what follows from it
    assert job not in jobs_visible_to(shop.lead)


def test_only_the_office_does_any_of_it(shop, stranger_shop) -> None:
    made, _ = invited(shop)
    mine = member_of(shop, shop.member)
    for person in (shop.lead, shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            invitation_make(person, shop=shop.shop, role=Role.OFFICE, for_whom="me")
        with pytest.raises(NotAllowed):
            invitation_withdraw(person, invitation=made)
        with pytest.raises(NotAllowed):
            membership_change(person, membership=mine, role=Role.OFFICE)
        with pytest.raises(NotAllowed):
            membership_end(person, membership=mine)
        with pytest.raises(NotAllowed):
            builder_add(person, shop=shop.shop, name="x")


def test_a_firm_is_added_once(shop) -> None:
    assert builder_add(shop.office, shop=shop.shop, name=" Harrowby Build ").name == (
        "Harrowby Build"
    )
    with pytest.raises(ValidationError):
        builder_add(shop.office, shop=shop.shop, name="Harrowby Build")
