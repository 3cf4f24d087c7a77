"""What stands on a plan as small signs, so thin that labels and rings stand out from them."""

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.house.power import Appliance, Panel

PALE = HexColor("#5d6675")
R = 2.3
"""Points, half the width of a sign."""
Node = Box | Panel | Appliance
"""What a plan shows at a place."""
SWITCHES = (DeviceKind.SWITCH, DeviceKind.DIMMER, DeviceKind.FAN_CONTROL)


def draw_symbol(canvas: Canvas, node: Node, at: tuple[float, float]) -> None:
    """A box by its first device, a panel, or an appliance, round its place."""
    canvas.saveState()
    canvas.translate(*at)
    canvas.setStrokeColor(PALE)
    canvas.setFillColor(PALE)
    canvas.setLineWidth(0.5)
    if isinstance(node, Panel):
        canvas.rect(-2 * R, -R, 4 * R, 2 * R, fill=1)
    elif isinstance(node, Appliance):
        canvas.rect(-R, -R, 2 * R, 2 * R)
    else:
        _box(canvas, node)
    canvas.restoreState()


def _box(canvas: Canvas, box: Box) -> None:
    kind = None
    if box.devices:
        kind = box.devices[0].kind
    if kind is DeviceKind.RECEPTACLE:
        canvas.circle(0, 0, R)
        canvas.line(-0.8, -R, -0.8, R)
        canvas.line(0.8, -R, 0.8, R)
    elif kind in SWITCHES:
        canvas.circle(0, 0, R * 0.6, fill=1)
        canvas.line(0, 0, R * 1.5, R * 1.5)
    elif kind is DeviceKind.LUMINAIRE:
        canvas.circle(0, 0, R)
        canvas.line(-1.6, -1.6, 1.6, 1.6)
        canvas.line(-1.6, 1.6, 1.6, -1.6)
    else:
        canvas.circle(0, 0, R)
