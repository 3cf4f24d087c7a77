"""Settings from the environment: what is wrong is named at the start."""

import ast
import os
import subprocess
import sys

import pytest
from django.core.exceptions import ImproperlyConfigured

from config.environment import read_environment

CLUSTER = {
    "DATABASE_URL": "postgresql://u:p@db/studbay",
    "REDIS_URL": "rediss://broker:6379/0",
    "SECRET_KEY": "k" * 50,
}


def test_nothing_set_is_embedded_mode() -> None:
    environment = read_environment({})
    assert not environment.cluster
    assert not environment.https
    assert environment.allowed_hosts == ["localhost", "127.0.0.1", "[::1]"]


def test_a_database_url_is_cluster_mode_with_https() -> None:
    environment = read_environment(CLUSTER | {"ALLOWED_HOSTS": "a.example, b.example"})
    assert environment.cluster
    assert environment.https
    assert environment.allowed_hosts == ["a.example", "b.example"]


@pytest.mark.parametrize(
    ("given", "line"),
    [
        ({"STUDBAY_LISTN": "x:1"}, "STUDBAY_LISTN: is not a setting of Studbay; did you mean"),
        ({"STUDBAY_FRIDGE": "1"}, "STUDBAY_FRIDGE: is not a setting of Studbay"),
        ({"STUDBAY_LISTEN": "8000"}, "STUDBAY_LISTEN: must be an address and a port"),
        ({"STUDBAY_SWEEP_SECONDS": "soon"}, "STUDBAY_SWEEP_SECONDS: input should be"),
        ({"STUDBAY_SWEEP_SECONDS": "0"}, "STUDBAY_SWEEP_SECONDS: input should be greater"),
        ({"STUDBAY_HTTPS": "perhaps"}, "STUDBAY_HTTPS: input should be a valid boolean"),
        ({"DEBUG": "2x"}, "DEBUG: input should be a valid boolean"),
        ({"DATABASE_URL": "mysql://x"}, "DATABASE_URL: must look like postgresql://"),
        ({"REDIS_URL": "localhost"}, "REDIS_URL: must look like redis://"),
        ({"DATABASE_URL": "postgresql://x/y"}, "SECRET_KEY: is required when DATABASE_URL"),
        ({"DATABASE_URL": "postgresql://x/y"}, "REDIS_URL: is required when DATABASE_URL"),
        (
            {"STUDBAY_ERRORS_DSN": "https://host/1"},
            "STUDBAY_ERRORS_DSN: must have a key and a proj",
        ),
        ({"STUDBAY_PRIVATE_NETWORKS": "10.0.0.8/8"}, "STUDBAY_PRIVATE_NETWORKS: must be networks"),
        ({"STUDBAY_SECURITY_CONTACT": "us"}, "STUDBAY_SECURITY_CONTACT: must be addresses such as"),
        ({"STUDBAY_S3_REGION": "ca-central-1"}, "STUDBAY_S3_BUCKET: is required when STUDBAY_S3_R"),
        ({"STUDBAY_S3_ACCESS_KEY": "a"}, "STUDBAY_S3_SECRET_KEY: is required when STUDBAY_S3_ACC"),
        ({"STUDBAY_S3_ENDPOINT": "store:1"}, "STUDBAY_S3_ENDPOINT: must look like https://"),
    ],
)
def test_a_fault_is_one_line_with_its_name(given: dict[str, str], line: str) -> None:
    with pytest.raises(ImproperlyConfigured) as refusal:
        read_environment(given)
    lines = str(refusal.value).splitlines()
    assert any(found.startswith(line) for found in lines), lines


def test_all_faults_come_at_once() -> None:
    with pytest.raises(ImproperlyConfigured) as refusal:
        read_environment({"STUDBAY_FRIDGE": "1", "DEBUG": "2x", "REDIS_URL": "x"})
    assert len(str(refusal.value).splitlines()) == 3


@pytest.mark.parametrize(
    ("query", "milliseconds"), [("", 10_000), ("?tcp_user_timeout=2500", 2500)]
)
def test_a_cut_wire_to_the_database_is_given_up(tmp_path, query: str, milliseconds: int) -> None:
    told = "from config.settings import DATABASES; print(DATABASES['default']['OPTIONS'])"
    given = CLUSTER | {"DATABASE_URL": CLUSTER["DATABASE_URL"] + query}
    run = subprocess.run(
        [sys.executable, "-c", told],
        env=os.environ | given | {"STUDBAY_VAR": str(tmp_path)},
        capture_output=True,
        text=True,
        check=True,
    )
    options = ast.literal_eval(run.stdout)
    assert int(options["tcp_user_timeout"]) == milliseconds
    assert options["connect_timeout"] == 5
    assert {"keepalives_idle", "keepalives_interval", "keepalives_count"} < set(options)
