"""What reading a workbook costs: `python -m bench.workbook [BOXES]`, in seconds of CPU.

The house is the second example, its boxes, devices and cables repeated until there are so many.
"""

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from time import process_time

from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.workbook import csv_zip, read_house, xlsx

SOURCE = Path(__file__).resolve().parent.parent / "examples" / "quillet-corrected.json"


def grown(boxes: int) -> House:
    """The example with so many boxes, and as many more cables."""
    house = load_house(SOURCE.read_bytes())
    more = boxes - len(house.boxes)
    extra = []
    for n in range(max(more, 0)):
        extra.append(house.boxes[n % len(house.boxes)])
    copies = []
    for n, box in enumerate(extra):
        copies.append(box.model_copy(update={"id": f"more-{n}"}))
    added = tuple(copies)
    found = []
    for n in range(len(added)):
        found.append(house.cables[n % len(house.cables)].model_copy(update={"id": f"run-{n}"}))
    runs = tuple(found)
    return house.model_copy(update={"boxes": house.boxes + added, "cables": house.cables + runs})


def main() -> None:
    """A line a form: what writing and reading it takes, against reading JSON."""
    house = grown(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
    text = house.model_dump_json().encode()
    plain = _taken(lambda: load_house(text))
    print(f"{len(house.boxes)} boxes, {len(house.cables)} cables; JSON is read in {plain:.3f} s")
    for name, make in (("xlsx", xlsx), ("CSV in a zip", csv_zip)):
        made = make(house)
        assert read_house(made) == house
        write, read = _taken(partial(make, house)), _taken(partial(read_house, made))
        print(f"{name}: written in {write:.3f} s, read in {read:.3f} s, {read / plain:.1f} × JSON")


def _taken(work: Callable[[], object]) -> float:
    began = process_time()
    work()
    return process_time() - began


if __name__ == "__main__":
    main()
