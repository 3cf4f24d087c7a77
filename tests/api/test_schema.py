"""The published schema is that of the API, and the API keeps to it whatever is sent."""

import random
import uuid
from pathlib import Path

import pytest
import schemathesis
from django.core.management import call_command
from hypothesis import HealthCheck, Phase, given, settings
from rest_framework.throttling import SimpleRateThrottle
from schemathesis.checks import CHECKS, load_all_checks
from schemathesis.core.failures import Failure, FailureGroup
from schemathesis.core.result import Ok

from config.wsgi import application
from jobs.models import ApiToken
from jobs.services.tokens import token_make
from tests.lived import lived_in
from tests.sure import of_kind

ROOT = Path(__file__).resolve().parents[2]
load_all_checks()
LEFT_OUT = {
    "positive_data_acceptance",  # values of the right shape may not do as things stand: 422
    "max_response_time",  # speed is measured by itself
}
ALL = [check for check in CHECKS.get_all() if check.__name__ not in LEFT_OUT]
OF_PART = [check for check in ALL if check.__name__ != "response_schema_conformance"]
"""The schema tells whole answers; one that `fields` picks from has what was picked alone."""
WHO = ("office", "lead", "member", "builder", "stranger")


def test_the_committed_schema_is_the_one_that_is_served(tmp_path) -> None:
    path = tmp_path / "openapi.yaml"
    call_command("spectacular", file=str(path), validate=True, fail_on_warn=True)
    assert path.read_text() == (ROOT / "docs" / "openapi.yaml").read_text(), "run `make schema`"


@pytest.fixture
def known(shop, house_bytes, django_capture_on_commit_callbacks) -> dict[str, list[str]]:
    """Ids of things that are there, by the parameter that takes them."""
    with django_capture_on_commit_callbacks(execute=True):
        lived = lived_in(shop, house_bytes)
    job = lived["job"]
    return {
        "job_id": [str(job.id)],
        "area_id": [str(area.id) for area in job.areas.all()],
        "cover_release_id": [str(job.areas.get(code="bedroom").cover_releases.get().id)],
        "item_id": [str(item.id) for item in job.items.all()[:5]],
        "inspection_id": [str(inspection.id) for inspection in job.inspections.all()],
        "deficiency_id": [str(each.id) for each in job.deficiencies.all()],
        "authority_id": [str(shop.authority.id)],
        "plan_id": [str(lived["plan"].id)],
        "crew_id": [str(crew.id) for crew in shop.shop.crews.all()],
        "link_id": [str(link.id) for link in job.links.all()],
        "invitation_id": [str(each.id) for each in shop.shop.invitations.all()],
        "notice_id": [str(uuid.uuid4())],
        "which": ["load", "panel", "hookup"],
    }


@pytest.mark.any_database
@pytest.mark.django_db
@pytest.mark.parametrize("who", WHO)
def test_whatever_is_sent_the_answer_is_one_that_the_schema_tells(
    shop, stranger_shop, known, whole, monkeypatch, who
) -> None:
    person = stranger_shop.office if who == "stranger" else getattr(shop, who)
    _, secret = token_make(person, name="any", scope=ApiToken.Scope.WRITE)
    monkeypatch.setattr(SimpleRateThrottle, "THROTTLE_RATES", {"token": None})
    schema = schemathesis.openapi.from_wsgi("/api/schema", application)
    chance, calls = random.Random(7), 0
    faults = []
    for found in schema.get_all_operations():
        operation = of_kind(Ok, found).ok()
        try:
            calls += _tried(operation, secret, known, chance, 30 if whole else 1)
        except (FailureGroup, Failure) as fault:  # gathered, so that one run names all
            faults.append(f"{operation.label}: {fault}")
    assert not faults, "\n\n".join(faults)
    assert calls >= (2000 if whole else 60)


def _tried(operation, secret: str, known, chance: random.Random, examples: int) -> int:
    """Send what may be sent, and some of what may not; how many calls that was."""
    count = 0

    @given(operation.as_strategy())
    @settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def send(case) -> None:
        nonlocal count
        count += 1
        for name in case.path_parameters or {}:
            if name in known and chance.random() < 0.8:
                case.path_parameters[name] = chance.choice(known[name])
        checks = ALL
        if (case.query or {}).get("fields"):
            checks = OF_PART
        case.call_and_validate(headers={"Authorization": f"Bearer {secret}"}, checks=checks)

    send()
    return count
