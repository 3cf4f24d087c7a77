"""Next steps of a job, as parts of a line that begins with whose step it is."""

from config.messages.message import message

IN_AREA = message("moves.in-area", "{area}: {what}")
SITE_CHANGES = message(
    "moves.site-changes",
    "accept or dismiss {n} boxes found in other places than drawn",
    one="accept or dismiss {n} box found in another place than drawn",
)
AGAIN = message("moves.again", "request another {inspection} once it is corrected")
AGAIN_FEE = message(
    "moves.again-fee", "request another {inspection} once it is corrected (fee {fee})"
)
ROUGH_IN = message("moves.rough-in", "record the rough-in")
RELEASE = message("moves.release", "release it for cover")
RELEASE_AGAIN = message(
    "moves.release-again", "release it for cover again; the reason of the withdrawal is answered"
)
RESCHEDULE = message(
    "moves.reschedule", "reschedule the inspection; the inspector could not get in"
)
INSPECTION = message("moves.inspection", "inspection {state}")
INSPECTION_OF = message("moves.inspection-of", "{inspection}: {state}")
HOOKUP = message("moves.hookup", "request the construction hookup and record its reference")
FINISH = message(
    "moves.finish",
    "finish: {n} items to verify or fix",
    one="finish: {n} item to verify or fix",
)
TEMPORARY = message("moves.temporary", "have the temporary service removed by {day}")
FINAL = message("moves.final", "request the final inspection and record the certificate")
CLOSE = message("moves.close", "close the permit")
