"""The office opens a job and changes what it is."""

import pytest

pytestmark = pytest.mark.django_db


def given(shop, **change):
    return {
        "name": "Lot 4",
        "address": "4 Quillet Lane",
        "builder": str(shop.firm.id),
        "authority": str(shop.authority.id),
        "crew_lead": str(shop.lead.id),
        "drywall_on": "",
    } | change


def test_a_job_is_opened(client, shop) -> None:
    client.force_login(shop.office)
    answer = client.post("/jobs/new/", given(shop), follow=True)
    job = shop.shop.jobs.get()
    assert answer.redirect_chain[-1][0] == f"/jobs/{job.id}/"
    assert (job.name, job.crew_lead) == ("Lot 4", shop.lead)


def test_what_will_not_do_is_said_and_nothing_is_opened(client, shop, stranger_shop) -> None:
    client.force_login(shop.office)
    for change in (
        {"name": ""},
        {"drywall_on": "soon"},
        {"builder": str(stranger_shop.firm.id)},
        {"crew_lead": str(shop.builder.id)},
        {"authority": "x"},
    ):
        answer = client.post("/jobs/new/", given(shop, **change))
        assert answer.status_code == 422, change
        assert 'class="fault"' in answer.text
    assert not shop.shop.jobs.exists()


def test_a_job_is_changed_and_the_record_keeps_what_it_was(client, shop) -> None:
    job = shop.job()
    client.force_login(shop.office)
    change = {"name": "Lot 15", "address": job.address, "drywall_on": "2026-12-18"}
    client.post(f"/jobs/{job.id}/edit/", given(shop, **change))
    assert "drywall 2026-12-18" in client.get(f"/jobs/{job.id}/").text
    assert "drywall on: 2026-12-18" in client.get(f"/jobs/{job.id}/record/").text
    assert client.post(f"/jobs/{job.id}/edit/", given(shop, name="")).status_code == 422


@pytest.mark.parametrize("who", ["lead", "member", "builder", "stranger"])
def test_nobody_else_does(client, shop, stranger_shop, who) -> None:
    job = shop.job()
    client.force_login(stranger_shop.office if who == "stranger" else getattr(shop, who))
    assert client.get(f"/jobs/{job.id}/edit/").status_code == 404
    assert client.post(f"/jobs/{job.id}/edit/", given(shop)).status_code == 404
    if who != "stranger":
        assert client.get("/jobs/new/").status_code == 404
