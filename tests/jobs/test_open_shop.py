"""A shop is opened from the command line, and its first person comes in by what that prints."""

import pytest
from django.core.management import CommandError, call_command

from jobs.invitations import invitation_open
from jobs.models import Role, Shop

pytestmark = pytest.mark.django_db


def test_it_prints_the_way_in_for_the_first_person(capsys) -> None:
    call_command("open_shop", "Kittering Electric", "America/Halifax")
    said = capsys.readouterr().out
    assert said.startswith("Kittering Electric is open.")
    invitation = invitation_open(said.strip().rpartition("/join/")[2])
    assert (invitation.role, invitation.shop.time_zone) == (Role.OFFICE, "America/Halifax")
    assert invitation.made_by is None


def test_a_bad_zone_is_said_and_no_shop_is_there(capsys) -> None:
    with pytest.raises(CommandError, match="“Halifax” is not a time zone"):
        call_command("open_shop", "Kittering Electric", "Halifax")
    assert not Shop.objects.filter(name="Kittering Electric").exists()
