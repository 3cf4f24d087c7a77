"""A process says what another one stored, so that each knows every message from its start."""

import os
import subprocess
import sys

import pytest

pytestmark = pytest.mark.any_database
MISSING = """
import django
django.setup()
from config.messages.message import messages
known = set(messages())
from config.languages.sources import program_messages
print(*sorted(each.id for each in program_messages() if each.id not in known))
"""


def test_a_process_that_only_started_knows_every_message() -> None:
    done = subprocess.run(
        [sys.executable, "-c", MISSING],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"DJANGO_SETTINGS_MODULE": "tests.settings"},
    )
    assert not done.stdout.split()
