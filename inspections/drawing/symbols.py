"""The symbols of electrical plans (ANSI Y32.9, IEC 60617), each drawn round its own middle.

From memory, no source: circle with two strokes for a receptacle, S for a switch with its ways
beneath, circle with rays for a luminaire, triangle for communications, J for a junction.
"""

from xml.etree import ElementTree as Tree

from inspections.checker.house.boxes import Box, Device, DeviceKind

R = 110.0  # mm on the plan, half the width of a symbol

LETTERS = {
    DeviceKind.SMOKE_ALARM: "SA",
    DeviceKind.CO_ALARM: "CO",
    DeviceKind.COMBINED_ALARM: "SC",
    DeviceKind.THERMOSTAT: "T",
    DeviceKind.CHIME: "CH",
    DeviceKind.CEILING_FAN: "F",
    DeviceKind.EXHAUST_FAN: "EF",
    DeviceKind.DISCONNECT: "DS",
}
SWITCHES = {DeviceKind.SWITCH: "S", DeviceKind.DIMMER: "SD", DeviceKind.FAN_CONTROL: "SF"}
COMMUNICATIONS = {DeviceKind.DATA: "D", DeviceKind.COAX: "TV", DeviceKind.PHONE: "P"}


def draw_box(parent: Tree.Element, box: Box) -> None:
    """The symbol of what a box holds; a junction box when it holds nothing."""
    if not box.devices:
        _ring(parent)
        _letters(parent, "J")
    elif len({device.kind for device in box.devices} & set(SWITCHES)) and len(box.devices) > 1:
        _switches(parent, box)
    else:
        _device(parent, box.devices[0])
        if len(box.devices) > 1:
            _count(parent, len(box.devices))


def draw_panel(parent: Tree.Element) -> None:
    """A panelboard: a filled rectangle."""
    given = {"x": f"{-1.6 * R:g}", "y": f"{-0.6 * R:g}", "width": f"{3.2 * R:g}"}
    Tree.SubElement(parent, "rect", given | {"height": f"{1.2 * R:g}", "class": "filled"})


def draw_appliance(parent: Tree.Element) -> None:
    """Equipment wired in: a circle in a square."""
    given = {"x": f"{-R:g}", "y": f"{-R:g}", "width": f"{2 * R:g}", "height": f"{2 * R:g}"}
    Tree.SubElement(parent, "rect", given)
    _ring(parent, 0.6)


def _device(parent: Tree.Element, device: Device) -> None:
    if device.kind is DeviceKind.RECEPTACLE:
        _ring(parent)
        if device.poles > 1:
            strokes = (-0.3, 0.0, 0.3)
        else:
            strokes = (-0.25, 0.25)
        for x in strokes:
            _line(parent, x, -1.4, x, 1.4)
    elif device.kind in SWITCHES:
        ways = ""
        if device.ways > 2:
            ways = str(device.ways)
        _letters(parent, SWITCHES[device.kind], below=ways)
    elif device.kind is DeviceKind.LUMINAIRE:
        _ring(parent, 0.8)
        for x, y in ((0.57, 0.57), (0.57, -0.57)):
            _line(parent, -2 * x, -2 * y, -x, -y)
            _line(parent, x, y, 2 * x, 2 * y)
    elif device.kind in COMMUNICATIONS:
        points = f"0,{-R:g} {R:g},{0.8 * R:g} {-R:g},{0.8 * R:g}"
        Tree.SubElement(parent, "polygon", {"points": points})
        _letters(parent, COMMUNICATIONS[device.kind], size=0.8, drop=0.55)
    else:
        _ring(parent)
        _letters(parent, LETTERS[device.kind], size=1.0)


def _switches(parent: Tree.Element, box: Box) -> None:
    names = []
    for device in box.devices:
        names.append(SWITCHES.get(device.kind, "R"))
    ways = []
    for device in box.devices:
        ways.append(str(device.ways) if device.ways > 2 else "")
    letters = []
    for n, w in zip(names, ways, strict=True):
        letters.append(n + w)
    _letters(parent, "".join(letters), size=1.2)


def _ring(parent: Tree.Element, part: float = 1.0) -> None:
    Tree.SubElement(parent, "circle", {"r": f"{part * R:g}"})


def _line(parent: Tree.Element, x1: float, y1: float, x2: float, y2: float) -> None:
    ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
    attributes = {}
    for name, value in ends.items():
        attributes[name] = f"{value * R:g}"
    Tree.SubElement(parent, "line", attributes)


def _letters(
    parent: Tree.Element, text: str, *, below: str = "", size: float = 1.7, drop: float = 0.5
) -> None:
    given = {"text-anchor": "middle", "y": f"{drop * R:g}", "font-size": f"{size * R:g}"}
    Tree.SubElement(parent, "text", given).text = text
    if below:
        given = {"x": f"{0.75 * R:g}", "y": f"{1.2 * R:g}", "font-size": f"{R:g}"}
        Tree.SubElement(parent, "text", given).text = below


def _count(parent: Tree.Element, count: int) -> None:
    given = {"x": f"{1.3 * R:g}", "y": f"{-0.6 * R:g}", "font-size": f"{R:g}"}
    Tree.SubElement(parent, "text", given).text = f"×{count}"
