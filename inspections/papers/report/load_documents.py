"""The load calculation, the panel schedule and the hookup sheet as documents. Pure."""

from collections.abc import Iterator, Sequence

from config.languages.own_words import Typed
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.loads import LoadLine, ServiceLoad, Way
from inspections.loads.branch import Branch
from inspections.loads.breakers import Breaker
from inspections.loads.hookup import CAUTIONS, NOT_COVERED, HookupSheet
from inspections.loads.panel import PanelSchedule
from inspections.loads.service import Check, worst
from inspections.papers.report.as_text import CAUTION, KNOWN, amended_line
from inspections.papers.report.document import Document, DocumentRow, Section

LIVE_CAUTION = (
    "A figure is no permission: the adopted code with its local amendments rules, and the "
    "inspector decides."
)


def load_document(house: House, load: ServiceLoad) -> Document:
    """The service load by every way, the service that follows, and its conductors."""
    book = load.rulebook
    size = "past the largest in the table"
    if load.size_a:
        size = f"{load.size_a:g} A"
    says = f"At least {load.need_a:.1f} A: {load.why}. Next standard rating: {size}."
    ways = []
    for way in load.ways:
        ways.append(_way(way))
    return Document(
        "Load calculation",
        house.name,
        book.title,
        load.verdict.value,
        says,
        (
            Section("What was held against the service", (), _check_rows(load.checks), ()),
            *ways,
            _sized(load),
        ),
        (LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _way(way: Way) -> Section:
    rows = []
    for line in way.lines:
        rows.append(_line(line))
    rows.append(DocumentRow(("Sum", f"{way.total_va:,.0f} VA", ""), strong=True))
    if way.per_leg_a:
        a, b = way.per_leg_a
        rows.append(DocumentRow(("Legs", f"A {a:.1f} A, B {b:.1f} A", ""), strong=True))
    else:
        rows.append(
            DocumentRow(
                ("Current", f"{way.amps:.1f} A", f"{way.total_va:,.0f} VA / {way.volts:g} V"),
                strong=True,
            )
        )
    asked = "offered beside others"
    if way.role.value == "required":
        asked = "asked for"
    return Section(
        f"{way.title}, {way.section}: {asked}",
        ("line", "figure", "working"),
        tuple(rows),
        (0.26, 0.16, 0.58),
        way.assumed,
    )


def _line(line: LoadLine) -> DocumentRow:
    figure = f"{line.va:,.0f} VA"
    if "amperes" in line.label:
        figure = f"{line.va:,.1f} A"
    if line.left_out:
        figure = f"({figure})"
    elif not line.counts:
        figure = f"· {figure}"
    under = []
    if line.limits:
        source, known = f"{line.edition} {line.section}", KNOWN[line.known]
        if known:
            source = f"{source} ({known})"
        under.append(source)
    if line.why:
        under.insert(0, line.why)
    if line.step:
        under.insert(0, "the share falls with their number: one appliance more can lower this line")
    return DocumentRow((line.label, figure, line.working), under=tuple(under))


def _sized(load: ServiceLoad) -> Section:
    rows = []
    for each in load.sized:
        sections = []
        for x in each.limits:
            sections.append(f"{x.edition} {x.section}")
        rows.append(
            DocumentRow(
                (each.what, each.words, each.working),
                under=tuple(dict.fromkeys(sections)),
            )
        )
    return Section(
        "Conductors",
        ("conductor", "size", "found by"),
        tuple(rows),
        (0.34, 0.16, 0.5),
        () if load.facts.material else ("Copper and aluminum, since nobody recorded which.",),
    )


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
    for s in schedules:
        panels.append(
            f"{s.panel.id}: {len(s.branches)} circuits, leg A {s.a_va:,} VA, leg B {s.b_va:,} VA, "
            f"{'free spaces not known' if s.free is None else f'{s.free} free spaces'}"
        )
    says = "; ".join(panels)
    return Document(
        "Panel schedule",
        house.name,
        book.title,
        (verdict if schedules else Verdict.UNKNOWN).value,
        says or "no panel is recorded",
        tuple(sections),
        (LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _panel(schedule: PanelSchedule) -> Section:
    return Section(f"Panel {schedule.panel.id}", (), _check_rows(schedule.checks), ())


def _feeder(schedule: PanelSchedule) -> Iterator[Section]:
    """The conductors that feed a panel which is not the service's own."""
    if schedule.sized:
        rows = []
        for each in schedule.sized:
            rows.append(DocumentRow((each.what, each.words, each.working)))
        yield Section("Feeder", ("conductor", "size", "found by"), tuple(rows), (0.34, 0.16, 0.5))


def _circuits(schedule: PanelSchedule) -> Section:
    columns = ("space", "breaker", "circuit", "load", "conductor and drop")
    rows = []
    for branch in schedule.branches:
        rows.append(_circuit(branch))
    return Section("Circuits", columns, tuple(rows), (0.08, 0.12, 0.2, 0.28, 0.32))


def _circuit(branch: Branch) -> DocumentRow:
    circuit = branch.circuit
    spaces = ", ".join(f"{slot}{circuit.half or ''}" for slot in circuit.slots) or "–"
    protection = ""
    if circuit.protection:
        protection = f" {circuit.protection.value.upper()}"
    wrong = []
    for check in branch.checks:
        if check.verdict is not Verdict.MEETS:
            wrong.append(f"{check.what}: {check.says}")
    return DocumentRow(
        (
            spaces,
            f"{circuit.breaker_a:g} A, {circuit.poles}p{protection}",
            Typed(circuit.name),
            branch.load_words,
            _conductor(branch),
        ),
        branch.verdict.value,
        tuple(wrong),
    )


def _conductor(branch: Branch) -> str:
    """Its size, what it may carry and how much voltage it drops, as far as they are known."""
    words = "no cable recorded"
    if branch.awg:
        words = f"{branch.awg} AWG"
    if branch.derated_a is not None:
        words += f", {branch.derated_a:.1f} A"
    if branch.drop:
        words += f"; drop {branch.drop.percent:.2f} %"
    return words


def _balance(schedule: PanelSchedule) -> Section:
    best, now = schedule.best, abs(schedule.a_va - schedule.b_va)
    title = "Balance over the legs"
    if best is None:
        return Section(title, notes=("No arrangement can be reckoned; see what is missing above.",))
    notes = [
        f"Now leg A {schedule.a_va:,} VA and leg B {schedule.b_va:,} VA: {now:,} VA apart.",
        best.proof,
    ]
    moves = []
    for name, spaces in schedule.best_places.items():
        moves.append(
            DocumentRow(
                (
                    Typed(name),
                    ", ".join(map(str, spaces)),
                    "moves" if name in best.moved else "placed",
                )
            )
        )
    return Section(title, ("circuit", "to space", ""), tuple(moves), (0.4, 0.3, 0.3), tuple(notes))


def _card(schedule: PanelSchedule) -> Section:
    """Odd spaces left, even right, as they are in the panel."""
    sides: dict[int, list[str]] = {1: [], 0: []}
    for place in schedule.places:
        mark = f"{place.slot}{place.half}"
        text = "spare"
        if place.circuit:
            text = schedule.directory.get(place.circuit, "")
        sides[place.slot % 2].append(f"{mark}|{text}")
    count = max(len(sides[1]), len(sides[0]), 0)
    rows = []
    for index in range(count):
        left, right = (
            sides[side][index].split("|", 1) if index < len(sides[side]) else ["", ""]
            for side in (1, 0)
        )
        rows.append(DocumentRow((*left, *right)))
    return Section(
        f"Card for the door of panel {schedule.panel.id}",
        ("", "turns off", "", "turns off"),
        tuple(rows),
        (0.06, 0.44, 0.06, 0.44),
    )


def hookup_document(house: House, book: Rulebook, sheet: HookupSheet) -> Document:
    """Readiness, what is live, what is locked off, what was left out, heat, the pole."""
    ready = "Not ready"
    if sheet.verdict is Verdict.MEETS:
        ready = "Ready"
    open_items = 0
    for check in sheet.readiness:
        open_items += check.verdict is not Verdict.MEETS
    reference = ""
    if sheet.reference:
        reference = f" Authority's reference {sheet.reference}."
    return Document(
        "Construction hookup",
        house.name,
        book.title,
        sheet.verdict.value,
        f"{ready}: {open_items} of {len(sheet.readiness)} items open.{reference}",
        tuple(_hookup_sections(sheet)),
        (*CAUTIONS, LIVE_CAUTION, CAUTION),
        _amended(book),
    )


def _hookup_sections(sheet: HookupSheet) -> Iterator[Section]:
    yield Section("Readiness", (), _check_rows(sheet.readiness), ())
    if sheet.warnings:
        yield Section("VERIFY before anything is energized", notes=sheet.warnings)
    yield _live_section(sheet)
    columns = ("circuit", "breaker", "space", "feeds", "locked")
    off = []
    for line in sheet.locked_off:
        off.append(_off(line))
    yield Section("LOCKED OFF and labelled", columns, tuple(off), (0.24, 0.15, 0.1, 0.41, 0.1))
    if sheet.chosen:
        left = []
        for want, why in sheet.chosen.left_out:
            left.append(DocumentRow((Typed(want.name), f"{want.rank}", why)))
        bounds = sheet.chosen.bounds
        notes = (
            f"At most {bounds.circuits} circuits on {bounds.service_a:g} A.",
            *sheet.chosen.proof,
        )
        yield Section(
            "Left out, and why", ("want", "rank", "why"), tuple(left), (0.25, 0.08, 0.67), notes
        )
    yield Section("Temporary heat", notes=sheet.heat)
    if sheet.temporary:
        yield Section("Temporary service", (), _check_rows(sheet.temporary), ())
    yield Section("What this sheet does not cover", notes=NOT_COVERED)


def _live_section(sheet: HookupSheet) -> Section:
    """What the authority authorised; before that the proposal, headed as one."""
    columns = ("circuit", "breaker", "space", "leg", "amperes", "feeds")
    shares = (0.22, 0.15, 0.1, 0.08, 0.1, 0.35)
    rows = tuple(map(_live, sheet.live))
    if sheet.proposed:
        title = "PROPOSED to be live, not authorised"
        told = ["Nothing may be live before the authority has authorised it."]
        if not sheet.live:
            told.append("No circuit is chosen to be live.")
    else:
        title = "LIVE during construction"
        told = [_authorised_words(sheet)]
        if not sheet.live:
            told.append("No circuit is authorised to be live.")
    return Section(title, columns, rows, shares, (*told, *CAUTIONS[:2]))


def _authorised_words(sheet: HookupSheet) -> str:
    words = "As the authority authorised it"
    if sheet.authorised_on:
        words += f" on {sheet.authorised_on}"
    if sheet.reference:
        words += f", reference {sheet.reference}"
    return f"{words}: these circuits, and no others."


def _live(line: Breaker) -> DocumentRow:
    amps = ""
    if line.amps is not None:
        amps = f"{line.amps:.1f} A"
    return DocumentRow(
        (Typed(line.name), line.breaker, line.spaces, line.legs, amps, line.feeds), strong=True
    )


def _off(line: Breaker) -> DocumentRow:
    return DocumentRow((Typed(line.name), line.breaker, line.spaces, line.feeds, "[  ]"))


def _check_rows(checks: Sequence[Check]) -> tuple[DocumentRow, ...]:
    rows = []
    for check in checks:
        sections = []
        for x in check.limits:
            sections.append(f"{x.edition} {x.section}")
        rows.append(
            DocumentRow(
                (check.what, check.says),
                check.verdict.value,
                tuple(dict.fromkeys(sections)),
            )
        )
    return tuple(rows)


def _amended(book: Rulebook) -> tuple[str, ...]:
    lines = []
    for limit in book.amended:
        lines.append(amended_line(limit))
    return tuple(lines)
