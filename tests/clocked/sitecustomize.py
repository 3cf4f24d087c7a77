"""Read by every Python process that a test starts: it keeps the clock of the run."""

import os

import time_machine

if ahead := os.environ.get("TESTS_CLOCK_AHEAD"):
    import time

    time_machine.travel(time.time() + float(ahead)).start()
