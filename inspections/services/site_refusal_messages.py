"""Why what comes from the site is refused, and what to do: answers, walks, corrections, photos."""

from config.messages.message import message

# Answers on items.
FACTS_CHANGED = message(
    "refused.answer.facts-changed",
    "{title}: the house has changed since this was shown. Nothing was recorded; inspect it as it "
    "is now.",
)
ITEM_GONE = message(
    "refused.answer.item-gone",
    "This item is no longer part of the house. Open the checklist again.",
)
NOT_OK_BY_TICK = message("refused.answer.not-ok-by-tick", "This cannot be recorded as OK. {remedy}")
RECORD_CHANGE = message("refused.answer.record-change", "Record what was changed or measured.")
MEASURE_RANGE = message(
    "refused.measure.range", "Enter the measurement in mm, a number from 0 to {most}."
)
NOTHING_MEASURED = message(
    "refused.measure.nothing",
    "There is nothing to measure by tape here. Leave the measurement empty, and write the figure "
    "in the note.",
)
CONTRADICTED = message(
    "refused.measure.contradicted", "{fault} Record it as Fix, or correct the figure."
)

# What became of what a phone sent.
NO_SUCH_ITEM = message("walk.no-such-item", "This item is not on this job. Open the walk again.")
ID_TAKEN = message(
    "walk.id-taken", "Another answer has this one's id. Record your answer once more."
)
IN_THE_NOTE = message(
    "walk.in-the-note", "There is nothing to measure by tape here. The figure is in the note."
)
STALE = message(
    "walk.stale",
    "The house has changed since. This answer is kept and does not count; inspect the item again.",
)
CONTESTED = message(
    "walk.contested",
    "{person} recorded “{seen}” at {hour}. Inspect it again, and record which is right.",
)
CONTESTED_MEASURE = message(
    "walk.contested-measure",
    "{person} measured {measured} mm at {hour}. Measure it again, and record which is right.",
)

# Boxes found elsewhere.
CORRECTION_ID_TAKEN = message(
    "refused.correction.id-taken", "Another correction has this one's id. Send yours once more."
)
NOTHING_TO_CORRECT = message(
    "refused.correction.nothing",
    "Box {box} is where the house has it. There is nothing to correct.",
)
CORRECTION_ANSWERED = message("refused.correction.answered", "This correction is already answered.")
FOUND_LATER = message(
    "refused.correction.found-later",
    "A later correction of box {box} is accepted, as revision {revision}. Leave this one, or have "
    "the box measured again.",
)
NO_BOX = message(
    "refused.correction.no-box",
    "The house has no box {box} on a wall. It may have changed; open the page again.",
)
NO_WALL = message(
    "refused.correction.no-wall",
    "The room of box {box} has no wall {wall}. Choose a wall of that room.",
)
BEYOND_WALL = message(
    "refused.correction.beyond-wall",
    "Wall {wall} is {length} long. Enter a distance along it.",
)
ABOVE_CEILING = message(
    "refused.correction.above-ceiling",
    "The ceiling above box {box} is {height} up. Enter the height from the floor.",
)

# Photos.
PHOTO_ID_TAKEN = message(
    "refused.photo.id-taken", "Another photo has this one's id. Take or choose it once more."
)
PHOTO_LARGE = message(
    "refused.photo.large", "The photo is {size} MB, maximum {most} MB. Send a smaller one."
)
