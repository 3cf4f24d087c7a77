"""The site list read back from paper: how many sheets, what is on them, what is ticked."""

import re
from collections import Counter
from io import BytesIO

import pdfplumber
import pytest
from django.urls import reverse

from config.languages import say
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.load import load_house
from inspections.models import Item, Outcome
from inspections.overview.open_lines import open_lines
from inspections.papers.sheets import site_rows
from inspections.papers.sheets.checklist import SeenMark
from inspections.papers.sheets.frame import MARGIN, PAD
from inspections.papers.sheets.large_frame import GAP, upright
from inspections.papers.sheets.site_list import SiteList, site_list_pdf
from inspections.papers.sheets.tick_boxes import TickBox, draw_tick
from inspections.papers.site_list import job_site_list_pdf
from inspections.selectors import checklist, latest_revision
from inspections.services.observations import item_observe
from tests.conftest import EXAMPLES
from tests.sheets.test_checklist_sheet import by_hand
from tests.sure import sure

OPEN = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)
EIGHT_MM = 8 * 72 / 25.4
SHEETS = {"quillet-planted": 4, "quillet-corrected": 2, "gannet": 1}
"""The most that each house may take."""


def listed(name: str, **given) -> tuple[SiteList, bytes]:
    house = load_house((EXAMPLES / f"{name}.json").read_bytes())
    rulebook = load_rulebook(sure(house.rulebook))
    findings = [each for each in check(house, rulebook) if each.rule.stage == "rough-in"]
    made = SiteList(house, findings, **given)
    return made, site_list_pdf(made, rulebook)


def pages(pdf: bytes) -> list[str]:
    with pdfplumber.open(BytesIO(pdf)) as opened:
        return [page.extract_text() for page in opened.pages]


def columns(pdf: bytes) -> str:
    """The words of the list as they are read: each sheet after the first, column by column."""
    found = []
    with pdfplumber.open(BytesIO(pdf)) as opened:
        for page in opened.pages[1:]:
            wide = upright("letter").column
            for first in (MARGIN + PAD, MARGIN + PAD + wide + GAP):
                left = first + site_rows.NUMBER - 1
                found.append(page.crop((left, 0, first + wide, page.height)).extract_text())
    return re.sub(r"\s+", "", "".join(found))


@pytest.fixture
def drawn(monkeypatch) -> list[TickBox]:
    """The boxes that the list draws, as they are drawn."""
    boxes: list[TickBox] = []

    def draw(canvas, tick, left, bottom):
        boxes.append(tick)
        draw_tick(canvas, tick, left, bottom)

    monkeypatch.setattr(site_rows, "draw_tick", draw)
    return boxes


@pytest.mark.parametrize("name", SHEETS)
def test_a_house_takes_few_sheets(name) -> None:
    assert len(pages(listed(name)[1])) <= SHEETS[name]


def test_fifteen_open_lines_take_two_sheets() -> None:
    made, _ = listed("quillet-planted")
    opened = [each for each in made.findings if each.verdict in OPEN]
    kept = {each.key for each in opened[4:34:2]}
    assert len(kept) == 15
    some = [each for each in made.findings if each.verdict not in OPEN or each.key in kept]
    pdf = site_list_pdf(SiteList(made.house, some), load_rulebook("cec-2021"))
    assert len(pages(pdf)) == 2
    assert "15 Not to code" in pages(pdf)[0] or "Info needed" in pages(pdf)[0]


@pytest.mark.parametrize("name", SHEETS)
def test_no_letter_is_smaller_than_nine_points_and_a_hand_can_write(name) -> None:
    with pdfplumber.open(BytesIO(listed(name)[1])) as opened:
        for page in opened.pages:
            for char in page.chars:
                assert char["size"] >= 8.99, (page.page_number, char["text"], char["size"])
            for rect in page.rects:
                if rect["width"] == pytest.approx(site_rows.WRITE):
                    assert rect["height"] >= EIGHT_MM


def test_each_open_line_is_said_once_and_its_number_is_on_the_plan() -> None:
    made, pdf = listed("quillet-planted")
    text, plan = columns(pdf), Counter(re.findall(r"\d+", pages(pdf)[0]))
    opened = [each for each in made.findings if each.verdict in OPEN]
    for number, finding in enumerate(opened, 1):
        said = re.sub(r"\s+", "", say(finding.words.says))
        same = [each for each in opened if say(each.words.says) == say(finding.words.says)]
        assert text.count(said) == len(same), said
        assert re.sub(r"\s+", "", say(finding.words.remedy)) in text
        assert plan[str(number)], number


def test_what_rooms_have_in_common_to_verify_is_said_once() -> None:
    _, pdf = listed("quillet-planted")
    text = " ".join(pages(pdf)).replace("\n", " ")
    assert text.count("Every box is secured to framing and does not move.") == 1
    assert text.count("Cable sheaths are whole from end to end.") == 1


def answered(finding: Finding) -> bool:
    return finding.verdict is Verdict.VERIFY or finding.rule.workmanship


def test_what_is_answered_prints_no_open_box(drawn) -> None:
    """Each finding that somebody answered OK is ticked, with who and when."""
    made, _ = listed("gannet")
    assert TickBox.OPEN in drawn
    mark = SeenMark("OK", "Tobin Vale", "2026-03-16", passed=True)
    drawn.clear()
    marks = {each.key: mark for each in made.findings if answered(each)}
    _, pdf = listed("gannet", marks=marks)
    assert set(drawn) == {TickBox.OK}
    text = re.sub(r"\s+", "", "".join(pages(pdf)))
    assert "12boxes:TobinVale,2026-03-16" in text
    assert "66OKonsite" not in text  # what is as drawn was seen as well
    assert f"{len(marks)}OKonsite" in text


def test_of_a_card_that_is_answered_in_part_the_rest_is_open_by_name(drawn) -> None:
    made, _ = listed("gannet")
    mark = SeenMark("OK", "Tobin Vale", "2026-03-16", passed=True)
    (one,) = (
        each
        for each in made.findings
        if each.rule.id == "box-support" and each.spot.room == "kitchen"
    )
    drawn.clear()
    _, pdf = listed("gannet", marks={one.key: mark})
    assert drawn.count(TickBox.OK) == 1
    text = re.sub(r"\s+", "", "".join(pages(pdf)))
    assert "Boxsupport:TobinVale,2026-03-16" in text
    assert text.count("Boxsupport") == 1
    assert "Unusedopeningsclosed" in text


@pytest.mark.django_db
def test_a_job_has_the_numbers_of_its_open_lines_and_what_was_said(
    shop, planted_bytes, drawn
) -> None:
    job = shop.roughed_in(planted_bytes)
    by_eye = job.items.filter(verdict="verify", stage="rough-in").first()
    item_observe(shop.member, item=by_eye, outcome=Outcome.FIX, note="hangs loose")
    passed = job.items.filter(verdict="verify", stage="rough-in")[1]
    item_observe(shop.member, item=passed, outcome=Outcome.OK)
    drawn.clear()
    pdf = job_site_list_pdf(job, sure(latest_revision(job)))
    lines = open_lines(checklist(job, stage=Item.Stage.ROUGH_IN))
    assert lines[-1].line.item.id == by_eye.id
    text = columns(pdf)
    assert text.count("hangsloose") == 1
    assert drawn.count(TickBox.FIX) == 1
    assert drawn.count(TickBox.OK) >= 1
    assert "Still current?" in pages(pdf)[0]
    assert len(pages(pdf)) <= SHEETS["quillet-planted"] + 1


@pytest.mark.django_db
def test_it_is_for_the_shop_alone(shop, client, house_bytes) -> None:
    job = shop.roughed_in(house_bytes)
    address = reverse("site-list-pdf", args=[job.id])
    client.force_login(shop.lead)
    assert client.get(address).content.startswith(b"%PDF")
    client.force_login(shop.builder)
    assert client.get(address).status_code == 404


def test_what_is_as_drawn_is_counted_by_what_is_open_and_by_what_was_seen() -> None:
    """A row counts its own checks, so that no check of a room is counted twice."""
    made, _ = listed("gannet")
    drawn = [each for each in made.findings if by_hand(each) and each.spot.room == "kitchen"]
    mark = SeenMark("OK", "Tobin Vale", "2026-03-16", passed=True)
    _, pdf = listed("gannet", marks={drawn[0].key: mark})
    text = re.sub(r"\s+", "", "".join(pages(pdf)))
    assert f"{len(drawn) - 1}asdrawn:" in text
    assert "1asdrawn:" in text
    assert f"{len(drawn)}asdrawn:" not in text


def test_what_does_not_apply_prints_its_reason() -> None:
    made, _ = listed("gannet")
    alone = next(each for each in made.findings if by_hand(each))
    mark = SeenMark("N/A", "Tobin Vale", "2026-03-16", "no alarm in this room", na=True)
    _, pdf = listed("gannet", marks={alone.key: mark})
    assert "noalarminthisroom" in re.sub(r"\s+", "", "".join(pages(pdf)))
