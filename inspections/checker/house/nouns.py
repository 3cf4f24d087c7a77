"""What the parts of a house are called in sentences, one of them and several."""

from collections.abc import Mapping
from enum import Enum

from config.messages.message import Message, Text, message

from .boxes import DeviceKind
from .cables import HeatSource, Member
from .fixtures import FixtureKind
from .rooms import CounterKind, InterruptionKind, OpeningKind, RoomKind
from .service import ApplianceKind, Electrode

OTHERWISE: Mapping[type[Enum], Mapping[str, str]] = {
    DeviceKind: {
        DeviceKind.LUMINAIRE: "light",
        DeviceKind.CO_ALARM: "CO alarm",
        DeviceKind.COMBINED_ALARM: "smoke and CO alarm",
        DeviceKind.DATA: "data outlet",
        DeviceKind.COAX: "coax outlet",
        DeviceKind.PHONE: "phone outlet",
    },
    FixtureKind: {
        FixtureKind.BASIN: "sink",
        FixtureKind.DOOR_OPENER: "door opener",
    },
    ApplianceKind: {
        ApplianceKind.DISPOSER: "disposer",
        ApplianceKind.VEHICLE_CHARGING: "vehicle charger",
        ApplianceKind.SPACE_HEATING: "electric heating",
        ApplianceKind.COOLING: "air conditioner",
        ApplianceKind.OTHER: "appliance",
    },
    Electrode: {
        Electrode.ROD: "ground rod",
        Electrode.PLATE: "plate electrode",
        Electrode.CONCRETE_ENCASED: "concrete-encased electrode",
        Electrode.WATER_PIPE: "metal water pipe",
    },
    HeatSource: {
        HeatSource.CLEANOUT: "cleanout",
    },
    RoomKind: {
        RoomKind.LIVING: "living room",
        RoomKind.FAMILY: "family room",
        RoomKind.DINING: "dining room",
        RoomKind.RECREATION: "recreation room",
    },
}
"""Where the trade's word is another than that of the house file."""
NAMED = (
    DeviceKind,
    FixtureKind,
    ApplianceKind,
    Electrode,
    HeatSource,
    Member,
    OpeningKind,
    InterruptionKind,
    CounterKind,
    RoomKind,
)


def _kind_id(kind: type[Enum], value: Enum) -> str:
    group = kind.__name__.removesuffix("Kind").lower()
    return f"noun.{group}.{str(value.value).replace('_', '-')}"


def _registered() -> dict[tuple[type[Enum], Enum], Message]:
    """By kind and value, since values of two kinds may be the same text."""
    nouns: dict[tuple[type[Enum], Enum], Message] = {}
    for kind in NAMED:
        others = OTHERWISE.get(kind, {})
        for value in kind:
            word = others.get(value.value) or str(value.value).replace("_", " ")
            nouns[kind, value] = message(_kind_id(kind, value), word)
    return nouns


_NOUNS = _registered()


def noun(kind: Enum) -> Text:
    """What this kind of thing is called, in lower case and without an article."""
    return _NOUNS[type(kind), kind]()
