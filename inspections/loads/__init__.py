"""Loads, panel and construction hookup: a house and a rulebook in, figures with working out.

Pure: no framework, no clock, no files.
"""

from .facts import Load, LoadFacts, facts_of
from .service import Check, ServiceLoad, service_load
from .ways import LoadLine, Way, WayRole

TABLES = (
    *("floor-area", "standard-load", "optional-load", "manufactured-load", "service-load"),
    *("quebec-charging", "service", "conductors", "electrode-conductor", "bonding-conductor"),
    *("voltage-drop", "panel", "hookup", "temporary"),
)
"""The tables of a rulebook that this package reads."""

__all__ = [
    "TABLES",
    "Check",
    "Load",
    "LoadFacts",
    "LoadLine",
    "ServiceLoad",
    "Way",
    "WayRole",
    "facts_of",
    "service_load",
]
