"""The site's settings for tests: in surroundings of their own, made before the site reads them.

pytest-django reads settings before any conftest is imported, so this cannot stand there.
"""

import os
import tempfile

# Tests never write to the folder a person works in.
os.environ["STUDBAY_VAR"] = tempfile.mkdtemp(prefix="studbay-test-")
# The clock of a test stands still, and so all its requests are of one minute.
os.environ.setdefault("STUDBAY_CALLS_A_MINUTE", "1000000")
if "REDIS_URL" in os.environ:  # each of several workers has a database of the broker to itself
    server = os.environ["REDIS_URL"].rpartition("/")[0]
    number = os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")
    os.environ["REDIS_URL"] = f"{server}/{number}"

from config.settings import *  # noqa: F403  what tests change is only where things are kept
