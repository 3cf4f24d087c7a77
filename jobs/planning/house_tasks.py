"""What is still to do on a house, as tasks, inspections and promises in the order they wait.

Rough-in and correction of each area, then the rough-in inspection; the panel, the hookup and its
inspection; another trade's cover once an area can be released; finish, energising, the final walk,
the final inspection. What is done is left out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from config.messages.message import Listed, Message, Value

from . import counts as work
from . import plan_messages as words
from .counts import AreaCounts, Worked
from .problem import PlannedInspection, Promise, Task, ToldAssignment
from .rates import STARTING_RATES, Rates
from .work_messages import BY_OFFICE

LICENSED = "licensed"
ONE_INSPECTION: Mapping[str, Message] = {
    "hookup": words.HOOKUP_INSPECTION,
    "final": words.FINAL_INSPECTION,
}
"""The inspections of which a house has one, by their kind."""


@dataclass(frozen=True, slots=True)
class PlannedArea:
    """Where an area stands."""

    code: str
    name: str
    counts: AreaCounts
    roughed_in: bool = False
    accepted: bool = False
    """Whether the authority has accepted it as it is, so that it needs no further inspection."""
    refused: bool = False
    """Whether the inspector's last answer was no."""
    failing: int = 0
    called: int = 0
    """Deficiencies that are written up and not corrected."""
    correct_by: int | None = None
    """The slot by which they must be corrected."""
    cover_slots: int = 0
    """How long other trades still need to cover it, once it is released."""
    finished: bool = False


@dataclass(frozen=True, slots=True)
class AwaitedInspection:
    """An inspection that was asked for and not answered yet."""

    key: str
    kind: str
    areas: tuple[str, ...]
    notice: tuple[int, ...]
    booked: int | None = None


@dataclass(frozen=True, slots=True)
class OwnNow:
    """Work that the office added by hand."""

    key: str
    name: str
    minutes: int
    skill: str = ""
    earliest: int = 0
    by: int | None = None


@dataclass(frozen=True, slots=True)
class HouseNow:
    """Where a house stands, and what its authority requires. Slots are those of the horizon."""

    id: str
    name: str
    areas: Sequence[PlannedArea]
    circuits: int = 0
    panels: int = 0
    done: frozenset[str] = frozenset()
    """Keys of the tasks that are reported done."""
    milestones: frozenset[str] = frozenset()
    """Of `hookup`, `finish`, `final`: what has been reached."""
    inspections: Sequence[AwaitedInspection] = ()
    notice: tuple[int, ...] = ()
    windows: frozenset[int] | None = None
    notice_words: Value = ""
    """What notice the authority requires, as a sentence."""
    reinspection_fee: str = ""
    """What another inspection after a failed one costs, in words."""
    earliest: int = 0
    because: Value = ""
    trim_out: bool = False
    """Whether the trade calls the finish a trim-out there."""
    own: Sequence[OwnNow] = ()
    drywall_by: int | None = None
    finish_by: int | None = None
    final_by: int | None = None
    weights: Mapping[str, int] = field(default_factory=dict)
    told: Mapping[str, ToldAssignment] = field(default_factory=dict)
    """What people were told, by key."""
    rates: Rates = STARTING_RATES


@dataclass(frozen=True, slots=True)
class HouseWork:
    """What is still to do on a house."""

    tasks: tuple[Task, ...]
    inspections: tuple[PlannedInspection, ...]
    promises: tuple[Promise, ...]
    working: Mapping[str, Value]
    """How the minutes of each task came about, by its id."""


def house_work(house: HouseNow) -> HouseWork:
    """What is still to do on the house."""
    making = _Making(house)
    if "final" not in house.milestones:
        making.rough_in()
        making.hookup()
        making.finish()
    making.own()
    return HouseWork(
        tuple(making.tasks), tuple(making.inspections), tuple(making.promises), making.working
    )


def activity_id(house: str, key: str) -> str:
    """The id that a house's task or inspection has in a plan of many houses."""
    return f"{house}:{key}"


class _Making:
    def __init__(self, house: HouseNow) -> None:
        self.house = house
        self.tasks: list[Task] = []
        self.inspections: list[PlannedInspection] = []
        self.promises: list[Promise] = []
        self.working: dict[str, Value] = {}
        self.corrections: list[str] = []
        self.panel: list[str] = []
        self.live: tuple[str, ...] = ()
        self.released_by: dict[str, str] = {}
        """For each area that still needs one, the inspection after which it can be released."""

    def rough_in(self) -> None:
        """Rough-in and correction of each area, and the inspections that let them be covered."""
        before: dict[str, list[str]] = {}
        for area in self.house.areas:
            before[area.code] = self._rough_in_of(area)
        for inspection in self.house.inspections:
            if inspection.kind in ("rough_in", "cover_up"):
                self._awaited_rough_in(inspection, before)
        self._further_rough_in(before)
        needs = tuple(dict.fromkeys(self.released_by.values()))
        self._promise(
            "drywall",
            words.promise_name("drywall", self.house.trim_out),
            needs,
            self.house.drywall_by,
        )

    def _awaited_rough_in(
        self, inspection: AwaitedInspection, before: Mapping[str, list[str]]
    ) -> None:
        """An inspection that was asked for, after the rough-in of the areas that it is for."""
        waits: list[str] = []
        for code in inspection.areas:
            waits += before.get(code, [])
        names = []
        for area in self.house.areas:
            if area.code in inspection.areas:
                names.append(area.name)
        releasing = self._inspection(
            inspection.key,
            words.ROUGH_IN_INSPECTION_OF(areas=Listed(tuple(names))),
            waits,
            inspection,
        )
        self.released_by.update(dict.fromkeys(inspection.areas, releasing))

    def _further_rough_in(self, before: Mapping[str, list[str]]) -> None:
        """One more inspection for every area that needs one and that none was asked for."""
        rest: list[PlannedArea] = []
        waits: list[str] = []
        for area in self.house.areas:
            if not area.accepted and area.code not in self.released_by:
                rest.append(area)
                waits += before[area.code]
        if not rest:
            return
        name = words.ROUGH_IN_INSPECTION()
        if any(area.refused for area in rest):
            name = words.REINSPECTION()
            if self.house.reinspection_fee:
                name = words.REINSPECTION_FEE(fee=self.house.reinspection_fee)
        releasing = self._inspection("inspection/rough-in", name, waits)
        for area in rest:
            self.released_by[area.code] = releasing

    def _rough_in_of(self, area: PlannedArea) -> list[str]:
        roughed = []
        if not (area.roughed_in or area.accepted):
            roughed += self._task(
                f"rough-in/{area.code}",
                words.ROUGH_IN(area=area.name),
                work.rough_in(area.counts, self.house.rates),
            )
        correction = work.correction(area.called, area.failing, self.house.rates)
        corrected = self._task(
            f"correction/{area.code}",
            words.CORRECTIONS(area=area.name),
            correction,
            tuple(roughed),
        )
        if area.called and corrected:
            named = words.CORRECTED_DATE(area=area.name)
            self._promise(f"correction/{area.code}", named, tuple(corrected), area.correct_by)
        self.corrections += corrected
        return [*roughed, *corrected]

    def hookup(self) -> None:
        """The panel, then the hookup and its inspection once every area can be released."""
        self.panel = self._task(
            "panel",
            words.PANEL(),
            work.panel(self.house.circuits, self.house.panels, self.house.rates),
            skill=LICENSED,
        )
        if self.house.milestones & {"hookup", "finish"}:
            return
        waits = (*self.panel, *dict.fromkeys(self.released_by.values()))
        hookup = work.hookup(self.house.rates)
        done = self._task("hookup", words.HOOKUP(), hookup, waits, LICENSED)
        self.live = (self._one_inspection("hookup", [*waits, *done]),)

    def _one_inspection(self, kind: str, after: Sequence[str]) -> str:
        """The house's one inspection of its kind, whether or not it was asked for."""
        named = ONE_INSPECTION[kind]()
        for pending in self.house.inspections:
            if pending.kind == kind:
                return self._inspection(pending.key, named, after, pending)
        return self._inspection(f"inspection/{kind}", named, after)

    def finish(self) -> None:
        """Cover by other trades, finish, energising, the final walk and inspection."""
        last: list[str] = []
        if "finish" not in self.house.milestones:
            for area in self.house.areas:
                last += self._finish_of(area)
            last += self._task(
                "energise",
                words.ENERGIZE(),
                work.energise(self.house.circuits, self.house.rates),
                (*last, *self.live),
                LICENSED,
            )
            self._house_promise("finish", tuple(last), self.house.finish_by)
        walking = work.final_walk(self.house.rates)
        walk = self._task("walk", words.FINAL_WALK(), walking, tuple(last))
        final = self._one_inspection("final", [*last, *walk, *self.corrections])
        self._promise(
            "final", words.promise_name("final", self.house.trim_out), (final,), self.house.final_by
        )

    def _finish_of(self, area: PlannedArea) -> list[str]:
        if area.finished:
            return []
        covered = []
        if area.code in self.released_by:
            covered = [self.released_by[area.code]]
        if area.cover_slots:
            cover = activity_id(self.house.id, f"cover/{area.code}")
            self.tasks.append(
                Task(
                    cover,
                    words.COVER(area=area.name),
                    self.house.id,
                    slots=area.cover_slots,
                    after=tuple(covered),
                    house_name=self.house.name,
                )
            )
            covered = [cover]
        finish = work.finish_task(area.counts, self.house.rates)
        named = words.TRIM_OUT if self.house.trim_out else words.FINISH
        finishing = self._task(f"finish/{area.code}", named(area=area.name), finish, tuple(covered))
        return finishing or covered

    def own(self) -> None:
        """What the office added by hand."""
        for each in self.house.own:
            worked = Worked(each.minutes, BY_OFFICE(minutes=each.minutes))
            made = self._task(each.key, each.name, worked, skill=each.skill, earliest=each.earliest)
            if made:
                self._promise(each.key, words.OWN_DATE(task=each.name), tuple(made), each.by)

    def _task(
        self,
        key: str,
        name: Value,
        worked: Worked,
        after: tuple[str, ...] = (),
        skill: str = "",
        earliest: int = 0,
    ) -> list[str]:
        """The id of the task in a list; an empty one when there is nothing to do."""
        if key in self.house.done or not worked.minutes:
            return []
        made = activity_id(self.house.id, key)
        later = self.house.earliest > earliest
        self.tasks.append(
            Task(
                made,
                name,
                self.house.id,
                minutes=worked.minutes,
                skill=skill,
                after=tuple(dict.fromkeys(after)),
                earliest=max(earliest, self.house.earliest),
                told=self.house.told.get(key),
                because=self.house.because if later else "",
                house_name=self.house.name,
            )
        )
        self.working[made] = worked.working
        return [made]

    def _inspection(
        self, key: str, name: Value, after: Sequence[str], pending: AwaitedInspection | None = None
    ) -> str:
        made = activity_id(self.house.id, key)
        self.inspections.append(
            PlannedInspection(
                made,
                name,
                self.house.id,
                after=tuple(dict.fromkeys(after)),
                notice=pending.notice if pending else self.house.notice,
                windows=self.house.windows,
                booked=pending.booked if pending else None,
                told=self.house.told.get(key),
                words=self.house.notice_words,
                house_name=self.house.name,
            )
        )
        return made

    def _house_promise(self, what: str, needs: tuple[str, ...], by: int | None) -> None:
        """A date that was promised for the house as a whole."""
        self._promise(what, words.promise_name(what, self.house.trim_out), needs, by)

    def _promise(self, what: str, name: Value, needs: tuple[str, ...], by: int | None) -> None:
        if by is not None and needs:
            self.promises.append(
                Promise(
                    activity_id(self.house.id, what),
                    name,
                    needs,
                    by,
                    self.house.weights.get(what, 1),
                    self.house.id,
                    self.house.name,
                )
            )
