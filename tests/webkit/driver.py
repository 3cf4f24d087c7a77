"""A phone of WebKitGTK, led by its driver: the few words of W3C WebDriver that a walk needs."""

import json
import os
import shutil
import socket
import subprocess
import time
from base64 import b64decode
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

from tests.browser.phones import killed
from tests.sure import sure

BROWSER = Path(__file__).with_name("phone.py")
DRIVER, SCREEN = shutil.which("WebKitWebDriver"), shutil.which("Xvfb")
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""The name that the standard gives to what stands for an element."""
MIDDLE = "async (of) => document.querySelector(of).scrollIntoView({ block: 'center' })"
PATIENCE = 60
"""Seconds that something is waited for: a busy machine takes its time."""


class Screen:
    """A display in memory, which chooses its own number."""

    def __init__(self) -> None:
        read, write = os.pipe()
        command = [sure(SCREEN), "-displayfd", str(write), "-screen", "0", "500x900x24"]
        command += ["-nolisten", "tcp"]
        quiet = subprocess.DEVNULL
        self.process = subprocess.Popen(
            command, pass_fds=[write], stdout=quiet, stderr=quiet, start_new_session=True
        )
        os.close(write)
        with os.fdopen(read) as said:
            self.name = f":{said.readline().strip()}"

    def end(self) -> None:
        """Take it away."""
        killed(self.process)


class Phone:
    """A browser with a profile that outlives it."""

    def __init__(self, screen: Screen, profile: Path) -> None:
        self._environment = os.environ | {"DISPLAY": screen.name, "PHONE_PROFILE": str(profile)}
        self._environment |= {"XDG_RUNTIME_DIR": str(profile), "HOME": str(profile)}
        profile.mkdir(mode=0o700)
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start the driver, and by it the browser."""
        with socket.create_server(("127.0.0.1", 0)) as free:
            port = free.getsockname()[1]
        command = [sure(DRIVER), f"--port={port}"]
        quiet = subprocess.DEVNULL
        self._process = subprocess.Popen(
            command, env=self._environment, stdout=quiet, stderr=quiet, start_new_session=True
        )
        self._session = f"http://127.0.0.1:{port}"
        until = time.monotonic() + PATIENCE
        while True:
            try:
                self.ask("GET", "/status")
                break
            except OSError:
                assert time.monotonic() < until, "the driver does not start"
                time.sleep(0.1)
        options = {"webkitgtk:browserOptions": {"binary": str(BROWSER), "args": []}}
        made = self.ask("POST", "/session", {"capabilities": {"alwaysMatch": options}})
        self._session += f"/session/{made['sessionId']}"

    def kill(self) -> None:
        """End the browser with SIGKILL, and whatever it started."""
        if self._process is not None:
            killed(self._process)
            self._process = None

    def ask(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        """One call of the driver. Raises OSError with its words when it says no."""
        data = None
        if method == "POST":
            data = json.dumps(body or {}).encode()
        asked = Request(self._session + path, data, {"Content-Type": "application/json"})
        try:
            with urlopen(asked, timeout=2 * PATIENCE) as answer:
                return json.load(answer)["value"]
        except HTTPError as refused:
            raise OSError(f"{path} {body}: {refused.read().decode()}") from None

    def goto(self, address: str) -> None:
        """Open a page."""
        self.ask("POST", "/url", {"url": address})

    def run(self, script: str, *given: object) -> Any:
        """What a function of the page gives; it may promise it."""
        waits = (
            "const done = arguments[arguments.length - 1];"
            f"({script})(...[...arguments].slice(0, -1))"
            ".then((given) => done([given]), (fault) => done(String(fault)));"
        )
        found = self.ask("POST", "/execute/async", {"script": waits, "args": list(given)})
        assert isinstance(found, list), found
        return found[0]

    def until(self, script: str, *given: object) -> Any:
        """What a function of the page gives once that is true."""
        ends = time.monotonic() + PATIENCE
        while True:
            if found := self.run(script, *given):
                return found
            assert time.monotonic() < ends, (script, given, self.text("main"))
            time.sleep(0.1)

    def element(self, selector: str) -> str:
        """The element, as the driver names it."""
        given = {"using": "css selector", "value": selector}
        found: str = self.ask("POST", "/element", given)[ELEMENT]
        return f"/element/{found}"

    def tap(self, selector: str) -> None:
        """A tap in the middle of it, scrolled away from the bars above and below."""
        self.run(MIDDLE, selector)
        self.ask("POST", f"{self.element(selector)}/click")

    def type(self, selector: str, text: str) -> None:
        """Type into a field; into one for files, their path."""
        self.ask("POST", f"{self.element(selector)}/value", {"text": text})

    def text(self, selector: str) -> str:
        """What can be read in it."""
        found: str = self.ask("GET", f"{self.element(selector)}/text")
        return found

    def picture(self, path: Path) -> None:
        """Keep what the screen shows."""
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b64decode(self.ask("GET", "/screenshot")))
