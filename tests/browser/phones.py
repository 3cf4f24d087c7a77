"""Phones and a site that can be killed: browsers of their own profile, a server of its own."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

from django.db import connection
from playwright.sync_api import Page

from tests.conftest import CHROMIUM
from tests.sure import sure

ROOT = Path(__file__).resolve().parents[2]
FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--window-size=390,844",
    "--remote-debugging-port=0",
)


def killed(process: subprocess.Popen[bytes]) -> None:
    """End a process and all that it started, at once and without a word."""
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()


class Site:
    """The site in a process of its own, on the test's database."""

    def __init__(self) -> None:
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port = free.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start it, and wait until it answers."""
        name = connection.settings_dict["NAME"]
        url = os.environ["DATABASE_URL"].replace("/postgres?", f"/{name}?")
        command = [sys.executable, "-m", "gunicorn", "-b", f"127.0.0.1:{self.port}"]
        command += ["--threads", "4", "--log-level", "warning", "config.wsgi:application"]
        environment = os.environ | {"DATABASE_URL": url}
        self.process = subprocess.Popen(command, cwd=ROOT, env=environment, start_new_session=True)
        until = time.monotonic() + 60
        while True:
            try:
                with urllib.request.urlopen(f"{self.address}/healthy", timeout=2):
                    return
            except OSError:
                assert time.monotonic() < until, "the site does not start"
                time.sleep(0.2)

    def kill(self) -> None:
        """End it with SIGKILL."""
        if self.process is not None:
            killed(self.process)
            self.process = None


class Phone:
    """A browser with a profile that outlives it."""

    def __init__(self, driver, profile: Path) -> None:
        self.driver, self.profile = driver, profile
        self.process: subprocess.Popen[bytes] | None = None
        self.page: Page  # there once the browser has started

    def start(self) -> None:
        """Start the browser."""
        told = self.profile / "DevToolsActivePort"
        told.unlink(missing_ok=True)
        self.process = subprocess.Popen(
            [sure(CHROMIUM), *FLAGS, f"--user-data-dir={self.profile}", "about:blank"],
            start_new_session=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        until = time.monotonic() + 60
        while not told.exists() or not told.read_text():
            assert time.monotonic() < until, "the browser does not start"
            time.sleep(0.1)
        port = told.read_text().splitlines()[0]
        browser = self.driver.chromium.connect_over_cdp(f"http://127.0.0.1:{port}")
        (context,) = browser.contexts
        self.page = context.pages[0] if context.pages else context.new_page()

    def kill(self) -> None:
        """End the browser with SIGKILL."""
        if self.process is not None:
            killed(self.process)
            self.process = None
