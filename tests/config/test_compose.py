"""The cluster as described for containers: it parses, and sets only what the settings read."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from config.environment import Environment, read_environment

ROOT = Path(__file__).resolve().parents[2]
OURS = ("web", "worker", "messenger", "beat", "migrate")


@pytest.fixture(scope="module")
def compose() -> dict[str, Any]:
    told: dict[str, Any] = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
    return told


def test_the_services_of_a_cluster_are_there(compose) -> None:
    assert set(compose["services"]) == {*OURS, "accounts", "database", "broker", "front"}
    for name in OURS:
        assert compose["services"][name]["build"] == "."


@pytest.mark.parametrize("name", OURS)
def test_each_variable_set_is_one_that_the_settings_read(compose, name: str) -> None:
    given = compose["services"][name]["environment"]
    assert {variable.lower() for variable in given} <= set(Environment.model_fields)
    plain = {key: re.sub(r"\$\{\w+:\?[^}]*\}", "filled-in", str(v)) for key, v in given.items()}
    plain = {key: re.sub(r"\$\{\w+:-(\w*)\}", r"\1", text) for key, text in plain.items()}
    assert read_environment(plain).cluster


@pytest.mark.parametrize("name", OURS)
def test_each_command_is_one_that_the_image_has(compose, name: str) -> None:
    command = compose["services"][name]["command"]
    assert command[0] in ("gunicorn", "celery", "python")
    if command[0] == "python":
        assert (ROOT / command[1]).exists()


def test_the_dockerfile_copies_what_exists_and_does_not_run_as_root() -> None:
    text = (ROOT / "Dockerfile").read_text()
    instructions = [line.split(maxsplit=1) for line in text.splitlines() if line[:1].isupper()]
    assert instructions[0][0] == "FROM"
    for word, rest in instructions:
        if word == "COPY":
            *sources, _ = (part for part in rest.split() if not part.startswith("--"))
            assert all((ROOT / source).exists() for source in sources), rest
    assert [rest for word, rest in instructions if word == "USER"] == ["studbay"]


def test_the_image_has_its_languages_compiled_by_whom_its_folder_belongs_to() -> None:
    """The site in it may not write there, and would refuse to start."""
    lines = (ROOT / "Dockerfile").read_text().splitlines()
    compiled = lines.index("RUN python -m config.languages")
    copied = [number for number, line in enumerate(lines) if line.startswith("COPY")]
    assert max(copied) < compiled < lines.index("USER studbay")


def test_no_credential_has_a_default(compose) -> None:
    """OWASP ASVS 5.0.0, 13.2.3: each is asked for, and none stands in the file."""
    text = (ROOT / "docker-compose.yml").read_text()
    asked = re.findall(r"\$\{(\w*(?:KEY|PASSWORD|SECRET|TOKEN)\w*)(:?[-?])?", text)
    assert asked
    empty = {"SECRET_KEY_FALLBACKS"}
    assert {name for name, how in asked if how != ":?"} <= empty
    assert not re.search(r"(?i)(password|secret|token)\w*: *[\"']?\w{4,}", text.replace("${", "$ "))


def test_what_serves_has_another_account_than_what_migrates(compose) -> None:
    """OWASP ASVS 5.0.0, 13.2.1 and 13.2.2; what each may do: test_database_accounts.py."""
    services = compose["services"]
    for name in OURS:
        who = re.match(r"postgresql://(\w+):", services[name]["environment"]["DATABASE_URL"])
        assert who is not None
        assert who[1] == ("studbay_owner" if name == "migrate" else "studbay_site")
    assert "./deploy/database.sql:/database.sql:ro" in services["accounts"]["volumes"]
    assert "accounts" in services["migrate"]["depends_on"]
