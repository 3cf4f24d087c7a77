"""People as pages show them: invited and come in, and the way to the first checked house."""

import re

import pytest
from django.core.management import call_command

from jobs.access import role_in
from jobs.models import Membership, Person, Role, Shop
from tests.sure import sure

pytestmark = pytest.mark.django_db
NEW = {"username": "rowan", "full_name": "Rowan Ashdale", "password": "stud-and-plate-9"}


def address_in(text: str) -> str:
    return sure(re.search(r"http://\S+(/join/[\w-]+)", text)).group(1)


def test_somebody_invited_comes_in_once(client, shop) -> None:
    client.force_login(shop.office)
    given = {"for_whom": "Rowan Ashdale", "role": "crew_lead", "builder": ""}
    address = address_in(client.post("/people/invite/", given, follow=True).text)
    client.logout()
    assert "as crew lead" in client.get(address).text
    refused = client.post(address, NEW | {"password": "short"})
    assert refused.status_code == 422
    assert "too short" in refused.text
    assert client.post(address, NEW).headers["Location"] == "/account/first/"
    assert client.get("/").status_code == 200
    joined = Person.objects.get(username="rowan")
    assert role_in(joined, shop.shop) is Role.CREW_LEAD
    client.logout()
    gone = client.get(address)
    assert (gone.status_code, "was used" in gone.text) == (410, True)
    assert client.get("/join/nothing").status_code == 404


def test_who_is_signed_in_comes_in_as_that(client, shop, stranger_shop) -> None:
    client.force_login(shop.office)
    given = {"for_whom": "a", "role": "builder", "builder": str(shop.firm.id)}
    address = address_in(client.post("/people/invite/", given, follow=True).text)
    client.force_login(stranger_shop.lead)
    assert f"Join as {stranger_shop.lead}" in client.get(address).text
    client.post(address)
    assert role_in(stranger_shop.lead, shop.shop) is Role.BUILDER


def test_who_is_in_the_shop_already_is_told_so_and_the_invitation_stays(client, shop) -> None:
    client.force_login(shop.office)
    given = {"for_whom": "Rowan Ashdale", "role": "crew_lead", "builder": ""}
    address = address_in(client.post("/people/invite/", given, follow=True).text)
    refused = client.post(address, {"anything": "at all"})
    assert refused.status_code == 422
    assert "already" in refused.text
    assert role_in(shop.office, shop.shop) is Role.OFFICE
    assert shop.shop.invitations.get().used_at is None


def test_a_role_is_changed_and_a_person_let_go(client, shop) -> None:
    client.force_login(shop.office)
    mine = Membership.objects.get(person=shop.member)
    client.post(f"/people/{mine.id}/", {"role": "crew_lead", "builder": ""})
    assert role_in(shop.member, shop.shop) is Role.CREW_LEAD
    client.post(f"/people/{mine.id}/", {"gone": "yes"})
    assert role_in(shop.member, shop.shop) is None
    own = Membership.objects.get(person=shop.office)
    text = client.post(f"/people/{own.id}/", {"gone": "yes"}, follow=True).text
    assert "at least one person in its office" in text
    text = client.post(f"/people/{own.id}/", {"role": "king"}, follow=True).text
    assert "Select a valid choice" in text


def test_an_invitation_is_withdrawn(client, shop) -> None:
    client.force_login(shop.office)
    given = {"for_whom": "Rowan", "role": "crew_lead", "builder": ""}
    address = address_in(client.post("/people/invite/", given, follow=True).text)
    made = shop.shop.invitations.get()
    text = client.post(f"/invitations/{made.id}/withdraw/", follow=True).text
    assert "Rowan, crew lead" not in text
    client.logout()
    assert client.get(address).status_code == 410


@pytest.mark.parametrize("who", ["lead", "member", "builder", "stranger"])
def test_nobody_else_finds_any_of_it(client, shop, stranger_shop, who) -> None:
    client.force_login(shop.office)
    given = {"for_whom": "Rowan", "role": "crew_lead", "builder": ""}
    client.post("/people/invite/", given)
    made, mine = shop.shop.invitations.get(), Membership.objects.get(person=shop.member)
    client.force_login(stranger_shop.office if who == "stranger" else getattr(shop, who))
    if who != "stranger":
        assert client.get("/people/").status_code == 404
        assert client.get("/guide/").status_code == 404
        assert client.post("/people/invite/", given).status_code == 404
        assert client.post("/people/firm/", {"name": "x"}).status_code == 404
    assert client.post(f"/invitations/{made.id}/withdraw/").status_code == 404
    assert client.post(f"/people/{mine.id}/", {"gone": "yes"}).status_code == 404
    made.refresh_from_db()
    assert made.withdrawn_at is None


def test_an_empty_installation_comes_to_its_first_checked_house(
    client, house_bytes, capsys
) -> None:
    """Nothing but what pages offer, from the address that the command prints."""
    call_command("open_shop", "Kittering Electric", "America/Halifax")
    address = "/join/" + capsys.readouterr().out.strip().rpartition("/join/")[2]
    answer = client.post(address, NEW, follow=True)
    assert answer.redirect_chain[-1][0] == "/guide/"
    assert answer.text.count('aria-current="step"') == 1
    client.post("/authorities/new/", {"name": "Fernhollow office", "template": ""})
    client.post("/people/firm/", {"name": "Pellow Homes"})
    shop = Shop.objects.get(name="Kittering Electric")
    given = {
        "name": "Lot 4",
        "address": "4 Quillet Lane",
        "builder": str(shop.builders.get().id),
        "authority": str(shop.authorities.get().id),
        "crew_lead": "",
        "drywall_on": "2026-12-18",
    }
    client.post("/jobs/new/", given)
    job = shop.jobs.get()
    assert client.get("/guide/").text.count('class="done"') == 3
    text = house_bytes.decode()
    client.post(f"/jobs/{job.id}/house-file/", {"text": text, "base": "0"})
    text = client.get("/guide/").text
    assert "The first house is checked." in text
    assert "shares no hole with" in client.get(f"/jobs/{job.id}/", {"q": "hole"}).text
