"""Notices about a shop as a whole: lists, the week, messages that failed, what an audit found."""

from collections.abc import Mapping

from config.messages.message import Message, message

LIST = message("notice.list", "{crew}: list for {day}: {houses}.")
LIST_CHANGED = message("notice.list-changed", "{crew}: changed list for {day}: {houses}.")
NO_WORK = message("notice.list.no-work", "no work")
ARRIVAL = message("notice.list.house", "{arrival} {job}, {address}")
WORK = message("notice.list.work", "- {begins} to {ends} {what}")
WORK_IN = message("notice.list.work-in", "- {begins} to {ends} {what} ({area})")
LINE = message("notice.list.line", "- {what}")
CORRECT = message("notice.list.correct", "- correct, {where}: {what}")
BRING = message("notice.list.bring", "- bring {things}")

WEEK_OF = message("notice.week", "{shop}: week of {day}")
STAGES: Mapping[str, Message] = {
    "permit": message("notice.week.permit", "Permit: {n} jobs", one="Permit: {n} job"),
    "rough-in": message("notice.week.rough-in", "Rough-in: {n} jobs", one="Rough-in: {n} job"),
    "cover-up approval": message(
        "notice.week.cover-up", "Cover release: {n} jobs", one="Cover release: {n} job"
    ),
    "construction hookup": message(
        "notice.week.hookup", "Construction hookup: {n} jobs", one="Construction hookup: {n} job"
    ),
    "finish": message("notice.week.finish", "Finish: {n} jobs", one="Finish: {n} job"),
    "final": message("notice.week.final", "Final: {n} jobs", one="Final: {n} job"),
}
DEFICIENCIES = message("notice.week.deficiencies", "Deficiencies: {n} open, {overdue} overdue")
PERMIT_ENDS = message("notice.week.permit-ends", "{job}: the permit expires {day}")
DRYWALL = message(
    "notice.week.drywall",
    "{job}: drywall starts {day}, {n} areas not released",
    one="{job}: drywall starts {day}, {n} area not released",
)

PAUSED = message("notice.address-paused", "{person}: {address} is paused. {fault}")
NOT_DELIVERED = message(
    "notice.not-delivered", "{person}: a message to {address} did not arrive. {fault}"
)
SET_ASIDE = message(
    "notice.set-aside",
    "{job}: {age} Nothing in it counts as released. "
    "Whoever runs the site finds the cause in its log.",
)
HANDED_ON = message("notice.handed-on", "{person} has not answered: {notice}")

AUDIT = message(
    "notice.audit",
    "{shop}: the nightly audit found {n} differences.",
    one="{shop}: the nightly audit found {n} difference.",
)
AUDIT_AT = message("notice.audit.at", "{place}: {what}.")
AUDIT_SHOP = message("notice.audit.shop-wide", "Whole shop: {what}.")
KEEP_OPEN = message("notice.audit.keep-open", "Keep the area open.")
CALL = message("notice.audit.call", "Call whoever runs the site.")
FOUND: Mapping[str, Message] = {
    "cover release": message(
        "notice.audit.cover-release", "shown as OK TO COVER, and something holds it"
    ),
    "area": message("notice.audit.area", "the holds shown are not what the records give"),
    "stage": message("notice.audit.stage", "the stage shown is not what the records give"),
    "item": message("notice.audit.item", "the checklist is not what the house gives"),
    "settling": message("notice.audit.settling", "what is shown was not checked again in time"),
    "notice": message("notice.audit.notice", "notices sent are not what the records give"),
    "delivery": message("notice.audit.delivery", "a message was not sent as it should have been"),
    "shop": message("notice.audit.shop", "a record refers to another job or shop"),
    "moment": message("notice.audit.moment", "a recorded date is out of range"),
    "contradiction": message("notice.audit.contradiction", "two records contradict each other"),
    "record": message("notice.audit.record", "the job's history was changed after it was written"),
    "reading": message("notice.audit.reading", "the records cannot be read"),
}
"""What a difference is about, as the office reads it; the log has what it is in the tables."""
