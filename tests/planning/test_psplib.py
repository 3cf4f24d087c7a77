"""Published instances: read, planned, never worse than a plain model that proves its best."""

import pytest
from django.core.management import CommandError, call_command

from jobs.management.commands.plan_psplib import read_instance
from jobs.planning.effort import Effort
from jobs.planning.psplib import plan_instance
from tests.planning.instances import instance, written
from tests.planning.plain import plain_makespan

EFFORT = Effort(seconds=60, workers=2, repeatable=False)


@pytest.mark.parametrize("seed", range(4))
def test_the_makespan_is_what_a_plain_model_proves(seed: int, tmp_path) -> None:
    jobs, capacities = read_instance(written(tmp_path, seed, 20))
    best, bound = plain_makespan(jobs, capacities, 60, 2)
    assert best == bound
    found = plan_instance(jobs, capacities, EFFORT)
    assert (found.value, found.bound) == (best, best)
    for number, job in enumerate(jobs):
        for later in job.successors:
            assert found.starts[number] + job.duration <= found.starts[later]
    for slot in range(found.value):
        on = [j for j, s in zip(jobs, found.starts, strict=True) if s <= slot < s + j.duration]
        for resource, capacity in enumerate(capacities):
            assert sum(job.demands[resource] for job in on) <= capacity


def test_the_command_prints_makespan_and_bound(tmp_path, capsys) -> None:
    call_command("plan_psplib", str(written(tmp_path, 1, 12)), "--seconds", "30")
    words = capsys.readouterr().out.split()
    assert words[:2] == ["own12_1.sm:", "makespan"]
    assert words[2].rstrip(",") == words[4].rstrip(",")


def test_a_file_that_is_none_is_refused_by_name(tmp_path) -> None:
    path = tmp_path / "none.sm"
    path.write_text("nothing")
    with pytest.raises(CommandError, match=r"none\.sm cannot be read"):
        call_command("plan_psplib", str(path))


def test_a_resource_that_is_used_up_is_refused(tmp_path) -> None:
    path = tmp_path / "used.sm"
    path.write_text(instance(1, 5).replace("R 4", "N 1"))
    with pytest.raises(CommandError, match="not renewable"):
        call_command("plan_psplib", str(path))
