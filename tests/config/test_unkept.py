"""No answer of the site is kept by a browser or a proxy, unless its view says that it may be.

OWASP ASVS 5.0.0, 14.3.2; RFC 9111, section 5.2.2.5.
"""

import pytest

from tests.inspections.tiny import HOUSES

KEPT = ("walk-worker",)
"""Views that say otherwise: a script without anything of anybody."""


@pytest.mark.django_db
def test_what_is_behind_sign_in_is_kept_nowhere(client, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    client.force_login(shop.office)
    paths = ("/", "/today/", "/people/", f"/jobs/{job.id}/", f"/jobs/{job.id}/checklist.pdf")
    for path in (*paths, "/api/jobs", f"/api/jobs/{job.id}", "/nowhere/", f"/walk/{job.id}/data/"):
        answer = client.get(path)
        assert "no-store" in answer.headers["Cache-Control"], path
    refused = client.post("/people/invite/", {})
    assert "no-store" in refused.headers["Cache-Control"]
