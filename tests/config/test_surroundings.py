"""Tests, and the processes they start, keep to the same surroundings, which are their own."""

import os
import tempfile
from pathlib import Path

import pytest
from django.conf import settings

from config.celery import app


def test_what_is_written_goes_to_a_folder_of_the_tests_own() -> None:
    assert Path(os.environ["STUDBAY_VAR"]) == settings.VAR
    assert settings.VAR.is_relative_to(tempfile.gettempdir())
    assert settings.MEDIA_ROOT.is_relative_to(settings.VAR)


@pytest.mark.postgresql
@pytest.mark.django_db
@pytest.mark.parametrize("_each", range(8))  # so that each of several workers has some
def test_this_process_and_its_children_ring_on_one_database_of_the_broker(_each: int) -> None:
    worker = os.environ.get("PYTEST_XDIST_WORKER", "gw0")
    assert os.environ["REDIS_URL"].endswith(f"/{worker.removeprefix('gw')}")
    assert app.conf.broker_url == os.environ["REDIS_URL"]
