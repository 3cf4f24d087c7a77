"""The arithmetic of the capacity model on costs that are given, and that its page says the same."""

import json
from pathlib import Path

import pytest

from bench import capacity_model as model
from bench.capacity_page import capacity_markdown

ROOT = Path(__file__).resolve().parents[2]
COSTS = {
    "a look": {"site": 10.0, "database": 2.0},
    "a tick": {"site": 20.0, "worker": 30.0, "database": 8.0, "broker": 0.5},
}
USE = (model.ActRate("a look", 4.0, ""), model.ActRate("a tick", 2.0, ""))


def test_a_day_of_a_job_is_each_act_as_often_as_it_comes() -> None:
    spent = model.a_day(COSTS, USE)
    assert spent == {"site": 80.0, "worker": 60.0, "database": 24.0, "broker": 1.0}
    assert model.heaviest_first(COSTS, USE) == ["site", "worker", "database", "broker"]


def test_the_dearest_act_is_that_on_which_most_is_spent() -> None:
    act, share = model.dearest(COSTS, USE)
    assert act == "a tick"
    assert share == pytest.approx(117 / 165)


def test_an_act_without_a_cost_is_not_taken_for_free() -> None:
    with pytest.raises(KeyError):
        model.a_day(COSTS, (*USE, model.ActRate("a thing nobody measured", 1.0, "")))


def test_processors_are_those_of_the_busiest_hour() -> None:
    # 100,000 jobs of 165 ms a day: a fifth of that is 3,300 s in an hour, at 60 % of a processor.
    assert model.processors(165.0, 100_000) == pytest.approx(3300 / 3600 / 0.6)
    assert model.processors(165.0, 0) == 0


@pytest.mark.parametrize("cores", [1, 2, 16])
def test_what_a_host_carries_keeps_it_just_busy_enough(cores: int) -> None:
    jobs = model.carried(165.0, cores)
    assert model.processors(165.0, jobs) <= cores < model.processors(165.0, jobs + 1)


def test_rates_sweeps_and_storage() -> None:
    assert model.rate(100_000, USE[0]) == pytest.approx(400_000 * 0.2 / 3600)
    assert model.in_one_sweep(25.0) == 2400
    assert model.in_one_sweep(25.0, 1) == 40
    assert model.storage_gb(250_000, 100_000) == 25.0


def test_the_page_is_what_the_script_writes_from_the_figures() -> None:
    figures = json.loads((ROOT / "docs/results/capacity.json").read_text())
    assert (ROOT / "docs/capacity.md").read_text() == capacity_markdown(figures)


def test_every_act_of_the_stated_use_was_measured() -> None:
    figures = json.loads((ROOT / "docs/results/capacity.json").read_text())
    assert {use.act for use in model.USE} == set(figures["costs"])
    assert all(set(parts) <= set(model.PARTS) for parts in figures["costs"].values())
