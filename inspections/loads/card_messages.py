"""What a panel's card calls the devices that a breaker turns off."""

from config.messages.message import message
from inspections.checker.house.boxes import DeviceKind

WORDS = {
    DeviceKind.RECEPTACLE: message("card.receptacles", "Receptacles"),
    DeviceKind.LUMINAIRE: message("card.lights", "Lights"),
    DeviceKind.CEILING_FAN: message("card.ceiling-fan", "Ceiling fan"),
    DeviceKind.EXHAUST_FAN: message("card.exhaust-fan", "Exhaust fan"),
    DeviceKind.SMOKE_ALARM: message("card.smoke-alarms", "Smoke alarms"),
    DeviceKind.CO_ALARM: message("card.co-alarms", "CO alarms"),
    DeviceKind.COMBINED_ALARM: message("card.combined-alarms", "Smoke and CO alarms"),
    DeviceKind.DISCONNECT: message("card.disconnect", "Disconnect"),
    DeviceKind.CHIME: message("card.chime", "Chime"),
}
"""Devices that a card names; switches and dimmers go with what they turn on."""
APPLIANCE_IN = message("card.appliance-in", "{appliance} ({room})")
DEVICES_IN = message("card.devices-in", "{what}: {rooms}")
