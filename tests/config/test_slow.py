"""Slow clients hold nobody up: embedded, and by the compose file's own commands behind nginx.

Nine half-sent requests once hung the whole site. `--whole` has 500 of them and 50 slow readers for
a minute (the attack is known as Slowloris; RFC 9112, 9.5 leaves its bounds to servers).
"""

import json
import os
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import yaml

from tests.config import slow
from tests.conftest import NGINX
from tests.servers import free_port
from tests.sure import sure

ROOT = Path(__file__).resolve().parents[2]
MOST_SECONDS = 2


def crowded(port: int, whole: bool) -> dict[str, float]:
    """The crowd as a process of its own, so that it shares nothing with what it asks."""
    given = ("60", "500", "50") if whole else ("5", "50", "5")
    command = [sys.executable, "-m", "tests.config.slow", f"127.0.0.1:{port}", *given]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    told: dict[str, float] = json.loads(done.stdout)
    return told


def awaited(port: int, process: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + 60
    while time.monotonic() < until:
        assert process.poll() is None, "it ended"
        asked = urllib.request.Request(
            f"http://127.0.0.1:{port}/sign-in/", headers={"X-Forwarded-Proto": "https"}
        )
        try:
            with urllib.request.urlopen(asked, timeout=5) as answer:
                assert answer.status == 200
                return
        except OSError:  # nobody listens yet, or it is still starting
            time.sleep(0.2)
    raise AssertionError("it never answered")


def surroundings(var: Path, **given: str) -> dict[str, str]:
    names = ("DATABASE_URL", "REDIS_URL", "STUDBAY_VAR")
    kept = {name: value for name, value in os.environ.items() if name not in names}
    return kept | {"STUDBAY_VAR": str(var)} | given


@pytest.fixture
def embedded(tmp_path) -> Iterator[int]:
    """The web process of embedded mode, on a database of its own."""
    port = free_port()
    environment = surroundings(tmp_path, STUDBAY_LISTEN=f"127.0.0.1:{port}")
    migrate = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
    subprocess.run(migrate, cwd=ROOT, env=environment, check=True)
    command = [sys.executable, "-m", "config.web", f"127.0.0.1:{port}"]
    with subprocess.Popen(command, cwd=ROOT, env=environment) as process:
        try:
            awaited(port, process)
            yield port
        finally:
            process.terminate()


@pytest.mark.any_database
def test_embedded_mode_serves_others_meanwhile(embedded, whole) -> None:
    told = crowded(embedded, whole)
    print(f"embedded: {told}")
    assert told["asked"] > 10
    assert max(told["slowest_healthy"], told["slowest_page"]) <= MOST_SECONDS


def front_conf(folder: Path, front: int, web: int) -> str:
    """The committed configuration, on loopback and in a folder of its own."""
    text = (ROOT / "deploy" / "nginx.conf").read_text()
    for was, now in (
        ("server web:8000;", f"server 127.0.0.1:{web};"),
        ("listen 8000;", f"listen 127.0.0.1:{front};"),
        ("/tmp/", f"{folder}/"),
    ):
        assert was in text
        text = text.replace(was, now)
    return text


@pytest.fixture
def composed() -> Iterator[int]:
    """The compose file's command for the site, and its front as somebody who is not root."""
    web, front = free_port(), free_port()
    compose = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
    command = compose["services"]["web"]["command"]
    assert command[command.index("--bind") + 1] == "0.0.0.0:8000"
    command[command.index("--bind") + 1] = f"127.0.0.1:{web}"
    with TemporaryDirectory(prefix="studbay-front-") as name:
        folder = Path(name)
        given = {"SECRET_KEY": "of-tests-" * 8, "ALLOWED_HOSTS": "localhost,127.0.0.1"}
        given |= {"STUDBAY_PLAIN_NETWORK": "yes"}
        given |= {name: os.environ[name] for name in ("DATABASE_URL", "REDIS_URL")}
        environment = surroundings(folder / "var", **given)
        conf = folder / "nginx.conf"
        conf.write_text(front_conf(folder / "front", front, web))
        conf.chmod(0o644)
        (folder / "front").mkdir()
        lower: dict[str, Any] = {}
        if os.geteuid() == 0:
            folder.chmod(0o755)
            shutil.chown(folder / "front", "nobody")
            lower = {"user": "nobody", "group": "nogroup", "extra_groups": []}
        nginx = [sure(NGINX), "-c", str(conf), "-p", str(folder / "front"), "-g", "daemon off;"]
        nginx += ["-e", str(folder / "front" / "error.log")]
        with (
            subprocess.Popen([sys.executable, "-m", *command], cwd=ROOT, env=environment) as site,
            subprocess.Popen(nginx, **lower) as process,
        ):
            try:
                awaited(front, process)
                yield front
            finally:
                process.terminate()
                site.terminate()


@pytest.mark.postgresql
@pytest.mark.django_db
@pytest.mark.nginx
def test_the_compose_files_front_serves_others_meanwhile(composed, whole) -> None:
    told = crowded(composed, whole)
    print(f"compose: {told}")
    assert max(told["slowest_healthy"], told["slowest_page"]) <= MOST_SECONDS
    body = b"x" * 26_000_000
    asked = urllib.request.Request(f"http://127.0.0.1:{composed}/", body, method="POST")
    with pytest.raises((urllib.error.HTTPError, OSError)) as refused:
        urllib.request.urlopen(asked, timeout=20)
    assert getattr(refused.value, "code", 413) == 413


def test_the_front_of_the_compose_file_reads_the_committed_configuration() -> None:
    compose = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
    front = compose["services"]["front"]
    assert front["volumes"] == ["./deploy/nginx.conf:/etc/nginx/nginx.conf:ro"]
    assert "ports" not in compose["services"]["web"]  # nobody reaches it past the front
    assert slow.LARGE.removeprefix("/static/") in {
        str(path.relative_to(ROOT / "static")) for path in (ROOT / "static").rglob("*.ttf")
    }
