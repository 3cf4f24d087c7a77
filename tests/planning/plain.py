"""A plain CP-SAT model of a scheduling instance, as anybody would write it: the measure."""

from ortools.sat.python import cp_model


def plain_makespan(jobs, capacities, seconds: float, workers: int) -> tuple[int, int]:
    """The makespan it reaches in that time, and the bound; with no plan found, one job after
    another.
    """
    model = cp_model.CpModel()
    horizon = sum(job.duration for job in jobs)
    starts = [model.new_int_var(0, horizon, "") for _ in jobs]
    spans = [
        model.new_fixed_size_interval_var(start, job.duration, "")
        for start, job in zip(starts, jobs, strict=True)
    ]
    for number, job in enumerate(jobs):
        for later in job.successors:
            model.add(starts[later] >= starts[number] + job.duration)
    for resource, capacity in enumerate(capacities):
        using = [n for n, job in enumerate(jobs) if job.demands[resource]]
        model.add_cumulative(
            [spans[n] for n in using], [jobs[n].demands[resource] for n in using], capacity
        )
    makespan = model.new_int_var(0, horizon, "")
    for start, job in zip(starts, jobs, strict=True):
        model.add(makespan >= start + job.duration)
    model.minimize(makespan)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return horizon, 0
    return round(solver.objective_value), round(solver.best_objective_bound)
