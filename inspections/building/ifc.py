"""An IFC file (ISO 16739; IFC2x3, IFC4) as a house: storeys, rooms by use, doors, windows, outlets.

Runs in a process of its own (`child.py`); nothing here is imported by the site itself.
"""

from collections.abc import Iterator
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element
import ifcopenshell.util.unit
import numpy
from shapely.geometry import Polygon
from shapely.ops import unary_union

from config.messages.message import Text
from config.messages.stored import to_json
from inspections.checker.geometry.plan import Point, point_within

from . import model_messages as says
from .floor import (
    Data,
    Gap,
    area,
    by_walls,
    cleaned,
    mark_outside,
    put_gap,
    room_of,
    wall_runs,
)
from .uses import use_of

MM = 1000.0
FLAT = 0.01  # m; corners of a floor lie no farther apart in height
LEAST_M2 = 0.2
ON_WALL_MM = 400.0
GAPS = {"IfcDoor": "door", "IfcWindow": "window"}
OUTLETS = {
    "POWEROUTLET": "receptacle",
    "DATAOUTLET": "data",
    "COMMUNICATIONSOUTLET": "data",
    "AUDIOVISUALOUTLET": "coax",
    "TELEPHONEOUTLET": "phone",
}


def _is_floor(ring: list[Point] | None) -> bool:
    """Whether an outline is that of a floor large enough for a room."""
    return ring is not None and len(ring) >= 3 and abs(area(ring)) >= LEAST_M2 * MM * MM


class IfcModel:
    """A file that was opened, what was made of it, and what was not."""

    def __init__(self, path: str) -> None:
        self.file = ifcopenshell.open(path)
        self.scale = ifcopenshell.util.unit.calculate_unit_scale(self.file) * MM
        self.settings = ifcopenshell.geom.settings()
        self.settings.set("use-world-coords", True)
        self.unread: list[Any] = []
        """Messages as they are stored: they go to another process."""
        self.rooms: list[Data] = []
        self.boxes: list[Data] = []
        self.areas: list[tuple[str, float, float | None]] = []
        """Each room, its area in m² as read, and as the file says."""
        self.floor: dict[str, float] = {}

    def house(self, name: str) -> Data:
        """The values of a house file."""
        storeys = self._storeys()
        for space in self.file.by_type("IfcSpace"):
            self._space(space, storeys)
        for kind, word in GAPS.items():
            for element in self.file.by_type(kind):
                self._gap(element, word, storeys)
        mark_outside(self.rooms)
        for element in self._outlets():
            self._outlet(element, storeys)
        with_rooms = {room["storey"] for room in self.rooms}
        shown = []
        for storey in storeys.values():
            if storey["id"] in with_rooms:
                shown.append({"id": storey["id"], "name": storey["name"]})
        return {
            "format": "studbay-house-1",
            "name": name[:120],
            "storeys": shown,
            "areas": [dict(storey) for storey in shown],
            "rooms": self.rooms,
            "boxes": self.boxes,
        }

    def _storeys(self) -> dict[int, Data]:
        found: list[Any] = sorted(
            self.file.by_type("IfcBuildingStorey"), key=lambda s: s.Elevation or 0.0
        )
        made = {}
        for number, storey in enumerate(found, 1):
            name = storey.LongName or storey.Name or f"Storey {number}"
            made[storey.id()] = {"id": f"s{number}", "name": name[:120]}
            self.floor[f"s{number}"] = (storey.Elevation or 0.0) * self.scale
        return made

    def _storey_of(self, element: Any, storeys: dict[int, Data]) -> Data | None:
        holder = ifcopenshell.util.element.get_container(element)
        holder = holder or ifcopenshell.util.element.get_aggregate(element)
        while holder is not None and holder.id() not in storeys:
            holder = ifcopenshell.util.element.get_aggregate(holder)
        if holder is not None:
            return storeys[holder.id()]
        return None

    def _mesh(self, element: Any) -> tuple[numpy.ndarray, numpy.ndarray] | None:
        """Corners in metres, and triangles of them; None where it has no shape that can be made."""
        if element.Representation is None:
            return None
        try:
            shape: Any = ifcopenshell.geom.create_shape(self.settings, element)
        except RuntimeError:  # the library's word for a shape it cannot make
            return None
        corners = numpy.array(shape.geometry.verts).reshape(-1, 3)
        faces = numpy.array(shape.geometry.faces, dtype=int).reshape(-1, 3)
        if len(corners) and len(faces):
            return (corners, faces)
        return None

    def _space(self, space: Any, storeys: dict[int, Data]) -> None:
        storey, mesh = self._storey_of(space, storeys), self._mesh(space)
        if storey is None:
            self._leave_space(space, says.NO_STOREY())
            return
        if mesh is None:
            self._leave_space(space, says.NO_SHAPE())
            return
        ring = self._ring(*mesh)
        if ring is None or not _is_floor(ring):
            self._leave_space(space, says.NO_POLYGON())
            return
        kind = use_of(space.LongName, space.Name, space.ObjectType)
        if kind is None:
            self._leave_space(space, says.NO_USE())
        room_id = f"r{len(self.rooms) + 1}"
        name = space.LongName or space.Name or room_id
        room = room_of(room_id, name, kind or "den", storey["id"], storey["id"], ring)
        height = float(mesh[0][:, 2].max() - mesh[0][:, 2].min()) * MM
        self.rooms.append(room | {"ceiling_mm": round(height, 1)})
        self.areas.append((name, abs(area(ring)) / MM / MM, self._stated(space)))

    def _leave_space(self, space: Any, why: Text) -> None:
        """Tell what of a space could not be read."""
        said = " ".join(part for part in (space.LongName, space.Name) if part) or f"#{space.id()}"
        self._leave(f"IfcSpace #{space.id()} {said}", why)

    def _leave(self, element: str, why: Text) -> None:
        self.unread.append(to_json(says.ELEMENT(element=element, why=why)))

    def _ring(self, corners: numpy.ndarray, faces: numpy.ndarray) -> list[Point] | None:
        """The outline of the lowest level faces, as a person standing there sees the floor."""
        low = corners[:, 2].min()
        shapes = []
        for face in faces:
            if (corners[face, 2] < low + FLAT).all():
                shapes.append(Polygon(corners[face, :2]))
        whole = None
        if shapes:
            floors = []
            for shape in shapes:
                if shape.area > 1e-9:
                    floors.append(shape)
            whole = unary_union(floors)
        if whole is None or whole.is_empty or whole.geom_type != "Polygon":
            return None
        outline = []
        for x, y in whole.exterior.coords:
            outline.append((x * MM, y * MM))
        return cleaned(outline)

    def _stated(self, space: Any) -> float | None:
        """The floor area in m² that the file itself gives."""
        found: dict[str, float] = {}
        for values in ifcopenshell.util.element.get_psets(space, qtos_only=True).values():
            for key, v in values.items():
                if isinstance(v, int | float):
                    found[key] = v
        unit = ifcopenshell.util.unit.calculate_unit_scale(self.file, "AREAUNIT")
        for key in ("NetFloorArea", "GrossFloorArea", "FloorArea", "Area"):
            if key in found:
                return float(found[key]) * unit
        return None

    def _gap(self, element: Any, word: str, storeys: dict[int, Data]) -> None:
        said = f"{element.is_a()} #{element.id()} {element.Name or ''}".strip()
        storey, mesh = self._storey_of(element, storeys), self._mesh(element)
        if mesh is None or storey is None:
            self._leave(said, says.NO_PLACE())
            return
        low, high = mesh[0].min(axis=0) * MM, mesh[0].max(axis=0) * MM
        middle = (float(low[0] + high[0]) / 2, float(low[1] + high[1]) / 2)
        spread = max(float(high[0] - low[0]), float(high[1] - low[1]))
        width = (element.OverallWidth or 0.0) * self.scale or spread
        sill = float(low[2]) - self.floor[storey["id"]]
        rooms = []
        for room in self.rooms:
            if room["storey"] == storey["id"]:
                rooms.append(room)
        if not put_gap(rooms, Gap(word, middle, width, sill)):
            self._leave(said, says.NO_WALL())

    def _outlets(self) -> Iterator[Any]:
        names = ("IfcOutlet", "IfcLightFixture", "IfcFlowTerminal")
        known = set()
        for name in names:
            try:
                found = self.file.by_type(name)
            except RuntimeError:  # the schema of the file has no such class
                continue
            for element in found:
                if element.id() not in known:
                    known.add(element.id())
                    yield element

    def _outlet(self, element: Any, storeys: dict[int, Data]) -> None:
        device = self._device(element)
        said = f"{element.is_a()} #{element.id()} {element.Name or ''}".strip()
        storey, mesh = self._storey_of(element, storeys), self._mesh(element)
        if device is None or storey is None or mesh is None:
            why = says.NO_PLACE()
            if device is None:
                why = says.NO_OUTLET()
            self._leave(said, why)
            return
        low, high = mesh[0].min(axis=0) * MM, mesh[0].max(axis=0) * MM
        point = (float(low[0] + high[0]) / 2, float(low[1] + high[1]) / 2)
        up = float(low[2] + high[2]) / 2 - self.floor[storey["id"]]
        rooms = []
        for room in self.rooms:
            if room["storey"] == storey["id"]:
                rooms.append(room)
        box = self._box(device, rooms, point, up)
        if box is None:
            self._leave(said, says.NO_ROOM())
        else:
            self.boxes.append({"id": f"b{len(self.boxes) + 1}"} | box)

    def _device(self, element: Any) -> Data | None:
        if element.is_a("IfcLightFixture"):
            return {"kind": "luminaire"}
        kind = ifcopenshell.util.element.get_type(element)
        said = getattr(element, "PredefinedType", None) or getattr(kind, "PredefinedType", None)
        if kind is not None and kind.is_a("IfcLightFixtureType"):
            return {"kind": "luminaire"}
        if said in OUTLETS:
            return {"kind": OUTLETS[said]}
        return None

    def _box(self, device: Data, rooms: list[Data], point: Point, up: float) -> Data | None:
        near = by_walls(rooms, point, ON_WALL_MM)
        mine = [p for p in near if _holds(p.room, point)] or near
        if device["kind"] != "luminaire" and mine:
            placed = mine[0]
            place: Data = {"surface": "wall", "wall": placed.wall["id"]}
            at = min(max(placed.along, 0.0), placed.wall["length_mm"])
            place |= {"at_mm": round(at, 1), "height_mm": round(max(up, 0.0), 1)}
            return {"room": placed.room["id"], "place": place, "devices": [device]}
        home = None
        for room in rooms:
            if _holds(room, point):
                home = room
                break
        if home is None:
            return None
        place = {"surface": "ceiling", "x_mm": round(point[0], 1), "y_mm": round(point[1], 1)}
        return {"room": home["id"], "place": place, "devices": [device]}


def _holds(room: Data, point: Point) -> bool:
    lefts = []
    for _, left, _ in wall_runs(room):
        lefts.append(left)
    return point_within(point, lefts)


def read_ifc(path: str, name: str) -> Data:
    """The house of an IFC file, what could not be read by element, and each room's areas."""
    model = IfcModel(path)
    house = model.house(name)
    return {"house": house, "unread": model.unread, "areas": model.areas, "lines": []}
