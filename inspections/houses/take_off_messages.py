"""What a house takes of boxes, cable, devices and breakers, and what of it to bring."""

from collections.abc import Mapping

from config.messages.message import Message, Value, message

GANGS = message("stuff.gangs", "{n}-gang")
NO_VOLUME = message("stuff.no-volume", "volume not recorded yet")
CEILING = message("stuff.ceiling", "ceiling")
WAYS = message("stuff.ways", "{n}-way {kind}")
DUAL = message("stuff.dual-function", "dual-function")
PLATE = message("stuff.plate", "{n}-gang plate")
BREAKER = message("stuff.breaker", "{rating}, {n}-pole")
BREAKER_PROTECTED = message("stuff.breaker-protected", "{rating}, {n}-pole, {protection}")

BRING_BOXES = message("bring.boxes", "{n} boxes: {what}", one="{n} box: {what}")
BRING_CABLE = message("bring.cable", "{length} of {cable}")
BRING_UNMEASURED = message(
    "bring.unmeasured",
    "{cable} for {n} runs, length not recorded yet",
    one="{cable} for {n} run, length not recorded yet",
)
BRING_BRACES = message("bring.braces", "{n} braces", one="{n} brace")
BRING_COUNTED = message("bring.counted", "{n} × {what}")
BRING_CONNECTION = message("bring.connection", "connection for {appliance}")
BRING_BREAKERS = message("bring.breakers", "{n} breakers: {what}", one="{n} breaker: {what}")

_MATERIALS: Mapping[str, Message] = {
    "nonmetallic": message("stuff.material.nonmetallic", "nonmetallic"),
    "metal": message("stuff.material.metal", "metal"),
}
_KINDS: Mapping[str, Message] = {
    "receptacle": message("stuff.device.receptacle", "receptacle"),
    "switch": message("stuff.device.switch", "switch"),
    "dimmer": message("stuff.device.dimmer", "dimmer"),
    "fan_control": message("stuff.device.fan-control", "fan control"),
    "luminaire": message("stuff.device.luminaire", "light"),
    "ceiling_fan": message("stuff.device.ceiling-fan", "ceiling fan"),
    "exhaust_fan": message("stuff.device.exhaust-fan", "exhaust fan"),
    "smoke_alarm": message("stuff.device.smoke-alarm", "smoke alarm"),
    "co_alarm": message("stuff.device.co-alarm", "CO alarm"),
    "combined_alarm": message("stuff.device.combined-alarm", "smoke and CO alarm"),
    "thermostat": message("stuff.device.thermostat", "thermostat"),
    "disconnect": message("stuff.device.disconnect", "disconnect"),
    "data": message("stuff.device.data", "data jack"),
    "coax": message("stuff.device.coax", "coax jack"),
    "phone": message("stuff.device.phone", "phone jack"),
    "chime": message("stuff.device.chime", "chime"),
}
_CABLES: Mapping[str, Message] = {
    "data": message("stuff.cable.data", "data cable"),
    "coax": message("stuff.cable.coax", "coax cable"),
    "phone": message("stuff.cable.phone", "phone cable"),
    "low_voltage": message("stuff.cable.low-voltage", "low-voltage cable"),
}


def material_name(material: str) -> Value:
    """What a box is made of; what is not known here as it was recorded."""
    return _named(_MATERIALS, material)


def device_name(kind: str) -> Value:
    """A device by its kind."""
    return _named(_KINDS, kind)


def cable_name(kind: str) -> Value:
    """A cable by its kind: power cables by their type letters."""
    if kind in _CABLES:
        return _CABLES[kind]()
    return kind.upper()


def _named(names: Mapping[str, Message], kind: str) -> Value:
    if kind in names:
        return names[kind]()
    return kind.replace("_", " ")
