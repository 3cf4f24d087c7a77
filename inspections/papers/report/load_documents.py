"""The load calculation, the panel schedule and the hookup sheet as documents. Pure."""

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from config.languages.own_words import Typed
from config.messages.message import Amperes, Joined, Text, Value, VoltAmperes
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Limit, Rulebook
from inspections.loads import LoadLine, ServiceLoad, Way
from inspections.loads.branch import Branch
from inspections.loads.breakers import Breaker
from inspections.loads.check_messages import BREAKER, amps
from inspections.loads.conductors import size_words
from inspections.loads.hookup import HookupSheet
from inspections.loads.hookup_messages import CAUTIONS, NOT_COVERED
from inspections.loads.panel import PanelSchedule
from inspections.loads.service import Check, worst
from inspections.papers.report import load_messages as says
from inspections.papers.report.as_text import CAUTION
from inspections.papers.report.document import Document, DocumentRow, Section
from inspections.papers.report.report_messages import LIVE_CAUTION, amended_line, source_line


def load_document(house: House, load: ServiceLoad) -> Document:
    """The service load by every way, the service that follows, and its conductors."""
    book = load.rulebook
    ways = []
    for way in load.ways:
        ways.append(_way(way))
    return Document(
        says.LOAD_SHEET(),
        house.name,
        book.title,
        load.verdict.value,
        _load_says(load),
        (
            Section(says.AGAINST_SERVICE(), (), _check_rows(load.checks), ()),
            *ways,
            _sized(load),
        ),
        (LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _load_says(load: ServiceLoad) -> Text:
    """The least service, why, and the rating that follows."""
    if load.why is None:
        return says.NO_LOAD()
    need = amps(load.need_a)
    if not load.size_a:
        return says.LOAD_SAYS_PAST(need=need, why=load.why)
    return says.LOAD_SAYS(need=need, why=load.why, size=Amperes(load.size_a))


def _way(way: Way) -> Section:
    rows = []
    for line in way.lines:
        rows.append(_line(line))
    total = VoltAmperes(round(way.total_va))
    rows.append(DocumentRow((says.SUM(), total, ""), strong=True))
    if way.per_leg_a:
        a, b = way.per_leg_a
        legs = says.LEGS_AMPS(a=amps(a), b=amps(b))
        rows.append(DocumentRow((says.LEGS(), legs, ""), strong=True))
    else:
        working = says.OVER_VOLTS(figure=total, volts=way.volts)
        rows.append(DocumentRow((says.CURRENT(), amps(way.amps), working), strong=True))
    title = says.OFFERED
    if way.role.value == "required":
        title = says.REQUIRED
    return Section(
        title(way=way.title, section=way.section),
        (says.LINE(), says.FIGURE(), says.WORKING()),
        tuple(rows),
        (0.26, 0.16, 0.58),
        way.assumed,
    )


def _line(line: LoadLine) -> DocumentRow:
    figure: Value = VoltAmperes(round(line.va))
    if line.in_amperes:
        figure = amps(line.va)
    if line.left_out:
        figure = says.LEFT_OUT(figure=figure)
    elif not line.counts:
        figure = says.NOT_COUNTED(figure=figure)
    under: list[Value] = []
    if line.step:
        under.append(says.STEP())
    if line.why:
        under.append(line.why)
    if line.limits:
        under.append(source_line(line.edition, line.section, line.known))
    return DocumentRow((line.label, figure, line.working), under=tuple(under))


def _sized(load: ServiceLoad) -> Section:
    rows = []
    for each in load.sized:
        cells = (each.what, _typed(each.words), each.working)
        rows.append(DocumentRow(cells, under=_cited(each.limits)))
    notes: tuple[Text, ...] = ()
    if not load.facts.material:
        notes = (says.BOTH_METALS(),)
    columns = (says.CONDUCTOR(), says.SIZE(), says.FOUND_BY())
    return Section(says.CONDUCTORS(), columns, tuple(rows), (0.34, 0.16, 0.5), notes)


def _typed(value: Value) -> Value:
    """A size or an id as it is, in every language."""
    if isinstance(value, str):
        return Typed(value)
    return value


def _cited(limits: Sequence[Limit]) -> tuple[Value, ...]:
    """Where limits stand, each place once."""
    places = []
    for limit in limits:
        places.append(Typed(f"{limit.edition} {limit.section}"))
    return tuple(dict.fromkeys(places))


def panel_document(house: House, book: Rulebook, schedules: Sequence[PanelSchedule]) -> Document:
    """The schedule of each panel, its best arrangement, and the card for its door."""
    sections: list[Section] = []
    for schedule in schedules:
        sections += [_panel(schedule), *_feeder(schedule), _circuits(schedule)]
        sections += [_balance(schedule), _card(schedule)]
    verdicts = []
    for schedule in schedules:
        verdicts.append(schedule.verdict)
    verdict = worst(verdicts)
    panels = []
    for schedule in schedules:
        panels.append(_panel_says(schedule))
    told: Value = says.NO_PANEL()
    if panels:
        told = Joined(tuple(panels))
    return Document(
        says.PANEL_SHEET(),
        house.name,
        book.title,
        (verdict if schedules else Verdict.INFO_NEEDED).value,
        told,
        tuple(sections),
        (LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _panel_says(schedule: PanelSchedule) -> Text:
    free = says.FREE_UNKNOWN()
    if schedule.free is not None:
        free = says.FREE(n=schedule.free)
    return says.PANEL_SAYS(
        panel=schedule.panel.id,
        n=len(schedule.branches),
        a=VoltAmperes(schedule.a_va),
        b=VoltAmperes(schedule.b_va),
        free=free,
    )


def _panel(schedule: PanelSchedule) -> Section:
    return Section(says.PANEL(panel=schedule.panel.id), (), _check_rows(schedule.checks), ())


def _feeder(schedule: PanelSchedule) -> Iterator[Section]:
    """The conductors that feed a panel which is not the service's own."""
    if schedule.sized:
        rows = []
        for each in schedule.sized:
            rows.append(DocumentRow((each.what, _typed(each.words), each.working)))
        columns = (says.CONDUCTOR(), says.SIZE(), says.FOUND_BY())
        yield Section(says.FEEDER(), columns, tuple(rows), (0.34, 0.16, 0.5))


def _circuits(schedule: PanelSchedule) -> Section:
    columns = (
        says.SPACE(),
        says.BREAKER(),
        says.CIRCUIT(),
        says.LOAD(),
        says.CONDUCTOR_AND_DROP(),
    )
    rows = []
    for branch in schedule.branches:
        rows.append(_circuit(branch))
    return Section(says.CIRCUITS(), columns, tuple(rows), (0.08, 0.12, 0.2, 0.28, 0.32))


def _circuit(branch: Branch) -> DocumentRow:
    circuit = branch.circuit
    spaces = ", ".join(f"{slot}{circuit.half or ''}" for slot in circuit.slots) or "–"
    breaker = BREAKER(amps=Amperes(circuit.breaker_a), poles=circuit.poles)
    if circuit.protection:
        protection = says.PROTECTION[circuit.protection.value]()
        breaker = says.PROTECTED(breaker=breaker, protection=protection)
    wrong = []
    for check in branch.checks:
        if check.verdict is not Verdict.OK:
            wrong.append(says.CHECK_SAYS(what=check.what, says=check.says))
    return DocumentRow(
        (
            Typed(spaces),
            breaker,
            Typed(circuit.name),
            branch.load_words,
            _conductor(branch),
        ),
        branch.verdict.value,
        tuple(wrong),
    )


def _conductor(branch: Branch) -> Value:
    """Its size, what it may carry and how much voltage it drops, as far as they are known."""
    parts: list[Value] = [says.NO_CABLE()]
    if branch.awg:
        parts = [size_words(branch.awg)]
    if branch.derated_a is not None:
        parts.append(amps(branch.derated_a))
    if branch.drop:
        parts.append(says.DROP(percent=round(branch.drop.percent, 2)))
    return Joined(tuple(parts), ", ")


def _balance(schedule: PanelSchedule) -> Section:
    best, now = schedule.best, abs(schedule.a_va - schedule.b_va)
    title = says.BALANCE()
    if best is None:
        return Section(title, notes=(says.NO_BALANCE(),))
    a, b = VoltAmperes(schedule.a_va), VoltAmperes(schedule.b_va)
    notes = (says.NOW(a=a, b=b, apart=VoltAmperes(now)), best.proof)
    moves = []
    for name, spaces in schedule.best_places.items():
        how = says.PLACED()
        if name in best.moved:
            how = says.MOVES()
        moves.append(DocumentRow((Typed(name), Typed(", ".join(map(str, spaces))), how)))
    columns = (says.CIRCUIT(), says.TO_SPACE(), "")
    return Section(title, columns, tuple(moves), (0.4, 0.3, 0.3), notes)


def _card(schedule: PanelSchedule) -> Section:
    """Odd spaces left, even right, as they are in the panel."""
    sides: dict[int, list[tuple[Value, Value]]] = {1: [], 0: []}
    for place in schedule.places:
        text: Value = says.SPARE()
        if place.circuit:
            text = schedule.directory.get(place.circuit, "")
        sides[place.slot % 2].append((Typed(f"{place.slot}{place.half}"), text))
    rows = []
    for left, right in zip_longest(sides[1], sides[0], fillvalue=("", "")):
        rows.append(DocumentRow((*left, *right)))
    return Section(
        says.CARD(panel=schedule.panel.id),
        ("", says.TURNS_OFF(), "", says.TURNS_OFF()),
        tuple(rows),
        (0.06, 0.44, 0.06, 0.44),
    )


def hookup_document(house: House, book: Rulebook, sheet: HookupSheet) -> Document:
    """Readiness, what is live, what is locked off, what was left out, heat, the pole."""
    open_items = 0
    for check in sheet.readiness:
        open_items += check.verdict is not Verdict.OK
    told = [says.READY()]
    if open_items:
        told = [says.NOT_READY(n=open_items, items=len(sheet.readiness))]
    if sheet.reference:
        told.append(says.REFERENCE(reference=sheet.reference))
    return Document(
        says.HOOKUP_SHEET(),
        house.name,
        book.title,
        sheet.verdict.value,
        Joined(tuple(told)),
        tuple(_hookup_sections(sheet)),
        (*_cautions(), LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _cautions() -> tuple[Text, ...]:
    return tuple(caution() for caution in CAUTIONS)


def _hookup_sections(sheet: HookupSheet) -> Iterator[Section]:
    yield Section(says.READINESS(), (), _check_rows(sheet.readiness), ())
    if sheet.warnings:
        yield Section(says.VERIFY_FIRST(), notes=sheet.warnings)
    yield _live_section(sheet)
    columns = (
        says.CIRCUIT(),
        says.BREAKER(),
        says.SPACE(),
        says.FEEDS(),
        says.LOCKED(),
    )
    off = []
    for line in sheet.locked_off:
        off.append(_off(line))
    yield Section(says.LOCKED_OFF(), columns, tuple(off), (0.24, 0.15, 0.1, 0.41, 0.1))
    if sheet.chosen:
        left = []
        for want, why in sheet.chosen.left_out:
            left.append(DocumentRow((Typed(want.name), want.rank, why)))
        bounds = sheet.chosen.bounds
        most = says.MOST(n=bounds.circuits, rating=Amperes(bounds.service_a))
        notes = (most, *sheet.chosen.proof)
        heads = (says.WANT(), says.RANK(), says.WHY())
        yield Section(says.OUT(), heads, tuple(left), (0.25, 0.08, 0.67), notes)
    yield Section(says.HEAT(), notes=sheet.heat)
    if sheet.temporary:
        yield Section(says.POLE(), (), _check_rows(sheet.temporary), ())
    not_covered = tuple(each() for each in NOT_COVERED)
    yield Section(says.NOT_COVERED(), notes=not_covered)


def _live_section(sheet: HookupSheet) -> Section:
    """What the authority authorised; before that the proposal, headed as one."""
    columns = (
        says.CIRCUIT(),
        says.BREAKER(),
        says.SPACE(),
        says.LEG(),
        says.AMPERES(),
        says.FEEDS(),
    )
    shares = (0.22, 0.15, 0.1, 0.08, 0.1, 0.35)
    rows = tuple(map(_live, sheet.live))
    if sheet.proposed:
        title = says.PROPOSED()
        told = [says.NOTHING_LIVE()]
        if not sheet.live:
            told.append(says.NONE_CHOSEN())
    else:
        title = says.LIVE()
        told = [_authorised_words(sheet)]
        if not sheet.live:
            told.append(says.NONE_AUTHORIZED())
    return Section(title, columns, rows, shares, (*told, *_cautions()[:2]))


def _authorised_words(sheet: HookupSheet) -> Text:
    day, reference = sheet.authorised_on, sheet.reference
    if day and reference:
        return says.AUTHORIZED_ON_REFERENCE(day=day, reference=reference)
    if day:
        return says.AUTHORIZED_ON(day=day)
    if reference:
        return says.AUTHORIZED_REFERENCE(reference=reference)
    return says.AUTHORIZED()


def _live(line: Breaker) -> DocumentRow:
    current: Value = ""
    if line.amps is not None:
        current = amps(line.amps)
    spaces = _typed(line.spaces)
    cells = (Typed(line.name), line.breaker, spaces, line.legs, current, line.feeds)
    return DocumentRow(cells, strong=True)


def _off(line: Breaker) -> DocumentRow:
    spaces = _typed(line.spaces)
    return DocumentRow((Typed(line.name), line.breaker, spaces, line.feeds, "[  ]"))


def _check_rows(checks: Sequence[Check]) -> tuple[DocumentRow, ...]:
    rows = []
    for check in checks:
        cells = (check.what, check.says)
        rows.append(DocumentRow(cells, check.verdict.value, _cited(check.limits)))
    return tuple(rows)


def _amended(book: Rulebook) -> tuple[Text, ...]:
    lines = []
    for limit in book.amended:
        lines.append(amended_line(limit))
    return tuple(lines)
