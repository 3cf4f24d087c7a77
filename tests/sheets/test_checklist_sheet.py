"""The checklist sheet, read back from the PDF."""

import json
import re
from collections import Counter
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from pypdf import PdfReader
from pypdf.generic import Destination

from config.languages import say
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import TO_DO, Finding, Verdict
from inspections.checker.load import load_house
from inspections.papers.sheets.checklist import SeenMark, checklist_pdf
from inspections.papers.sheets.frame import TitleBlock
from inspections.papers.sheets.styles import REGULAR, register_fonts, width, wrapped
from tests.clock import Clock
from tests.conftest import EXAMPLES
from tests.sure import of_kind, sure

AMENDED = """
name = "Fernhollow"
[[amend]]
limit = "wide-box-support.braces"
value = 2
unit = "braces"
reason = "boxes sag in the wind"
[[amend]]
limit = "wall-receptacles.reach_mm"
value = 2000
unit = "mm"
reason = "trial"
"""


@pytest.fixture(scope="module")
def planted():
    house = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    rulebook = load_rulebook("cec-2021")
    return house, rulebook, check(house, rulebook)


def pages(pdf: bytes) -> list[str]:
    """The text of each page, on one line, since a line break may fall anywhere."""
    return [squeezed(page.extract_text()) for page in PdfReader(BytesIO(pdf)).pages]


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def by_hand(finding: Finding) -> bool:
    """Whether a finding is OK on plan and waits for somebody on site."""
    return finding.rule.workmanship and finding.verdict is Verdict.OK


def test_every_finding_is_on_the_sheet_with_its_working_and_section(planted) -> None:
    house, rulebook, findings = planted
    text = "".join(pages(checklist_pdf(house, rulebook, findings)))
    for finding in findings:
        if by_hand(finding):  # its room has one line for all of them
            assert squeezed(say(finding.rule.named)) in text
            continue
        words = finding.words
        for part in (words.says, words.remedy, *words.working, finding.section):
            assert squeezed(say(part)) in text, finding.key


def test_each_page_carries_the_title_block_and_its_number(planted) -> None:
    block = TitleBlock(
        sheet="Rough-in checklist", job="Lot 14", address="14 Quillet Lane", revision="3"
    )
    found = pages(checklist_pdf(*planted, title_block=block))
    assert len(found) > 5
    for number, text in enumerate(found, 1):
        assert f"{number}of{len(found)}" in text
        assert "14QuilletLane" in text


def test_areas_are_in_the_outline(planted) -> None:
    house, _, _ = planted
    outline = PdfReader(BytesIO(checklist_pdf(*planted))).outline
    names = [area.name for area in house.areas]
    titles = [of_kind(Destination, entry).title for entry in outline]
    assert titles == [*names, *(f"{n} (finish)" for n in names)]


def test_the_same_input_gives_the_same_bytes_but_for_the_time_of_making(
    planted, monkeypatch
) -> None:
    clock = Clock(datetime(2026, 3, 13, 22, 0, 5, tzinfo=UTC)).put(monkeypatch)
    made = checklist_pdf(*planted)
    assert made == checklist_pdf(*planted)
    about = sure(PdfReader(BytesIO(made)).metadata)
    assert about.creation_date == clock.now.replace(microsecond=0)
    clock.now += timedelta(days=1)
    later = checklist_pdf(*planted)
    assert later != made
    about = sure(PdfReader(BytesIO(later)).metadata)
    assert sure(about.modification_date).day == 14


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_paper(planted, paper: str, size: tuple[int, int]) -> None:
    box = PdfReader(BytesIO(checklist_pdf(*planted, paper=paper))).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_what_was_seen_stands_beside_its_item(planted) -> None:
    house, rulebook, findings = planted
    marks = {findings[0].key: SeenMark("fail", "Tobin Vale", "2026-03-16", "stud split")}
    text = "".join(pages(checklist_pdf(house, rulebook, findings, marks=marks)))
    assert squeezed("Seen: fail, Tobin Vale, 2026-03-16: stud split") in text


def test_amended_limits_come_first_and_a_loosened_one_says_so(planted) -> None:
    house, _, _ = planted
    rulebook = load_rulebook("cec-2021", AMENDED)
    first = pages(checklist_pdf(house, rulebook, check(house, rulebook)))[0]
    assert squeezed("amended: wide-box-support.braces 1 to 2 braces: boxes sag") in first
    assert squeezed("LOOSENED: wall-receptacles.reach_mm 1800 to 2000") in first


def test_no_findings_and_names_in_other_letters() -> None:
    small = json.loads((EXAMPLES / "gannet.json").read_bytes())
    for part in ("boxes", "cables", "counters", "holes", "separations"):
        small[part] = []
    small["rooms"] = [room | {"walls": [], "fixtures": []} for room in small["rooms"]]
    small["name"] = "Łąkowa 7, Дом ½"
    house = load_house(json.dumps(small).encode())
    rulebook = load_rulebook("cec-2021")
    findings = check(house, rulebook)
    assert "Łąkowa7,Дом½" in pages(checklist_pdf(house, rulebook, findings))[-1]
    assert len(pages(checklist_pdf(house, rulebook, []))) == 1


def test_four_hundred_items_fill_many_sheets(planted) -> None:
    house, rulebook, findings = planted
    alone = {finding.key for finding in findings}
    many = ([f for f in findings if f.rule.id == "box-fill"] * 4)[:400]
    found = pages(checklist_pdf(house, rulebook, many, alone=alone))
    assert sum(text.count("Boxfill:") for text in found) > 200


def test_a_word_wider_than_the_sheet_is_broken() -> None:
    register_fonts()
    long = "x" * 500
    lines = wrapped(f"a {long} b", REGULAR, 8, 200)
    assert "".join(lines).replace(" ", "") == f"a{long}b"
    assert all(width(line, REGULAR, 8) <= 200 for line in lines)


def test_a_title_longer_than_its_cell_is_cut_with_an_ellipsis(planted) -> None:
    block = TitleBlock(sheet="Checklist", job="A very long job name " * 10)
    assert "…" in pages(checklist_pdf(*planted, title_block=block))[0]


def test_an_answered_line_is_ticked_and_asks_for_nothing(planted) -> None:
    house, rulebook, findings = planted
    looks = [each for each in findings if each.verdict is Verdict.VERIFY and each.words.remedy]
    passed, failed = looks[0], looks[1]
    marks = {
        passed.key: SeenMark("pass", "Tobin Vale", "2026-03-16", passed=True),
        failed.key: SeenMark("fail", "Tobin Vale", "2026-03-16", failing=True),
    }
    before = "".join(pages(checklist_pdf(house, rulebook, findings)))
    after = "".join(pages(checklist_pdf(house, rulebook, findings, marks=marks)))
    to_do = squeezed(say(TO_DO(remedy=passed.words.remedy)))
    same = sum(each.words.remedy == passed.words.remedy for each in findings)
    assert after.count(to_do) == before.count(to_do) - 1, same
    assert squeezed("Seen: pass, Tobin Vale, 2026-03-16") in after
    number = Counter(each.verdict for each in findings)
    assert squeezed(f"{number[Verdict.VERIFY]} Verify") in before
    assert squeezed(f"{number[Verdict.VERIFY] - 2} Verify") in after
    assert squeezed(f"{number[Verdict.NOT_TO_CODE] + 1} Not to code") in after
    on_plan = number[Verdict.OK]
    assert squeezed(f"1 OK on site confirmed on site {on_plan} OK on plan by the figures") in after
    assert squeezed(f"0 OK on site confirmed on site {on_plan} OK on plan by the figures") in before


def test_only_an_answered_line_has_a_tick_in_its_square(planted) -> None:
    house, rulebook, findings = planted
    one = next(each for each in findings if each.verdict is Verdict.VERIFY)
    stroke = b"2.5 6 m 5 3 l 10 9.5 l S"
    for mark, ticks in (
        (SeenMark("pass", "Tobin Vale", "2026-03-16", passed=True), 1),
        (SeenMark("fail", "Tobin Vale", "2026-03-16", failing=True), 0),
        (SeenMark("changed since it was seen", "Tobin Vale", "2026-03-16"), 0),
    ):
        pdf = PdfReader(BytesIO(checklist_pdf(house, rulebook, findings, marks={one.key: mark})))
        drawn = b"".join(sure(page.get_contents()).get_data() for page in pdf.pages)
        assert drawn.count(stroke) == ticks, mark


def of_first_room(findings) -> list[Finding]:
    """What is as drawn in the first room that has any."""
    drawn = [finding for finding in findings if by_hand(finding)]
    return [each for each in drawn if each.spot.room == drawn[0].spot.room]


def squares(pdf: bytes) -> int:
    """How many squares there are to tick."""
    drawn = b"".join(sure(page.get_contents()).get_data() for page in PdfReader(BytesIO(pdf)).pages)
    return drawn.count(b" 12.0 12.0 re S ")


def test_a_room_has_one_line_for_all_that_is_as_drawn(planted) -> None:
    house, rulebook, findings = planted
    room = of_first_room(findings)
    text = "".join(pages(checklist_pdf(house, rulebook, findings)))
    fills = sum(finding.rule.id == "box-fill" for finding in room)
    assert fills > 1
    assert squeezed(f"As drawn on site: {len(room)} checks: Box fill ({fills})") in text
    apart = {finding.key for finding in findings}
    saved = sum(by_hand(each) for each in findings)
    saved -= len({(each.rule.stage, each.spot.room) for each in findings if by_hand(each)})
    one_each = squares(checklist_pdf(house, rulebook, findings, alone=apart))
    assert squares(checklist_pdf(house, rulebook, findings)) == one_each - saved


def test_what_is_confirmed_is_ticked_with_who_and_when_and_the_rest_is_open(planted) -> None:
    house, rulebook, findings = planted
    *confirmed, wrong, left = of_first_room(findings)
    seen = SeenMark("OK", "Tobin Vale", "2026-03-16", passed=True)
    marks = {each.key: seen for each in confirmed}
    marks[wrong.key] = SeenMark("Fix", "Ann Reed", "2026-03-16", "moved", failing=True)
    pdf = checklist_pdf(house, rulebook, findings, marks=marks)
    text = "".join(pages(pdf))
    line = f"As drawn on site: {len(confirmed)} checks: "
    assert squeezed(line) in text
    after = text.partition(squeezed(line))[2]
    assert after.index(squeezed("Seen: OK, Tobin Vale, 2026-03-16")) < 400
    assert squeezed(f"As drawn on site: 1 check: {say(left.rule.named)}") in after
    assert squeezed("Seen: Fix, Ann Reed, 2026-03-16: moved") in text
    assert squeezed(say(wrong.words.says)) in text
    stroke = b"2.5 6 m 5 3 l 10 9.5 l S"
    drawn = b"".join(sure(page.get_contents()).get_data() for page in PdfReader(BytesIO(pdf)).pages)
    assert drawn.count(stroke) == 1


def test_each_area_says_how_many_are_ok_on_site_and_how_many_only_on_plan(planted) -> None:
    house, rulebook, findings = planted
    *confirmed, _ = of_first_room(findings)
    area = confirmed[0].spot.area
    seen = SeenMark("OK", "Tobin Vale", "2026-03-16", passed=True)
    marks = {each.key: seen for each in confirmed}
    text = "".join(pages(checklist_pdf(house, rulebook, findings, marks=marks)))
    rough = [each for each in findings if each.rule.stage == "rough-in"]
    for each in house.areas:
        met = sum(f.spot.area == each.id and f.verdict is Verdict.OK for f in rough)
        site = len(confirmed) if each.id == area else 0
        heading = f"{each.name} OK on site: {site}. OK on plan only: {met - site}."
        assert squeezed(heading) in text
