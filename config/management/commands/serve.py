"""Serve Studbay on this machine: broker, site, and a worker with its beat."""

import fcntl
import socket
import sys
import time
from functools import partial
from pathlib import Path
from subprocess import Popen
from typing import TextIO

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from config.broker import broker_command, wait_for_broker
from config.file_modes import private_folder, tighten
from config.supervisor import Child, Supervisor
from config.var import broker_socket

CELERY = [sys.executable, "-W", "ignore", "-m", "celery", "-A", "config"]
QUIET = ["--without-mingle", "--without-gossip", "--loglevel", "warning"]


class Command(BaseCommand):
    """Embedded mode in the foreground, until Ctrl-C."""

    help = "Run the site, a worker and beat, with the bundled broker unless REDIS_URL is set."

    def handle(self, *args: str, **options: str) -> None:
        address = settings.ENVIRONMENT.studbay_listen
        lock = self._lock(settings.VAR / "serve.lock")
        self._refuse_taken(address)
        tighten(settings.VAR)
        children = [self._web(address), self._worker(), self._messenger()]
        if not settings.ENVIRONMENT.redis_url:
            children.insert(0, self._broker())
        Supervisor(children, self.stderr.write).run(partial(self._ready, address))
        lock.close()

    def _lock(self, path: Path) -> TextIO:
        lock = path.open("w")
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise CommandError(
                f"Studbay is running already on {settings.VAR}; stop it, "
                "or set STUDBAY_VAR and STUDBAY_LISTEN for a second one"
            ) from None
        return lock

    def _refuse_taken(self, address: str) -> None:
        host, _, port = address.rpartition(":")
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, int(port)))
            except OSError as error:
                raise CommandError(
                    f"{address} cannot be used ({str(error.strerror).lower()}); "
                    "set STUDBAY_LISTEN to another address"
                ) from None

    def _broker(self) -> Child:
        path, folder = broker_socket(settings.VAR), settings.VAR / "broker"
        private_folder(folder)
        return Child("broker", broker_command(path, folder), partial(wait_for_broker, path))

    def _web(self, address: str) -> Child:
        command = [sys.executable, "-m", "config.web", address]
        return Child("web", command, partial(_answers, address))

    def _worker(self) -> Child:
        schedule = str(settings.VAR / "beat-schedule")
        command = [*CELERY, "worker", "--beat", "--schedule", schedule, "--hostname", "worker@%h"]
        command += ["--queues", "celery,ordinary,bulk", "--concurrency", "1", "--pool", "solo"]
        return Child("worker", command + QUIET, quiet=True)

    def _messenger(self) -> Child:
        """What is urgent: a thread for each channel, so that a slow one holds up no other."""
        command = [*CELERY, "worker", "--hostname", "messenger@%h", "--queues", "urgent"]
        command += ["--concurrency", "4", "--pool", "threads"]
        return Child("messenger", command + QUIET, quiet=True)

    def _ready(self, address: str) -> None:
        self.stdout.write(f"Studbay is at http://{address}/ (Ctrl-C stops it)")


def _answers(address: str, process: Popen[bytes]) -> None:
    """Return once something listens, or the process has ended."""
    host, _, port = address.rpartition(":")
    until = time.monotonic() + 20
    while time.monotonic() < until and process.poll() is None:
        try:
            socket.create_connection((host, int(port)), 1).close()
            return
        except OSError:
            time.sleep(0.05)
