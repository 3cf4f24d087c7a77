"""What in a house file points to nothing, is there twice, or does not fit, and what to do.

A fault follows the place in the file that it is about, and goes on from there.
"""

from collections.abc import Mapping

from config.messages.message import Message, message

NO_SUCH: Mapping[str, Message] = {
    "area": message("house-file.no-area", "there is no area {name}"),
    "storey": message("house-file.no-storey", "there is no storey {name}"),
    "room": message("house-file.no-room", "there is no room {name}"),
    "panel": message("house-file.no-panel", "there is no panel {name}"),
    "circuit": message("house-file.no-circuit", "there is no circuit {name}"),
    "cable": message("house-file.no-cable", "there is no cable {name}"),
    "box": message("house-file.no-box", "there is no box {name}"),
    "counter": message("house-file.no-counter", "there is no counter {name}"),
    "box, panel or appliance": message(
        "house-file.no-node", "there is no box, panel or appliance {name}"
    ),
}
"""By what is pointed to."""
TAKEN = message("house-file.taken", "{name} is taken by {by}; rename one")
TWICE_IN_ROOM = message(
    "house-file.twice-in-room", "{name} is there twice in this room; rename one"
)

# Cables.
SAME_ENDS = message("house-file.same-ends", "both ends are the same; name the two things it joins")
SAME_CABLE = message("house-file.same-cable", "both are the same cable; name the other")
NO_SIZE = message("house-file.no-size", "is missing; a power cable has a conductor size")
CARRYING = message(
    "house-file.carrying",
    "{carrying} carry current of {insulated} insulated conductors; give at most {insulated}",
)

# Walls, openings, counters and places.
ROOM_NO_WALL = message("house-file.room-no-wall", "the room has no wall {wall}")
NAMED_ROOM_NO_WALL = message("house-file.named-room-no-wall", "room {room} has no wall {wall}")
ENDS_PAST_WALL = message(
    "house-file.ends-past-wall", "ends at {end} mm, past the wall's {length} mm"
)
AT_PAST_WALL = message("house-file.at-past-wall", "{at} mm is past the wall's {length} mm")
ENDS_PAST_COUNTER = message(
    "house-file.ends-past-counter", "ends at {end} mm, past the counter's {length} mm"
)
OVERLAPS = message("house-file.overlaps", "overlaps {other} of the same wall; move one")
NOT_CLOSED = message(
    "house-file.not-closed",
    "end {gap} mm from where they start; check lengths and turns, or set closed to false for a "
    "part of a room",
)
TURNS = message(
    "house-file.turns",
    "turn {degrees} degrees in all, not 360; list them clockwise, and give an outside corner a "
    "turn of -90",
)
ALONG_WALL_ALONE = message(
    "house-file.along-wall-alone", "belongs to a wall counter; give the {kind} a length_mm"
)
ALONG_MISSING = message(
    "house-file.along-missing", "is missing; a wall counter runs along at least one wall"
)
OTHER_ROOM = message("house-file.other-room", "counter {name} is in another room")

# Panels, circuits and what they feed.
NO_SPACE = message(
    "house-file.no-space",
    "panel {panel} has {most} spaces; there is no space {space}",
)
SPACE_TAKEN = message("house-file.space-taken", "space {space} is taken by {by}; move one")
SPACES_AND_POLES = message(
    "house-file.spaces-and-poles",
    "spaces {spaces}, poles {poles}; give one space for each pole",
)
HALF_POLES = message("house-file.half-poles", "half of a tandem breaker has one pole")
PANEL_FULL = message(
    "house-file.panel-full",
    "{poles} poles do not fit {places} places; take a larger panel or fewer circuits",
)
ONE_POLE = message(
    "house-file.one-pole",
    "{volts} V on circuit {circuit}, which has one pole; give the circuit two poles or correct "
    "the volts",
)
WANT_ONE_POLE = message(
    "house-file.want-one-pole",
    "{volts} V on circuit {circuit}, which has one pole; name one with two poles",
)
