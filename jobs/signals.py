"""The one doorbell, rung after commit whenever a fact changed, and the answer to it."""

from django.dispatch import Signal

facts_changed = Signal()
"""Sent with `job_id` (UUID). A receiver queues the settling of that job and returns."""

jobs_settled = Signal()
"""Sent with `ground` (the facts of the jobs, read once) and `now` within the transaction that
settles jobs, for whatever else follows. A receiver answers, by job, with the next moment at which
the clock alone changes what it concluded; a job that has none is left out, or has None."""

job_set_aside = Signal()
"""Sent with `job_ids` within the transaction that sets jobs aside because they cannot be settled,
or takes them back once they can: a receiver tells their shops."""

rules_changed = Signal()
"""Sent with `jobs` (a queryset) within the transaction that changes what an authority asks or
a shop chose, or who is in a shop, when conclusions of those jobs follow from it: all of them are
due again. With `shop_id` too where something that is told of the shop itself follows from it."""

person_left = Signal()
"""Sent with `person`, `shop`, `at` and `elsewhere` (whether the person is in another shop yet)
within the transaction that ends a membership: a receiver ends what was made for that person."""

shop_audited = Signal()
"""Sent with `shop_id` within the transaction that keeps what an audit found in a shop."""

pack_asked = Signal()
"""Sent with `pack_id` after commit when a pack of sheets is asked for."""

plan_asked = Signal()
"""Sent with `plan_id` after commit when a plan is asked for. A receiver queues its making."""
