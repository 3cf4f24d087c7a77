"""A mail server of moods: `python -m bench.drills.mail PORT FILE`.

It reads its mood from a file beside FILE before each answer: `slow` takes its time before it says
yes, `busy` puts off every recipient, `closing` hangs up.
"""

import asyncio
import sys
from pathlib import Path

from aiosmtpd.smtp import SMTP, Envelope, Session

from tests.notifications.mail_sink import Sink, serve

SLOW = 1.2  # seconds before it says yes


class Moody(Sink):
    """Takes messages on as its mood is."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self._mood = path.with_suffix(".mood")

    @property
    def mood(self) -> str:
        """What it is like now; empty: well."""
        if self._mood.exists():
            return self._mood.read_text().strip()
        return ""

    async def handle_RCPT(  # noqa: N802
        self,
        server: SMTP,
        session: Session,
        envelope: Envelope,
        address: str,
        options: list[str],
    ) -> str:
        """Put the recipient off, hang up, or do as any server does."""
        if self.mood == "busy":
            return "451 4.3.2 too busy"
        if self.mood == "closing":
            return "421 4.3.2 closing"
        return await super().handle_RCPT(server, session, envelope, address, options)

    async def handle_DATA(  # noqa: N802
        self, server: SMTP, session: Session, envelope: Envelope
    ) -> str:
        """Take the message on, after a while when slow."""
        if self.mood == "slow":
            await asyncio.sleep(SLOW)
        return await super().handle_DATA(server, session, envelope)


if __name__ == "__main__":
    asyncio.run(serve(int(sys.argv[1]), Moody(Path(sys.argv[2]))))
