"""What a large body took goes back to the system when it is answered."""

import gc

import pytest

from config.web import LARGE, giving_back


@pytest.mark.parametrize(("length", "collected"), [("", 0), (str(LARGE), 0), (str(LARGE + 1), 1)])
def test_memory_goes_back_after_a_large_body_alone(
    monkeypatch: pytest.MonkeyPatch, length: str, collected: int
) -> None:
    collections: list[int] = []
    monkeypatch.setattr(gc, "collect", lambda: collections.append(1))
    answer = giving_back(lambda environ, _: [environ["CONTENT_LENGTH"].encode()])
    assert answer({"CONTENT_LENGTH": length}, None) == [length.encode()]
    assert len(collections) == collected
