"""What every test shares: which run it belongs to, people and jobs."""

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from datetime import date
from ipaddress import ip_network
from pathlib import Path
from time import sleep

import pytest
from hypothesis import settings as hypothesis_settings
from pytest_django import DjangoDbBlocker

from tests import clocks, lengths

os.environ.pop("DJANGO_SETTINGS_MODULE", None)  # what tests start reads the site's own settings

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NGINX = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")
WEBKIT = shutil.which("WebKitWebDriver") and shutil.which("Xvfb")
ON_POSTGRESQL = bool(os.environ.get("DATABASE_URL"))

hypothesis_settings.register_profile(
    "suite",
    deadline=None,
    derandomize=True,
    database=None,
    max_examples=min(100, lengths.most or 100),
)
hypothesis_settings.load_profile("suite")


LEFT_OUT = pytest.StashKey[str]()
"""Which tests this run left to the other, in words for the end."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Options of ours: which part is run, how long, and at what time."""
    clocks.add_option(parser)
    parser.addoption(
        "--database-only",
        action="store_true",
        help="only the tests that touch the database",
    )
    parser.addoption(
        "--in-part",
        action="store_true",
        help="of the tests that another run has run, those of the database and one in four",
    )
    parser.addoption(
        "--whole",
        action="store_true",
        help="the long proofs at their whole length, as `make proof` runs them",
    )


def pytest_configure(config: pytest.Config) -> None:
    """Set the clock, and tell the properties how long they are tried, before modules are read."""
    lengths.whole = config.getoption("--whole")
    clocks.start(config)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run what is marked `every_clock` under each of them."""
    clocks.each_clock(metafunc)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what belongs to the other run or cannot run here, and say how much and why."""
    told = []
    for is_kept, words in _kept(config):
        wanted: list[pytest.Item] = []
        rest: list[pytest.Item] = []
        for item in items:
            (wanted if is_kept(item) else rest).append(item)
        if rest:
            config.hook.pytest_deselected(items=rest)
            told.append(f"tests left out here: {len(rest)}; they {words}")
        items[:] = wanted
    config.stash[LEFT_OUT] = "\n".join(told)
    if hasattr(config, "workeroutput"):
        config.workeroutput["left_out"] = config.stash[LEFT_OUT]


def _kept(config: pytest.Config) -> Iterator[tuple[Callable[[pytest.Item], bool], str]]:
    """Which tests are kept, and why the others are left out."""
    if config.getoption("--database-only"):
        yield _has("django_db"), "do not touch the database, and ran on the first run"
        yield _lacks("any_database"), "ask nothing of the database of their own; they ran before"
    elif not ON_POSTGRESQL:
        without = "need PostgreSQL, and run in the second run of `make test`"
        yield _lacks("postgresql"), without
    if NGINX is None:
        without = "need nginx, and none is here; on Debian: install nginx-light"
        yield _lacks("nginx"), without
    if CHROMIUM is None:
        without = "need Chromium, and none is here; on Debian: install chromium"
        yield _lacks("browser"), without
    if WEBKIT is None:
        without = "need WebKit, and none is here; on Debian: install what .ci/run names for it"
        yield _lacks("webkit"), without
    if config.getoption("--in-part"):
        yield _in_part, "ran on SQLite, and run here in `make proof`"


def _has(marker: str) -> Callable[[pytest.Item], bool]:
    return lambda item: item.get_closest_marker(marker) is not None


def _lacks(marker: str) -> Callable[[pytest.Item], bool]:
    return lambda item: item.get_closest_marker(marker) is None


OF_THE_DATABASE = (
    "tests/config/test_backup",
    "tests/config/test_full_disc",
    "tests/config/test_sealed_columns",
    "tests/hostile",
    "tests/inspections/test_inspection_race",
    "tests/inspections/test_machine",
    "tests/inspections/test_race",
    "tests/inspections/test_settling",
    "tests/isolation",
    "tests/jobs/test_factors",
    "tests/notifications/test_left",
    "tests/notifications/test_sending",
    "tests/test_constraints",
    "tests/test_numbers",
    "tests/test_stored",
    "tests/upgrades",
)
"""Tests whose outcome depends on the database: locks, limits, orders, upgrades."""


def _in_part(item: pytest.Item) -> bool:
    """Whether a test runs on the second database too: those of the database, and one in four."""
    if _has("postgresql")(item) or item.nodeid.startswith(OF_THE_DATABASE):
        return True
    return lengths.in_part(item.nodeid)


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node, error) -> None:
    """With several workers, keep what each says it left out; it is the same for all."""
    node.config.stash[LEFT_OUT] = getattr(node, "workeroutput", {}).get("left_out", "")


def pytest_terminal_summary(terminalreporter, config: pytest.Config) -> None:
    """Say at the end which tests this run left to the other."""
    if text := config.stash.get(LEFT_OUT, ""):
        terminalreporter.write_line(text)


@pytest.fixture(autouse=True)
def clock_of_test(request: pytest.FixtureRequest) -> Iterator[None]:
    """The clock of the run; of a test marked `every_clock`, each in turn."""
    if not hasattr(request, "param"):
        yield
        return
    with clocks.at(request.param):
        yield


@pytest.fixture(autouse=True)
def quick_passwords(settings) -> None:
    """Passwords in tests need no guarding."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(autouse=True)
def limits_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Guesses that one test counts are no other's."""
    from django.core.cache.backends.locmem import LocMemCache

    limits = LocMemCache("limits", {"OPTIONS": {"MAX_ENTRIES": 10_000}})
    limits.clear()
    monkeypatch.setattr("allauth.core.internal.ratelimit.cache", limits)


@pytest.fixture(autouse=True, scope="session")
def signed_in_by_password() -> Iterator[None]:
    """`force_login` stands for a sign-in by password: who it is was shown a moment ago."""
    from django.contrib.auth.signals import user_logged_in

    from tests.signed_in import note_proof

    user_logged_in.connect(note_proof)
    yield
    user_logged_in.disconnect(note_proof)


@pytest.fixture(autouse=True)
def settling_at_once() -> Iterator[None]:
    """The doorbell is answered in the same process unless a test runs a worker."""
    from config.celery import app

    app.conf.task_always_eager = True
    yield
    app.conf.task_always_eager = False


@pytest.fixture(autouse=True, scope="session")
def houses_checked_once() -> Iterator[None]:
    """A house is checked once in a process, however many tests record it."""
    from tests.checked_once import checked_once

    with checked_once():
        yield


@pytest.fixture
def whole(request: pytest.FixtureRequest) -> bool:
    """Whether the long proofs run at their whole length, or at a part of it."""
    return bool(request.config.getoption("--whole"))


BLOCKER = pytest.StashKey[DjangoDbBlocker]()
"""What lets code outside a test ask the database, once there is one."""
TABLES = pytest.StashKey[ExitStack]()
"""What is held while the database is made."""
EMPTIED = pytest.StashKey[bool]()
"""Whether a test that commits has emptied the database since."""
LONELY = pytest.StashKey[bool]()
"""Whether the test that is being set up commits, and wants no stranger shop beside it."""


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    request: pytest.FixtureRequest, django_db_modify_db_settings
) -> None:
    """A database in memory begins with the tables that another process has made."""
    from tests.database_template import lent

    request.session.stash[TABLES] = ExitStack()
    if not ON_POSTGRESQL:
        request.session.stash[TABLES].enter_context(lent())


@pytest.fixture(scope="session")
def django_db_setup(request: pytest.FixtureRequest, django_db_setup, django_db_blocker) -> None:
    """Every test database has the stranger shop in it, beside which all tests run."""
    from tests import stranger

    with django_db_blocker.unblock():
        request.session.stash[TABLES].close()
        stranger.put_files()
        if not request.session.stash.get(LONELY, False):
            stranger.put_back()
    request.session.stash[BLOCKER] = django_db_blocker


def _fixtures_of(item: pytest.Item) -> set[str]:
    return set(getattr(item, "fixturenames", ()))


def _commits(item: pytest.Item) -> bool:
    marker = item.get_closest_marker("django_db")
    asked = {"transactional_db", "live_server"} & _fixtures_of(item)
    return bool(asked or (marker and marker.kwargs.get("transaction")))


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Put the stranger shop in again after a test that emptied the database."""
    stash = item.session.stash
    database = item.get_closest_marker("django_db") or "db" in _fixtures_of(item)
    if not (database or _commits(item)):
        return
    stash[LONELY] = _commits(item) and item.get_closest_marker("alone") is not None
    if BLOCKER in stash:  # otherwise it is this test for which the database is made
        _set_beside(stash)
    stash[EMPTIED] = _commits(item)


def _set_beside(stash: pytest.Stash) -> None:
    from tests import stranger

    with stash[BLOCKER].unblock():
        if stash.get(EMPTIED, False):
            stranger.put_back()
        if stash[LONELY]:
            stranger.take_out()


@pytest.fixture(autouse=True)
def alone(request: pytest.FixtureRequest) -> None:
    """Without the stranger shop, for a test of everything that a database holds."""
    if request.node.get_closest_marker("alone") and not _commits(request.node):
        request.getfixturevalue("db")
        from tests import stranger

        stranger.take_out()


@pytest.fixture
def shop(db):
    """A shop with people in every role and one builder."""
    from tests.people import Shopful

    return Shopful("Ostrander & Vale Electric")


@pytest.fixture
def stranger_shop(db):
    """Another shop that must never see the first one's things."""
    from tests.people import Shopful

    return Shopful("Lanternby Wiring")


@pytest.fixture(autouse=True)
def flushable(request: pytest.FixtureRequest) -> Iterator[None]:
    """After a test that commits, SQLite empties tables with DELETE, which triggers refuse."""
    marker = request.node.get_closest_marker("django_db")
    if ON_POSTGRESQL or marker is None or not marker.kwargs.get("transaction"):
        yield
        return
    request.getfixturevalue("transactional_db")
    from django.db import connection

    from inspections.append_only import make_append_only, release

    release(connection)
    make_append_only(connection)
    yield
    _once_unlocked(lambda: release(connection))


def _once_unlocked(act: Callable[[], None], tries: int = 200) -> None:
    """Act once the server of the test has read its last answer: a shared cache locks at once."""
    from django.db import OperationalError

    for left in reversed(range(tries)):
        try:
            return act()
        except OperationalError as locked:
            if "locked" not in str(locked) or not left:
                raise
            sleep(0.05)
    return None


@pytest.fixture
def own_network(settings) -> None:
    """Whoever runs the server allows loopback, which the servers of tests stand on."""
    given = {"studbay_private_networks": [ip_network("127.0.0.0/8")]}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)


@pytest.fixture
def today() -> date:
    """A day on which nothing else happens."""
    return date(2026, 3, 16)


@pytest.fixture
def house_bytes() -> bytes:
    """The corrected example house: nothing short or unknown, some items to look at."""
    return (EXAMPLES / "quillet-corrected.json").read_bytes()


@pytest.fixture
def planted_bytes() -> bytes:
    """The example house with planted defects."""
    return (EXAMPLES / "quillet-planted.json").read_bytes()
