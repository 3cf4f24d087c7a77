"""Large house files are read one at a time; small ones wait for nobody."""

import threading
import time

import pytest

from inspections.checker.load import HouseFaults, load_house
from inspections.checker.load import large as large_module
from inspections.checker.load.large import LARGE, one_at_a_time


def together(size: int) -> int:
    """How many of three threads read files of that size at the same moment, at most."""
    now, most, lock = [0], [0], threading.Lock()

    def read() -> None:
        with one_at_a_time(size):
            with lock:
                now[0] += 1
                most[0] = max(most[0], now[0])
            time.sleep(0.05)
            with lock:
                now[0] -= 1

    threads = [threading.Thread(target=read) for _ in range(3)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    return most[0]


def test_large_files_wait_for_one_another() -> None:
    assert together(LARGE) == 1


def test_small_files_wait_for_nobody() -> None:
    assert together(LARGE - 1) == 3


def test_a_house_file_is_read_under_that_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    class Counted:
        entered = 0

        def __enter__(self) -> None:
            Counted.entered += 1

        def __exit__(self, *_: object) -> None:
            pass

    monkeypatch.setattr(large_module, "_READING", Counted())
    with pytest.raises(HouseFaults):
        load_house(b" " * LARGE)
    assert Counted.entered == 1


def test_a_missing_key_that_is_called_like_a_surface_is_named() -> None:
    house = """{"format": "studbay-house/1", "name": "h", "storeys": [], "areas": [], "rooms": [],
        "boxes": [{"id": "b", "room": "r", "place": {"surface": "floor", "at_mm": 1}}]}"""
    with pytest.raises(HouseFaults) as refused:
        load_house(house.encode())
    assert any(fault.path == "boxes[0].place.wall" for fault in refused.value.faults)
