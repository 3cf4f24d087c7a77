"""What a browser says of itself, in words that its owner knows it by."""

from typing import NamedTuple

from ua_parser import parse


class BrowserDevice(NamedTuple):
    """A browser and the system that it runs on; empty where it does not say."""

    browser: str
    system: str


def device_of(agent: str) -> BrowserDevice:
    """The device by the header User-Agent (RFC 9110, 10.1.5)."""
    found = parse(agent)
    browser = ""
    if found.user_agent is not None:
        browser = found.user_agent.family
    system = ""
    if found.os is not None:
        system = found.os.family
    return BrowserDevice(browser, system)
