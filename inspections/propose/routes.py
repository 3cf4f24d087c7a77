"""Cables from breaker to outlets: which box is joined to which, by walls and ceilings, in metres.

The boxes of a circuit are joined by the shortest tree there is, entered once from the panel. A
switched light hangs from its switch. Alarms are joined one after another by a cable with one
conductor more, for the signal.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from config.messages.message import Length, Rounding, Text
from inspections.checker.graph.lights import SWITCHES
from inspections.checker.graph.supply import ALARMS
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind, OnCeiling, OnWall
from inspections.checker.house.cables import Cable, CableKind
from inspections.checker.house.parts import Gauge
from inspections.checker.house.power import Circuit, PanelKind
from inspections.checker.rulebook import Rulebook
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .circuits import awg_for
from .places import mean_point, wired_ends
from .proposal import Found, Proposal, ProposalKind
from .wants import Wants

STOREY_MM = 2750.0  # floor to floor; common practice, no source
CEILING_MM = 2440.0  # where none is recorded yet; the same
PANEL_MM = 1500.0  # the middle of a panel above its floor; the same
ENDS_MM = 600.0  # at both ends together, for what is left in the boxes; the same
STEP_MM = 100.0  # lengths are rounded up to these
LOWER_MM = 300.0  # a communications run below the power cables; common practice, no source
SIGNALS = {
    DeviceKind.DATA: CableKind.DATA,
    DeviceKind.COAX: CableKind.COAX,
    DeviceKind.PHONE: CableKind.PHONE,
}
THIRD = 3  # insulated conductors of a cable with a traveller or a signal

Spot = tuple[float, float, float, str, str]
"""Mm east, north and up; the storey; and the wall, empty where it is on none."""


class CableEnds:
    """Where everything that a cable can end at is, in space."""

    def __init__(self, site: HouseByCode) -> None:
        self.site = site
        self.rank = {storey.id: n for n, storey in enumerate(site.house.storeys)}
        self.at: dict[str, Spot] = {box.id: self._box(box) for box in site.house.boxes}
        rooms = {}
        for panel in site.house.panels:
            rooms[panel.id] = panel.room
        for appliance in site.house.appliances:
            rooms[appliance.id] = appliance.room
        for name, room in rooms.items():
            self.at[name] = self._spot(room, self._middle(room), PANEL_MM)

    def _middle(self, room: str) -> tuple[float, float]:
        line = self.site.lines.get(room)
        if line is None:
            here = self.site.rooms[room]
            return here.x_mm, here.y_mm
        return mean_point(line.corners())

    def _spot(self, room: str, point: tuple[float, float], up: float, wall: str = "") -> Spot:
        storey = self.site.rooms[room].storey
        up += self.rank[storey] * STOREY_MM
        return (*point, up, storey, f"{room}/{wall}" if wall else "")

    def _box(self, box: Box) -> Spot:
        plan, place = self.site.plans.get(box.room), box.place
        point = None
        if plan:
            point = plan.of(box)
        point = point or self._middle(box.room)
        if isinstance(place, OnWall):
            up = 300.0
            if place.height_mm is not None:
                up = place.height_mm
            return self._spot(box.room, point, up, place.wall)
        up = 0.0
        if isinstance(place, OnCeiling):
            up = self.site.rooms[box.room].ceiling_mm or CEILING_MM
        return self._spot(box.room, point, up)

    def length(self, one: str, other: str) -> float:
        """The way of a cable between two nodes, mm: along one wall, else up, across and down."""
        ax, ay, az, a_storey, a_wall = self.at[one]
        bx, by, bz, b_storey, b_wall = self.at[other]
        across = abs(ax - bx) + abs(ay - by)
        if a_wall and a_wall == b_wall:
            return across + abs(az - bz)
        if a_storey == b_storey:
            ceiling = self.rank[a_storey] * STOREY_MM + CEILING_MM
            return across + abs(ceiling - az) + abs(ceiling - bz)
        return across + abs(az - bz)


def propose_cables(house: House, book: Rulebook, wants: Wants) -> list[Found]:
    """A proposal for each circuit that has something on it and no cable."""
    site = HouseByCode(house, book)
    ground = CableEnds(site)
    proposals: list[Found] = []
    for circuit in house.circuits:
        if not site.supply.cables[circuit.id] and circuit.poles <= 2:
            runs = _Runs(site, ground, circuit, awg_for(book, circuit.breaker_a))
            if proposal := runs.proposal(wants):
                proposals.append(proposal)
    proposals += _loops(site, ground, book)
    proposals += _signals(site, ground, book)
    return proposals


def _signals(site: HouseByCode, ground: CableEnds, book: Rulebook) -> Iterator[Found]:
    """A run of its own from the communications panel to each outlet for data, coax or telephone.

    It hangs lower than the power cables and goes across first where they go along, so that the
    two meet at right angles and never run side by side.
    """
    panel = next((p for p in site.house.panels if p.kind is PanelKind.COMMUNICATIONS), None)
    if panel is None:
        return
    joined = wired_ends(site.house)
    asked = book.value("communications-separation.distance_mm") or {}
    apart = max(asked.values(), default=0)
    for box in site.house.boxes:
        kind = _signal_kind(box)
        if kind is None or box.id in joined:
            continue
        length = _cut(ground.length(panel.id, box.id))
        cable = Cable(
            id=f"{box.id}-run",
            kind=kind,
            ends=(panel.id, box.id),
            insulated=4 if kind is not CableKind.COAX else 1,
            bonding=0,
            length_mm=length,
        )
        below = Length(max(LOWER_MM, apart))
        told = says.RUN(length=Length(length), below=below)
        if apart:
            required = Length(apart, Rounding.UP)
            told = says.RUN_REQUIRED(length=Length(length), below=below, required=required)
        proof, subject = says.ONE_RUN(), f"{box.id}/run"
        yield Proposal(subject, (), told, proof, ProposalKind.CABLES, cables=(cable,))


def _signal_kind(box: Box) -> CableKind | None:
    """The cable for the first outlet for a signal that is in the box."""
    for device in box.devices:
        if device.kind in SIGNALS:
            return SIGNALS[device.kind]
    return None


def _cut(way: float) -> float:
    """The length to cut for a way: with what is left in the boxes, rounded up."""
    return ceil((way + ENDS_MM) / STEP_MM) * STEP_MM


class _Runs:
    """The cables of one circuit."""

    def __init__(self, site: HouseByCode, ground: CableEnds, circuit: Circuit, awg: Gauge) -> None:
        self.site, self.ground, self.circuit, self.awg = site, ground, circuit, awg
        self.made: list[Cable] = []

    def proposal(self, wants: Wants) -> Proposal | None:
        fed, hung, alarms = self._sorted()
        nodes = [*fed, *(each.id for each in self.site.supply.appliances[self.circuit.id])]
        if not nodes and not alarms:
            return None
        tree = [self.circuit.panel]
        shortest = self._tree(tree, nodes)
        self._chain(tree, alarms, THIRD)
        for switches, lights in hung.items():
            self._chain([switches[0]], switches[1:], THIRD)
            self._chain([switches[-1]], lights, 2)
        proof = says.SHORTEST_THREE()
        if shortest:
            proof = says.SHORTEST()
        return Proposal(
            self.circuit.id,
            (),
            self._says(wants),
            proof,
            ProposalKind.CABLES,
            cables=tuple(self.made),
        )

    def _says(self, wants: Wants) -> Text:
        """How many cables there are, and how long."""
        length = sum(cable.length_mm or 0.0 for cable in self.made)
        home_run = self.made[0].length_mm or 0.0
        told = says.CABLES
        if home_run > wants.home_run_limit_mm:
            told = says.CABLES_FAR
        return told(
            n=len(self.made),
            length=Length(length),
            size=f"{self.awg} AWG",
            home=Length(home_run),
        )

    def _sorted(self) -> tuple[list[str], dict[tuple[str, ...], list[str]], list[str]]:
        """Boxes that are fed; switches with the lights that hang from them; boxes of alarms."""
        fed: dict[str, None] = {}
        hung: dict[tuple[str, ...], list[str]] = {}
        alarms: dict[str, None] = {}
        switches_of = self._switches_of()
        for box, device in self.site.supply.devices[self.circuit.id]:
            if box.id in switches_of and device.kind not in SWITCHES:
                switches = tuple(switches_of[box.id])
                if box.id not in hung.setdefault(switches, []):
                    hung[switches].append(box.id)
                fed[switches[0]] = None
            elif device.kind in ALARMS:
                alarms[box.id] = None
            elif not (device.kind in SWITCHES and device.controls):
                fed[box.id] = None
        for switches, lights in hung.items():
            for name in (*lights, *switches[1:]):
                fed.pop(name, None)
        return list(fed), hung, list(alarms)

    def _switches_of(self) -> dict[str, dict[str, None]]:
        """The boxes of the switches that turn on each light, in their order."""
        switches: dict[str, dict[str, None]] = {}
        for box, device in self.site.supply.devices[self.circuit.id]:
            if device.kind not in SWITCHES:
                continue
            for target in device.controls or ():
                switches.setdefault(target, {})[box.id] = None
        return switches

    def _tree(self, tree: list[str], nodes: list[str]) -> bool:
        """Join the nodes by the shortest tree, from the one nearest to the panel.

        Whether it is the shortest: a box that would join more than three cables makes a longer
        one be taken.
        """
        left, shortest, joined = dict.fromkeys(nodes), True, {}
        if left:
            first = min(left, key=lambda n: (self._length(self.circuit.panel, n), n))
            self._join(self.circuit.panel, first, 2)
            tree[:], joined[first] = [first], 1
            del left[first]
        while left:
            ways = sorted(self._ways(tree, left))
            best = next((way for way in ways if joined[way[1]] < 3), ways[0])
            shortest &= best[0] >= ways[0][0]
            _, a, b = best
            self._join(a, b, 2)
            joined[a], joined[b] = joined[a] + 1, 1
            tree.append(b)
            del left[b]
        return shortest

    def _chain(self, start: Sequence[str], nodes: Sequence[str], insulated: int) -> None:
        """Join nodes one after another, each the nearest to the last."""
        left, tails = list(nodes), list(start)
        lead = insulated
        if insulated == THIRD and self._feeds_alarms(nodes):
            lead = 2
        while left:
            _, a, b = min(self._ways(tails, left))
            self._join(a, b, lead)
            left.remove(b)
            tails, lead = [b], insulated

    def _ways(self, tails: Sequence[str], nodes: Iterable[str]) -> Iterator[tuple[float, str, str]]:
        """Every way from what is joined to what is not, with its length."""
        for tail in tails:
            for node in nodes:
                yield self._length(tail, node), tail, node

    def _feeds_alarms(self, nodes: Sequence[str]) -> bool:
        """The cable that comes to the first alarm needs no conductor for the signal."""
        for n in nodes:
            for d in self.site.boxes[n].devices:
                if d.kind in ALARMS:
                    return True
        return False

    def _length(self, one: str, other: str) -> float:
        return self.ground.length(one, other)

    def _join(self, one: str, other: str, insulated: int) -> None:
        if self.circuit.poles == 1 or insulated > 2:
            both = insulated
        else:
            both = self._two_pole(other)
        self.made.append(_cable(self.circuit, len(self.made) + 1, one, other, both, self))

    def _two_pole(self, other: str) -> int:
        """A receptacle at two poles, as a range's, has a neutral beside them."""
        if other in self.site.boxes:
            return THIRD
        return 2


def _cable(
    circuit: Circuit, number: int, one: str, other: str, insulated: int, runs: _Runs
) -> Cable:
    return Cable(
        id=f"{circuit.id}-{number}",
        kind=CableKind.NM,
        ends=(one, other),
        circuit=circuit.id,
        awg=runs.awg,
        insulated=insulated,
        length_mm=_cut(runs.ground.length(one, other)),
    )


def _loops(site: HouseByCode, ground: CableEnds, book: Rulebook) -> Iterator[Found]:
    """A cable from a light that is wired to a switch for it that is not, neutral and all."""
    wired = wired_ends(site.house)
    for box in site.house.boxes:
        if box.id in wired:
            continue
        for device in box.devices:
            light = _wired_light(device, wired)
            if light is None:
                continue
            name = device.circuit or _circuit_at(site, light)
            if name is None:
                continue
            circuit = site.circuits[name]
            runs = _Runs(site, ground, circuit, awg_for(book, circuit.breaker_a))
            number = 1 + sum(cable.circuit == name for cable in site.house.cables)
            cable = _cable(circuit, number, light, box.id, THIRD, runs)
            told = says.LOOP(length=Length(cable.length_mm or 0), light=light)
            proof, subject = says.ONE_LOOP(), f"{box.id}/loop"
            yield Proposal(subject, (), told, proof, ProposalKind.CABLES, cables=(cable,))


def _wired_light(switch: Device, wired: set[str]) -> str | None:
    """The first light that the switch turns on and that a cable reaches already."""
    if switch.kind not in SWITCHES:
        return None
    for target in switch.controls or ():
        if target in wired:
            return target
    return None


def _circuit_at(site: HouseByCode, name: str) -> str | None:
    """The circuit, the first by its id, of a cable that ends there."""
    circuits = set()
    for cable in site.house.cables:
        if name in cable.ends and cable.circuit:
            circuits.add(cable.circuit)
    return min(circuits, default=None)
