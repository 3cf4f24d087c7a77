"""The page of capacity, written from figures: docs/capacity.md. Nothing in it is typed by hand."""

import math
from typing import Any

from bench import capacity_model as model

MANY = 100_000
CORES = 2
WORDS = {
    "site": "Add hosts of the site behind the balancer: nothing is kept in a site.",
    "worker": "Add workers on any host: whatever they do is safe to do twice.",
    "database": "A larger host for PostgreSQL; then shops in several clusters, since no query "
    "crosses shops. Reading from a replica is not built.",
    "broker": "It keeps nothing that the sweep does not find again; a cluster each is long enough.",
}


def capacity_markdown(figures: dict[str, Any]) -> str:
    """The whole page as Markdown."""
    costs = figures["costs"]
    order = model.heaviest_first(costs)
    day = model.a_day(costs)
    parts = [_head(figures), _costs(costs), _use(), _host(costs), _many(figures), _order(order)]
    return "\n\n".join([*parts, _edges(costs, day)]) + "\n"


def _table(head: list[str], rows: list[list[str]]) -> str:
    lines = [head, ["---"] + ["---:"] * (len(head) - 1), *rows]
    parts = []
    for line in lines:
        parts.append(f"| {' | '.join(line)} |")
    return "\n".join(parts)


def _head(figures: dict[str, Any]) -> str:
    parts = []
    for name, number in figures["versions"].items():
        parts.append(f"{name} {number}")
    versions = ", ".join(parts)
    found = []
    for each in figures["load average"]:
        found.append(f"{each:.2f}")
    loads = ", ".join(found)
    return f"""# Capacity

What one host carries and what many jobs need, from what each act costs. Written by `make capacity`
(`bench/capacity.py`); do not edit. **Measured** are the costs, on {figures["machine"]}, Python
{figures["python"]}, {versions}; load average at the end {loads} over 1, 5 and 15 minutes; with
{figures["jobs in the database"]:,} jobs in the database. **Assumed** is how often each act comes:
our estimate, no source. What follows from both is no better than the second."""


def _costs(costs: model.Costs) -> str:
    rows = []
    for act, parts in costs.items():
        found = []
        for part in model.PARTS:
            found.append(f"{parts.get(part, 0):.2f}")
        rows.append([act, *found, f"{sum(parts.values()):.1f}"])
    return f"""## What an act costs

Milliseconds of one processor, by the part that spends them: the site in gunicorn, over HTTP on
loopback; worker and messenger with Celery; PostgreSQL; Valkey. A mail server's own work is not in
it. The house has 118 boxes; the office's day is that of a shop with 200 open jobs.

{_table(["act", *model.PARTS, "together"], rows)}"""


def _use() -> str:
    rows = []
    for each in model.USE:
        rows.append([each.act, f"{each.a_day:g}", each.why])
    return f"""## A day of an open job

Our estimate, no source. Of a day's acts {model.BUSY_SHARE:.0%} come in the busiest hour (our
estimate), in which no processor is to be busier than {model.FULL:.0%}, so that queues stay short.

{_table(["act", "a day", "because"], rows)}"""


def _host(costs: model.Costs) -> str:
    day = model.a_day(costs)
    total = sum(day.values())
    act, share = model.dearest(costs)
    rows = []
    for part in model.PARTS:
        rows.append(
            [
                part,
                f"{day[part]:,.0f}",
                f"{day[part] / total:.0%}",
                f"{model.carried(day[part], 1):,}",
            ]
        )
    head = ["part", "ms a day and job", "share", "jobs that one processor of its own carries"]
    return f"""## One host of {CORES} processors

With everything on it: **{model.carried(total, CORES):,} open jobs**. Of all that is spent,
{share:.0%} goes to one act: {act}. Whoever wants more of a host begins there.

{_table(head, rows)}"""


def _many(figures: dict[str, Any]) -> str:
    day, rows = model.a_day(figures["costs"]), []
    for part in model.PARTS:
        need = model.processors(day[part], MANY)
        mb = figures["MB a process"].get(part)
        memory = "not measured"
        if mb:
            memory = f"{mb} MB each"
        rows.append([part, f"{need:.1f}", f"{math.ceil(need)}", memory])
    every = sum(model.processors(day[part], MANY) for part in model.PARTS)
    rates = {}
    for each in model.USE:
        rates[each.act] = model.rate(MANY, each)
    ticks = rates["a tick by the API, and its settling"]
    mails, size = rates["a notice by mail"], figures["bytes a job"]
    return f"""## {MANY:,} open jobs

{_table(["part", "processors", "processes of one processor", "memory"], rows)}

Together {every:.1f} processors: {math.ceil(every / CORES)} hosts of {CORES}, or fewer larger ones.
In the busiest hour {ticks:.0f} ticks and {mails:.0f} mails a second. One job of this kind, seen
and accepted, takes {size / 1e3:,.0f} kB of the database without photographs (measured, indexes and
all): {model.storage_gb(size, MANY):,.0f} GB."""


def _order(order: list[str]) -> str:
    lines = []
    for number, part in enumerate(order, 1):
        lines.append(f"{number}. **{part}**: {WORDS[part]}")
    return "## What is full first, and what to do then\n\n" + "\n".join(lines)


def _edges(costs: model.Costs, day: dict[str, float]) -> str:
    largest = model.carried(day["database"], 16)
    at_once = model.in_one_sweep(sum(costs["a settling by the clock"].values()))
    ticks = model.in_one_sweep(sum(costs["a tick by the API, and its settling"].values()), 1)
    return f"""## What more processors do not help

- **The sweep.** One task settles all jobs whose moment has come, one after another. Up to
  **{at_once:,} in the same minute** are done before the next beat; of more, the next beat's task
  begins with the same ones beside it, which costs work and does no harm. Midnight of a time zone,
  when permits end, is the moment to look at. Then: let the sweep queue jobs one by one.
- **One job.** Its areas are locked while a fact is recorded, so one job takes at the most some
  {ticks} ticks a second however many hosts there are. No house has so many hands.
- **The database** is one. On a host of 16 processors for itself it carries {largest:,} open jobs
  of this use; beyond that, shops go to clusters of their own.
- **The mail server** sets the pace of the outbox: one connection a lane and messenger.
- **Not modelled**: disc writes (the costs are of the processor, on a database that does not wait
  for the disc), the network, plans of crews (up to a minute of a worker each, when the office
  asks), backups, models of buildings that are read in."""
