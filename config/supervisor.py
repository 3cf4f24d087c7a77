"""One parent for the processes of embedded mode: started in order, restarted, stopped by id."""

import signal
import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

CALM = 30  # seconds of running after which a fall counts as the first again
LONGEST_WAIT = 10  # seconds before a child that keeps falling is started again
STOP_WITHIN = 15  # seconds that a child has to end before it is killed


@dataclass
class Child:
    """A process to keep alive."""

    name: str
    command: Sequence[str]
    ready: Callable[[subprocess.Popen[bytes]], None] | None = None
    """Called after a start; returns when the child answers."""
    quiet: bool = False
    """Keep what it says on standard output to itself; errors are heard all the same."""
    process: subprocess.Popen[bytes] | None = None
    falls: int = 0
    started: float = 0.0
    again_at: float = field(default=0.0, repr=False)

    def start(self) -> None:
        """Start it, out of reach of the terminal's own Ctrl-C."""
        out = None
        if self.quiet:
            out = subprocess.DEVNULL
        self.process = subprocess.Popen(self.command, stdout=out, start_new_session=True)
        self.started = time.monotonic()
        if self.ready is not None:
            self.ready(self.process)

    def fell(self) -> bool:
        """Whether it ended by itself; then when to start it again is set."""
        if self.process is None or self.process.poll() is None:
            return False
        now = time.monotonic()
        if now - self.started > CALM:
            self.falls = 1
        else:
            self.falls = self.falls + 1
        self.again_at = now + min(LONGEST_WAIT, 0.25 * 2**self.falls)
        self.process = None
        return True

    def stop(self) -> None:
        """End it, by force if it does not follow."""
        if self.process is None or self.process.poll() is not None:
            return
        self.process.terminate()
        try:
            self.process.wait(STOP_WITHIN)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


class Supervisor:
    """Keeps children running until told to stop."""

    def __init__(self, children: Sequence[Child], say: Callable[[str], None]) -> None:
        self.children = children
        self.say = say
        self.stopping = False

    def run(self, when_ready: Callable[[], None]) -> None:
        """Start all, then watch until SIGINT or SIGTERM; then stop all, the last first."""
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, self._asked_to_stop)
        try:
            for child in self.children:
                if not self.stopping:
                    child.start()
            when_ready()
            while not self.stopping:
                self._watch()
                time.sleep(0.2)
        finally:
            for child in reversed(self.children):
                child.stop()

    def _watch(self) -> None:
        for child in self.children:
            if child.fell():
                self.say(f"{child.name} ended by itself; starting it again")
            if child.process is None and time.monotonic() >= child.again_at:
                child.start()

    def _asked_to_stop(self, *_: object) -> None:
        self.stopping = True
