"""Broken building models: each a refusal that names the fault, in bounded time, nothing written."""

import json
import sys
from functools import partial
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from ezdxf.filemanagement import new

from config.child_process import ask_apart
from inspections import building
from inspections.building import child, reading
from inspections.building.reading import ModelUnreadable, read_model
from inspections.checker.load import load_house
from inspections.models import HouseRevision

from .models import Written, drawing, two_storeys

IFC = two_storeys("IFC4", 0.001).content()
SPACELESS = Written().content()


def swapped(old: bytes, new: bytes) -> bytes:
    """The good file with one thing otherwise."""
    assert old in IFC
    return IFC.replace(old, new)


def lines(keep) -> bytes:
    return b"\n".join(line for line in IFC.splitlines() if keep(line))


BAD_IFC = {
    "nothing": b"",
    "a space": b" ",
    "a word": b"house",
    "a zip": b"PK\x03\x04" + bytes(200),
    "zeros": bytes(5000),
    "cut at a tenth": IFC[: len(IFC) // 10],
    "cut in half": IFC[: len(IFC) // 2],
    "cut before its end": IFC[:-30],
    "header alone": b"ISO-10303-21;\nHEADER;\nENDSEC;\nEND-ISO-10303-21;\n",
    "no data": IFC[: IFC.index(b"DATA;")] + b"DATA;\nENDSEC;\nEND-ISO-10303-21;\n",
    "a schema of nobody's": swapped(b"FILE_SCHEMA(('IFC4'))", b"FILE_SCHEMA(('IFC9'))"),
    "no schema": swapped(b"FILE_SCHEMA(('IFC4'));", b""),
    "no spaces": SPACELESS,
    "spaces without shapes": lines(lambda line: b"IFCEXTRUDEDAREASOLID" not in line),
    "no storeys": lines(lambda line: b"IFCBUILDINGSTOREY" not in line),
    "words for numbers": IFC.replace(b"2400.", b"'tall'"),
    "numbers beyond number": IFC.replace(b"5000.", b"1.E999"),
    "an endless string": IFC.replace(b"'Bad'", b"'Bad"),
    "ten thousand brackets": IFC.replace(b"DATA;", b"DATA;\n#8=IFCWALL(" + b"(" * 10_000, 1),
    "XML": b"<?xml version='1.0'?><ifcXML/>",
    "JSON": b'{"format": "studbay-house-1"}',
}
TORN_IFC = {
    "no placements": lines(lambda line: b"IFCLOCALPLACEMENT" not in line),
    "floors of a line": swapped(b"IFCPOLYLINE((", b"IFCPOLYLINE(("[:-1] + b"(#1,"),
    "a reference to nothing": IFC.replace(b"#1=", b"#999999=", 1),
    "two of one number": IFC.replace(b"#2=", b"#1=", 1),
    "not a number": IFC.replace(b"5000.", b"NAN"),
    "binary within": IFC.replace(b"DATA;", b"DATA;\n\x00\xff\xfe", 1),
}
"""Damaged where a room does not need it: what is left is read."""
DXF_TEXT = b"0\nSECTION\n2\nENTITIES\n"
BAD_DXF = {
    "nothing": b"",
    "a word": b"plan",
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(100),
    "an empty section": DXF_TEXT + b"0\nENDSEC\n0\nEOF\n",
    "a section without end": DXF_TEXT,
    "an odd line": DXF_TEXT + b"0\nLWPOLYLINE\n70\n",
    "a word for a code": DXF_TEXT + b"zero\nLINE\n0\nENDSEC\n0\nEOF\n",
    "zeros after": DXF_TEXT + bytes(4000),
    "a block within itself": DXF_TEXT + b"0\nINSERT\n2\nME\n0\nENDSEC\n0\nEOF\n",
}


@pytest.mark.parametrize("name", BAD_IFC)
def test_a_broken_ifc_is_refused_with_its_fault(name) -> None:
    with pytest.raises(ModelUnreadable) as refused:
        read_model("house.ifc", BAD_IFC[name])
    assert "house" in str(refused.value)


@pytest.mark.parametrize("name", TORN_IFC)
def test_what_is_left_of_a_damaged_ifc_is_a_house_that_can_be_checked(name) -> None:
    read = read_model("house.ifc", TORN_IFC[name])
    load_house(json.dumps(read.house).encode())


@pytest.mark.parametrize("name", BAD_DXF)
def test_a_broken_dxf_is_refused_with_its_fault(name) -> None:
    with pytest.raises(ModelUnreadable) as refused:
        read_model("plan.dxf", BAD_DXF[name])
    assert "plan" in str(refused.value)


def made_dxf(tmp_path: Path, draw) -> bytes:
    made = new("R2010")
    made.header["$INSUNITS"] = 4
    draw(made.modelspace())
    made.saveas(tmp_path / "x.dxf")
    return (tmp_path / "x.dxf").read_bytes()


ODD_DXF = {
    "no closed line": lambda space: space.add_line((0, 0), (1000, 0)),
    "a closed line too small": lambda s: s.add_lwpolyline([(0, 0), (9, 0), (9, 9)], close=True),
    "a closed line without area": lambda s: s.add_lwpolyline([(0, 0), (9000, 0)], close=True),
    "all in one point": lambda s: s.add_lwpolyline([(5, 5)] * 6, close=True),
}


@pytest.mark.parametrize("name", ODD_DXF)
def test_a_drawing_without_a_room_says_so(tmp_path, name) -> None:
    with pytest.raises(ModelUnreadable, match="No room could be read"):
        read_model("plan.dxf", made_dxf(tmp_path, ODD_DXF[name]))


@pytest.mark.parametrize("name", ["house.rvt", "house", "house.ifc.exe", "../../etc/passwd"])
def test_another_kind_of_file_is_refused_by_its_name(name) -> None:
    with pytest.raises(ModelUnreadable, match="not a building model"):
        read_model(name, IFC)


def test_a_file_beyond_the_limit_is_not_even_opened(monkeypatch) -> None:
    monkeypatch.setattr(reading, "MOST_BYTES", 1000)
    with pytest.raises(ModelUnreadable, match="over 1,000 bytes"):
        read_model("house.ifc", IFC)


def test_one_that_takes_too_long_is_stopped(monkeypatch) -> None:
    monkeypatch.setattr(reading, "SECONDS", 1)
    monkeypatch.setattr("config.child_process.sys.executable", "/bin/sleep")
    with pytest.raises(ModelUnreadable, match=r"longer than 1 second|damaged or too large"):
        read_model("house.ifc", IFC)


def test_one_that_takes_too_much_memory_is_stopped(monkeypatch) -> None:
    monkeypatch.setattr(reading, "ask_apart", partial(ask_apart, memory=20_000_000))
    with pytest.raises(ModelUnreadable, match=r"damaged or too large|cannot be read|not installed"):
        read_model("house.ifc", IFC)


class Unloadable:
    """Finds the library of a form, which the system then refuses to load."""

    @staticmethod
    def find_spec(name: str, *_: object) -> None:
        if name == "inspections.building.ifc":
            raise ImportError("failed to map segment from shared object")


def test_a_library_that_cannot_be_loaded_is_a_fault_and_not_a_missing_one(
    monkeypatch, capsys
) -> None:
    monkeypatch.delitem(sys.modules, "inspections.building.ifc", raising=False)
    monkeypatch.delattr(building, "ifc", raising=False)
    monkeypatch.setattr(sys, "meta_path", [Unloadable, *sys.meta_path])
    assert child.main("ifc", "house.ifc", "house.ifc") == 2
    assert json.loads(capsys.readouterr().out) == {
        "fault": "ImportError: failed to map segment from shared object"
    }


@pytest.mark.django_db
def test_a_good_one_comes_onto_the_board_and_a_bad_one_says_why(client, shop, tmp_path) -> None:
    job = shop.job()
    client.force_login(shop.office)
    address = reverse("draw-model", args=[job.id])
    good = SimpleUploadedFile("plan.dxf", drawing(tmp_path / "plan.dxf"))
    answer = client.post(address, {"model": good})
    assert "BEDROOM 1" in answer.content.decode()
    assert "could not be read" in answer.content.decode()
    bad = SimpleUploadedFile("house.ifc", b"no")
    answer = client.post(address, {"model": bad}, follow=True)
    assert "does not begin as an IFC file does" in answer.content.decode()
    answer = client.post(address, follow=True)
    assert "No file was sent" in answer.content.decode()
    assert shop.own(HouseRevision).count() == 0
