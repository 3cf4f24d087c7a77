"""The supervisor: a child that ends is started again, and all end together."""

import os
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import psutil
import pytest

from config.broker import broker_answers, bundled_broker
from config.var import broker_socket, secret_key
from tests.servers import free_port

ROOT = Path(__file__).resolve().parents[2]


def wait_for(true, seconds: float = 40):
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if found := true():
            return found
        time.sleep(0.1)
    raise AssertionError("it did not come true in time")


def answers(address: str) -> bool:
    try:
        with urllib.request.urlopen(f"http://{address}/healthy", timeout=2) as page:
            return bool(page.read() == b"ok")
    except OSError:
        return False


@pytest.fixture
def served(tmp_path):
    address = f"127.0.0.1:{free_port()}"
    environment = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
    environment |= {"STUDBAY_VAR": str(tmp_path), "STUDBAY_LISTEN": address}
    process = subprocess.Popen(
        [sys.executable, "manage.py", "serve"], cwd=ROOT, env=environment, stderr=subprocess.PIPE
    )
    yield process, address, environment
    if process.poll() is None:
        process.terminate()
        process.wait(40)


def test_serve_starts_restarts_refuses_a_second_and_stops_all(served, tmp_path) -> None:
    process, address, environment = served
    wait_for(lambda: answers(address))
    supervisor = psutil.Process(process.pid)
    wait_for(lambda: len(supervisor.children()) == 4)
    children = {child.pid for child in supervisor.children()}

    second = subprocess.run(
        [sys.executable, "manage.py", "serve"],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert second.returncode == 1
    assert "running already" in second.stderr

    (web,) = [pid for pid in children if "config.web" in " ".join(psutil.Process(pid).cmdline())]
    os.kill(web, signal.SIGKILL)
    wait_for(lambda: not psutil.pid_exists(web) and answers(address))

    everything = supervisor.children(recursive=True)
    process.send_signal(signal.SIGTERM)
    assert process.wait(40) == 0
    _, alive = psutil.wait_procs(everything, 10)
    assert alive == []
    assert not broker_answers(broker_socket(tmp_path))


def test_the_bundled_broker_lasts_as_long_as_its_block(tmp_path) -> None:
    path = broker_socket(tmp_path)
    with bundled_broker(path, tmp_path):
        assert broker_answers(path)
    assert not broker_answers(path)


def test_a_deep_folder_puts_the_socket_where_its_path_fits(tmp_path) -> None:
    deep = tmp_path / ("d" * 60) / ("e" * 60)
    deep.mkdir(parents=True)
    assert len(str(broker_socket(deep))) < 100
    assert broker_socket(tmp_path).parent == tmp_path


def test_the_key_of_a_machine_is_made_once_and_is_its_owners_alone(tmp_path) -> None:
    key = secret_key(tmp_path)
    assert len(key) > 50
    assert secret_key(tmp_path) == key
    assert (tmp_path / "secret_key").stat().st_mode & 0o077 == 0
