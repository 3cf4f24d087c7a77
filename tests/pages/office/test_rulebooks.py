"""Rulebooks as pages show them, and the office amending one."""

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import rules
from inspections.checker.rulebook import rulebook_ids
from inspections.houses.amendments import amendments_of

pytestmark = pytest.mark.django_db
RULE, LIMIT = "/rulebooks/cec-2021/counter-receptacles/", "counter-receptacles.min_width_mm"


@pytest.mark.parametrize("book", rulebook_ids())
def test_every_rule_has_a_page_with_its_limits_and_how_they_are_known(client, shop, book) -> None:
    client.force_login(shop.lead)
    listed = client.get(f"/rulebooks/{book}/").text
    for rule in rules():
        assert f"/rulebooks/{book}/{rule}/" in listed
    text = client.get(f"/rulebooks/{book}/box-fill/").text
    for limit in load_rulebook(book).limits_of("box-fill"):
        assert limit.name.partition(".")[2] in text
    assert "Amend this limit" not in text
    assert "licensed people" in text


def test_the_office_amends_a_limit_and_has_it_back(client, shop) -> None:
    client.force_login(shop.office)
    given = {"limit": LIMIT, "value": "10", "unit": "in", "reason": "by-law 12"}
    text = client.post(RULE, given, follow=True).text
    assert "amended from" in text
    assert "by-law 12" in text
    assert "by-law 12" in client.get("/rulebooks/cec-2021/").text
    assert "1 amended here" in client.get("/rulebooks/").text
    text = client.post(RULE, given | {"restore": "yes", "reason": "gone"}, follow=True).text
    assert "restored to the code's limit" in text
    assert not amendments_of(shop.shop, "cec-2021")


def test_what_cannot_be_is_said(client, shop) -> None:
    client.force_login(shop.office)
    given = {"limit": LIMIT, "value": "wide", "unit": "mm", "reason": "x"}
    assert "“wide” is not a number" in client.post(RULE, given).text
    assert "more than 0" in client.post(RULE, given | {"value": "0"}).text
    assert client.post(RULE, given | {"limit": "x"}).status_code == 404
    assert client.get("/rulebooks/cec-2021/nothing/").status_code == 404
    assert client.get("/rulebooks/nothing/").status_code == 404


def test_a_house_is_checked_again_from_the_rulebook(client, shop, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    book = job.revisions.get().rulebook
    rule = f"/rulebooks/{book}/counter-receptacles/"
    client.force_login(shop.office)
    client.post(rule, {"limit": LIMIT, "value": "200", "unit": "mm", "reason": "habit"})
    assert "Local amendments changed" in client.get(f"/jobs/{job.id}/").text
    assert f"/jobs/{job.id}/check-again/" in client.get(f"/rulebooks/{book}/").text
    client.post(f"/jobs/{job.id}/check-again/")
    assert job.revisions.count() == 2
    assert "Local amendments changed" not in client.get(f"/jobs/{job.id}/").text


def test_builders_find_none_and_crews_change_nothing(client, shop, stranger_shop) -> None:
    given = {"limit": LIMIT, "value": "200", "unit": "mm", "reason": "habit"}
    client.force_login(shop.builder)
    assert client.get("/rulebooks/").status_code == 404
    assert client.get(RULE).status_code == 404
    client.force_login(shop.lead)
    assert "Only the office of" in client.post(RULE, given).text
    client.force_login(stranger_shop.office)
    client.post(RULE, given)
    assert not amendments_of(shop.shop, "cec-2021")
