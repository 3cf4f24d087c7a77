"""Building models for tests, written by the library that reads them: IFC2x3, IFC4 and DXF."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import ifcopenshell
import ifcopenshell.api.aggregate
import ifcopenshell.api.context
import ifcopenshell.api.geometry
import ifcopenshell.api.owner.settings
import ifcopenshell.api.pset
import ifcopenshell.api.root
import ifcopenshell.api.spatial
import ifcopenshell.api.unit
import numpy
from ezdxf.filemanagement import new

Schema = Literal["IFC2X3", "IFC4", "IFC4X3"]
Points = list[tuple[float, float]]
FEET = 0.3048


@dataclass
class Written:
    """A model that is being written. Lengths are given in metres."""

    schema: Schema = "IFC4"
    unit: float = 1.0
    """Metres in a unit of the file: 1, 0.001 or 0.3048."""

    def __post_init__(self) -> None:
        self.file = ifcopenshell.file(schema=self.schema)
        self._owner()
        project = self._make("IfcProject", "A house")
        self._units(project)
        whole = ifcopenshell.api.context.add_context(self.file, context_type="Model")
        self.body = ifcopenshell.api.context.add_context(
            self.file, "Model", "Body", "MODEL_VIEW", parent=whole
        )
        self.building = self._make("IfcBuilding", "House")
        self._part(self.building, project)

    def _owner(self) -> None:
        """Whom IFC2x3 wants to name for everything."""
        shop = self.file.createIfcOrganization(None, "Nobody")
        person = self.file.createIfcPerson()
        self.file.createIfcPersonAndOrganization(person, shop)
        self.file.createIfcApplication(shop, "1", "Tests", "tests")
        owner = ifcopenshell.api.owner.settings
        owner.get_user = lambda ifc: ifc.by_type("IfcPersonAndOrganization")[0]
        owner.get_application = lambda ifc: ifc.by_type("IfcApplication")[0]

    def _make(self, kind: str, name: str):
        return ifcopenshell.api.root.create_entity(self.file, ifc_class=kind, name=name)

    def _part(self, part, whole) -> None:
        ifcopenshell.api.aggregate.assign_object(self.file, products=[part], relating_object=whole)

    def _units(self, project) -> None:
        units = ifcopenshell.api.unit
        if self.unit == FEET:
            length = units.add_conversion_based_unit(self.file, name="foot")
            area = units.add_conversion_based_unit(self.file, name="square foot")
        else:
            prefix = "MILLI" if self.unit == 0.001 else None
            length = units.add_si_unit(self.file, unit_type="LENGTHUNIT", prefix=prefix)
            area = units.add_si_unit(self.file, unit_type="AREAUNIT")
        units.assign_unit(self.file, units=[length, area])

    def storey(self, name: str, elevation: float = 0.0):
        """A storey so high above the first."""
        made = self._make("IfcBuildingStorey", name)
        made.Elevation = elevation / self.unit
        self._part(made, self.building)
        self._place(made, 0, 0, elevation)
        return made

    def _place(self, product, x: float, y: float, z: float) -> None:
        matrix = numpy.eye(4)
        matrix[:3, 3] = (x, y, z)
        ifcopenshell.api.geometry.edit_object_placement(
            self.file, product=product, matrix=matrix, is_si=True
        )

    def _shape(self, product, points: Points, height: float) -> None:
        file, unit = self.file, self.unit
        ring = [*points, points[0]]
        corners = [file.createIfcCartesianPoint((x / unit, y / unit)) for x, y in ring]
        outline = file.createIfcPolyline(corners)
        profile = file.createIfcArbitraryClosedProfileDef("AREA", None, outline)
        up = file.createIfcDirection((0.0, 0.0, 1.0))
        place = file.createIfcAxis2Placement3D(file.createIfcCartesianPoint((0.0, 0.0, 0.0)))
        solid = file.createIfcExtrudedAreaSolid(profile, place, up, height / unit)
        made = file.createIfcShapeRepresentation(self.body, "Body", "SweptSolid", [solid])
        ifcopenshell.api.geometry.assign_representation(file, product=product, representation=made)

    def space(self, storey, name: str, long: str, points: Points, area: float | None = None):
        """A room with its floor, and the area that the file states, in m²."""
        made = self._make("IfcSpace", name)
        made.LongName = long
        self._part(made, storey)
        self._place(made, 0, 0, (storey.Elevation or 0) * self.unit)
        self._shape(made, points, 2.4)
        if area is not None:
            quantities = ifcopenshell.api.pset.add_qto(
                self.file, product=made, name="Qto_SpaceBaseQuantities"
            )
            said = area / (FEET**2 if self.unit == FEET else 1.0)
            ifcopenshell.api.pset.edit_qto(
                self.file, qto=quantities, properties={"NetFloorArea": said}
            )
        return made

    def element(self, storey, kind: str, name: str, box: tuple[float, ...], **facts):
        """A door, window or outlet as a box: x, y, z and three sides, in metres."""
        x, y, z, dx, dy, dz = box
        made = self._make(kind, name)
        for fact, value in facts.items():
            setattr(made, fact, value)
        ifcopenshell.api.spatial.assign_container(
            self.file, products=[made], relating_structure=storey
        )
        self._place(made, x, y, z + (storey.Elevation or 0) * self.unit)
        self._shape(made, [(0, 0), (dx, 0), (dx, dy), (0, dy)], dz)
        return made

    def content(self) -> bytes:
        """The file."""
        text: str = self.file.to_string()
        return text.encode()


def two_storeys(schema: Schema = "IFC4", unit: float = 1.0) -> Written:
    """A living room, an L-shaped kitchen, a bath above; a door between, one out, a window."""
    model = Written(schema, unit)
    ground, upper = model.storey("Erdgeschoss"), model.storey("Obergeschoss", 2.8)
    model.space(ground, "1", "Wohnzimmer", [(0, 0), (5, 0), (5, 4), (0, 4)], 20.0)
    ell: list[tuple[float, float]] = [(5.1, 0), (9.1, 0), (9.1, 4), (7.1, 4), (7.1, 2), (5.1, 2)]
    model.space(ground, "2", "Küche", ell, 12.0)
    model.space(upper, "3", "Bad", [(0, 0), (2.5, 0), (2.5, 2), (0, 2)], 5.0)
    wide = {"OverallWidth": 0.9 / unit, "OverallHeight": 2.0 / unit}
    model.element(ground, "IfcDoor", "between", (5.0, 0.5, 0, 0.1, 0.9, 2.0), **wide)
    model.element(ground, "IfcDoor", "front", (1.0, -0.2, 0, 0.9, 0.2, 2.0), **wide)
    glass = {"OverallWidth": 1.2 / unit, "OverallHeight": 1.2 / unit}
    model.element(ground, "IfcWindow", "south", (2.5, -0.2, 0.9, 1.2, 0.2, 1.2), **glass)
    return model


def drawing(path: Path, unit: int = 4) -> bytes:
    """A DXF of two rooms with names, a circle, a point and a loose line; its unit by $INSUNITS."""
    made = new("R2010")
    made.header["$INSUNITS"] = unit
    each = {1: 25.4, 2: 304.8, 4: 1.0, 6: 1000.0, 0: 1.0}[unit]
    space = made.modelspace()
    rooms = (((0, 0), (4000, 3000), "BEDROOM 1"), ((4000, 0), (6500, 3000), "Salle de bain"))
    for (ax, ay), (bx, by), name in rooms:
        corners = [(ax, ay), (bx, ay), (bx, by), (ax, by)]
        space.add_lwpolyline([(x / each, y / each) for x, y in corners], close=True)
        text = space.add_text(name, height=200 / each)
        text.set_placement(((ax + 300) / each, (ay + 400) / each))
    space.add_line((0, 0), (1000 / each, 1000 / each))
    space.add_circle((500 / each, 500 / each), 200 / each)
    space.add_point((1, 1))
    made.saveas(path)
    return path.read_bytes()
