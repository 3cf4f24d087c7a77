"""How the minutes of work came about."""

from config.messages.message import message

BOXES = message("work.boxes", "{n} boxes at {rate} min", one="{n} box at {rate} min")
CABLE = message("work.cable", "{length} of cable at {rate} min a metre")
UNMEASURED = message(
    "work.unmeasured",
    "{n} cables, length not recorded yet, at {rate} min",
    one="{n} cable, length not recorded yet, at {rate} min",
)
HOLES = message("work.holes", "{n} holes at {rate} min", one="{n} hole at {rate} min")
PANELS = message("work.panels", "{n} panels at {rate} min", one="{n} panel at {rate} min")
CIRCUITS = message(
    "work.circuits", "{n} circuits landed at {rate} min", one="{n} circuit landed at {rate} min"
)
GROUNDING = message("work.grounding", "grounding {rate} min")
DEFICIENCIES = message(
    "work.deficiencies",
    "{n} deficiencies at {rate} min",
    one="{n} deficiency at {rate} min",
)
NOT_TO_CODE = message(
    "work.not-to-code",
    "{n} items not to code at {rate} min",
    one="{n} item not to code at {rate} min",
)
DEVICES = message("work.devices", "{n} devices at {rate} min", one="{n} device at {rate} min")
LIGHTS = message(
    "work.lights",
    "{n} lights, fans and alarms at {rate} min",
    one="{n} light, fan or alarm at {rate} min",
)
APPLIANCES = message(
    "work.appliances", "{n} appliances at {rate} min", one="{n} appliance at {rate} min"
)
HOOKUP = message("work.hookup", "hookup {rate} min")
TESTED = message(
    "work.tested", "{n} circuits tested at {rate} min", one="{n} circuit tested at {rate} min"
)
WALK = message("work.walk", "walk {rate} min")
SETUP = message("work.setup", "setup and cleanup {rate} min")
TOTAL = message("work.total", "{parts} = {minutes} min")
NOTHING = message("work.nothing", "nothing to do")
BY_OFFICE = message("work.by-office", "{minutes} min, set by the office")
