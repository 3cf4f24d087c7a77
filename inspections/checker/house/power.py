"""Panels, circuits and appliances: the other nodes of the wiring."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from .parts import Amperes, Count, Id, Name, Part


class PanelKind(StrEnum):
    """Where cables gather: a service or feeder panel, or communications equipment."""

    SERVICE = "service"
    FEEDER = "feeder"
    COMMUNICATIONS = "communications"


class Panel(Part):
    """A panelboard or the enclosure where communication cables meet."""

    id: Id
    room: Id
    kind: PanelKind = PanelKind.SERVICE
    rating_a: Amperes | None = None
    """Rating of its bus or main breaker."""
    spaces: Count | None = None
    """Breaker spaces, counted as single poles."""


class Protection(StrEnum):
    """Protection at the breaker beyond overcurrent."""

    GFCI = "gfci"
    AFCI = "afci"
    DUAL = "dual"


class Circuit(Part):
    """A branch circuit or feeder, by its breaker."""

    id: Id
    panel: Id
    name: Name
    breaker_a: Amperes
    poles: Annotated[int, Field(ge=1, le=3)] = 1
    slots: tuple[Annotated[int, Field(ge=1, le=200)], ...] = ()
    protection: Protection | None = None


class Appliance(Part):
    """Equipment wired straight to a cable: furnace, water heater, range hood."""

    id: Id
    room: Id
    name: Name
    volt_amperes: Annotated[float, Field(ge=0, le=1_000_000)] | None = None
    volts: Annotated[float, Field(gt=0, le=1000)] | None = None
    conditions_air: bool | None = None
    """Whether it heats, cools or refrigerates and needs servicing; missing when nobody said."""
