"""Building models read in a process of its own, so that a broken one harms nothing."""

import json
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from config.child_process import CameToNothing, TookTooLong, ask_apart
from config.languages import say
from config.messages.message import Joined, Text, Value
from config.messages.stored import from_json, to_json

from . import model_messages as says

FORMS = (".ifc", ".dxf")
MOST_BYTES = 25_000_000
SECONDS = 90
MOST_UNREAD = 500


class ModelUnreadable(Exception):
    """A model that cannot be read; the text names the fault and the remedy."""

    def __init__(self, name: str, why: Text) -> None:
        self.text = says.REFUSED(file=name, why=why)
        super().__init__(self.text.id)

    def __str__(self) -> str:
        return say(self.text)


@dataclass(frozen=True, slots=True)
class ModelRead:
    """What became of a building model."""

    house: dict[str, Any]
    """A house file's values, for somebody to finish."""
    unread: list[Any]
    """What could not be read, by element: messages as they are stored."""
    areas: list[tuple[str, float, float | None]] = field(default_factory=list)
    """Each room's name, its floor area in m² as drawn, and as the file itself says."""
    lines: list[list[float]] = field(default_factory=list)
    """Lines to lay beneath the drawing: x and y of both ends, mm east and north."""


def read_model(name: str, content: bytes) -> ModelRead:
    """A house from an IFC or DXF file, by the ending of its name. Raises ModelUnreadable."""
    form = Path(name).suffix.lower()
    if form not in FORMS:
        raise ModelUnreadable(name, says.NOT_A_MODEL())
    refuse_too_large(name, len(content))
    _looks_like(form, name, content)
    with TemporaryDirectory(prefix="studbay-model-") as folder:
        path = Path(folder) / f"model{form}"
        path.write_bytes(content)
        made = _ask(form[1:], path, Path(name).stem or "House")
    if not made["house"]["rooms"]:
        told: Value = says.HAS_NONE()
        if made["unread"]:
            told = Joined(tuple(map(from_json, made["unread"][:3])), "; ")
        raise ModelUnreadable(name, says.NO_ROOMS(faults=told))
    unread = made["unread"]
    if len(unread) > MOST_UNREAD:
        more = to_json(says.MORE(n=len(unread) - MOST_UNREAD))
        unread = [*unread[:MOST_UNREAD], more]
    areas = []
    for said, drawn, stated in made["areas"]:
        areas.append((said, drawn, stated))
    return ModelRead(made["house"], unread, areas, made["lines"])


def refuse_too_large(name: str, size: int) -> None:
    """Refuse a model by its size, before it is read. Raises ModelUnreadable."""
    if size > MOST_BYTES:
        raise ModelUnreadable(name, says.TOO_LARGE(most=MOST_BYTES))


def _looks_like(form: str, name: str, content: bytes) -> None:
    head = content[:4096].lstrip(b"\xef\xbb\xbf \r\n\t")
    if form == ".ifc" and not head.startswith(b"ISO-10303-21"):
        raise ModelUnreadable(name, says.NOT_IFC())
    if form == ".ifc" and b"END-ISO-10303-21" not in content[-4096:]:
        raise ModelUnreadable(name, says.CUT_OFF())
    if form == ".dxf" and b"SECTION" not in head and not head.startswith(b"AutoCAD Binary DXF"):
        raise ModelUnreadable(name, says.NOT_DXF())


def _ask(form: str, path: Path, name: str) -> dict[str, Any]:
    child = "inspections.building.child"
    try:
        said = ask_apart(child, form, str(path), name, seconds=SECONDS)
    except TookTooLong:
        raise ModelUnreadable(name, says.TOO_LONG(n=SECONDS)) from None
    except CameToNothing:
        said = b""
    try:
        told = json.loads(said.splitlines()[-1])
    except (IndexError, ValueError):  # it died: out of memory, or by a fault of the library
        raise ModelUnreadable(name, says.BROKEN()) from None
    if "missing" in told:
        missing = says.NOT_INSTALLED(library=told["missing"], form=form.upper())
        raise ModelUnreadable(name, missing)
    if "fault" in told:
        raise ModelUnreadable(name, says.FAULT(fault=told["fault"]))
    read: dict[str, Any] = told
    return read
