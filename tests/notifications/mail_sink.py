"""A real mail server for tests: `python -m tests.notifications.mail_sink PORT FILE`.

It adds a line with the Message-ID to the file before it says yes, as a server that has taken a
message on would. It refuses recipients whose name begins with `gone`, and is busy for `later`.
"""

import asyncio
import email
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from smtplib import SMTP

from aiosmtpd import smtp

ROOT = Path(__file__).resolve().parents[2]
MODULE = "tests.notifications.mail_sink"


class Sink:
    """Keeps the Message-ID of each message, or the whole of it."""

    def __init__(self, path: Path) -> None:
        self._file = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT)

    async def handle_RCPT(  # noqa: N802
        self,
        server: smtp.SMTP,
        session: smtp.Session,
        envelope: smtp.Envelope,
        address: str,
        options: list[str],
    ) -> str:
        """Refuse as real servers do."""
        if address.startswith("gone"):
            return "550 5.1.1 no such mailbox"
        if address.startswith("later"):
            return "451 4.3.0 try again later"
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(  # noqa: N802
        self, server: smtp.SMTP, session: smtp.Session, envelope: smtp.Envelope
    ) -> str:
        """Take the message on."""
        assert isinstance(envelope.content, bytes)
        header = email.message_from_bytes(envelope.content)["Message-ID"]
        os.write(self._file, f"{header} {envelope.rcpt_tos[0]}\n".encode())
        return "250 taken on"


async def serve(port: int, sink: Sink) -> None:
    """Listen until killed."""
    loop = asyncio.get_running_loop()
    server = await loop.create_server(lambda: smtp.SMTP(sink, ident="sink"), "127.0.0.1", port)
    async with server:
        await server.serve_forever()


def start(port: int, path: Path, module: str = MODULE) -> subprocess.Popen[bytes]:
    """The server of a module in a process of its own, answering."""
    command = [sys.executable, "-m", module, str(port), str(path)]
    process = subprocess.Popen(command, cwd=ROOT)
    for _ in range(200):
        try:
            with SMTP("127.0.0.1", port, timeout=5):
                return process
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("the mail sink does not answer")


@contextmanager
def mail_sink(port: int, path: Path) -> Iterator[None]:
    """The server for as long as the block runs."""
    process = start(port, path)
    try:
        yield
    finally:
        process.kill()
        process.wait()


if __name__ == "__main__":
    asyncio.run(serve(int(sys.argv[1]), Sink(Path(sys.argv[2]))))
