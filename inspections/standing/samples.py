"""The sample of a walk: boxes that a close-up or a tape shows before their room is OK. Pure.

Which boxes they are follows from the job, its revision and a key of the site, so that it is the
same for every phone, and nobody computes it from what a page shows.
"""

import hmac
from collections.abc import Collection, Mapping

BOXES_OF_A_HOUSE = 6


def sample(
    key: bytes, job: str, revision: int, boxes: Mapping[str, Collection[str]]
) -> dict[str, list[str]]:
    """The sampled boxes of each room that has any; `boxes` are the ids by room.

    They are of as many rooms as can be: a second one of a room only where rooms are too few.
    """
    ranked = []
    for room, ids in boxes.items():
        in_order = sorted(set(ids), key=lambda box: _rank(key, job, revision, room, box))
        for turn, box in enumerate(in_order):
            ranked.append((turn, _rank(key, job, revision, room, box), room, box))
    chosen: dict[str, list[str]] = {}
    for _, _, room, box in sorted(ranked)[:BOXES_OF_A_HOUSE]:
        chosen.setdefault(room, []).append(box)
    return chosen


def _rank(key: bytes, job: str, revision: int, room: str, box: str) -> str:
    """A number that looks drawn by lot, and is the same each time."""
    told = "\n".join((job, str(revision), room, box))
    return hmac.new(key, told.encode(), "sha256").hexdigest()
