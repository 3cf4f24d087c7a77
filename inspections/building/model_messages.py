"""What reading a building model says: of what could not be read, and why a model is refused."""

from config.messages.message import message

# Of single elements of a model.
ELEMENT = message("model.element", "{element}: {why}")
NO_UNIT = message("model.no-unit", "$INSUNITS: the drawing names no unit. Millimetres are assumed.")
TOO_SMALL = message("model.too-small", "closed, but too small for a room")
NO_USE_OF = message(
    "model.no-use-of", "“{words}” does not say what the room is used for. Taken as a den."
)
NO_USE = message("model.no-use", "nothing says what the room is used for. Taken as a den.")
NOT_DRAWN = message("model.not-drawn", "{kind}: {n} not drawn underneath")
NO_STOREY = message("model.no-storey", "is on no storey")
NO_SHAPE = message("model.no-shape", "has no shape that can be read")
NO_POLYGON = message("model.no-polygon", "its floor is not a plain polygon")
NO_PLACE = message("model.no-place", "has no position that can be read")
NO_WALL = message("model.no-wall", "no wall of a room is where it is")
NO_OUTLET = message("model.no-outlet", "is not an outlet of a house file")
NO_ROOM = message("model.no-room", "is in no room")
MORE = message("model.more", "and {n} more")

# Why a model is refused, each with the name of its file.
REFUSED = message("model.refused", "{file}: {why}")
NOT_A_MODEL = message(
    "model.not-a-model", "This is not a building model. Send an .ifc or a .dxf file."
)
NO_ROOMS = message("model.no-rooms", "No room could be read. {faults}")
HAS_NONE = message("model.has-none", "The model has none.")
TOO_LARGE = message(
    "model.too-large", "The file is over {most} bytes. Send a part of the building."
)
NOT_IFC = message("model.not-ifc", "The file does not begin as an IFC file does. Export it again.")
CUT_OFF = message("model.cut-off", "The file was cut off. Send it again.")
NOT_DXF = message("model.not-dxf", "The file does not begin as a DXF file does. Export it again.")
TOO_LONG = message(
    "model.too-long",
    "Reading it took longer than {n} seconds. Send a part of the building.",
    one="Reading it took longer than {n} second. Send a part of the building.",
)
BROKEN = message(
    "model.broken",
    "The file cannot be read: it is damaged or too large. Export it again, or a part "
    "of the building.",
)
NOT_INSTALLED = message(
    "model.not-installed",
    "{library} is not installed on the server. To read {form} files, install what "
    "requirements-models.txt names.",
)
FAULT = message("model.fault", "The file cannot be read: {fault}")
