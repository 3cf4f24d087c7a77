"""Reasons, as a heading calls each."""

from collections.abc import Mapping

from config.messages.message import Message, message

NAMES: Mapping[str, Message] = {
    "accepted": message("notice-reason.accepted", "accepted"),
    "address paused": message("notice-reason.address-paused", "address paused"),
    "area released": message("notice-reason.area-released", "area released"),
    "audit": message("notice-reason.audit", "nightly audit"),
    "certificate in": message("notice-reason.certificate-in", "certificate recorded"),
    "cover date near": message("notice-reason.cover-date-near", "drywall starts soon"),
    "cover release withdrawn": message(
        "notice-reason.cover-release-withdrawn", "cover release withdrawn"
    ),
    "deficiency called": message("notice-reason.deficiency-called", "deficiency written up"),
    "deficiency due": message("notice-reason.deficiency-due", "deficiency due"),
    "deficiency overdue": message("notice-reason.deficiency-overdue", "deficiency overdue"),
    "final ready": message("notice-reason.final-ready", "ready for the final"),
    "finish ready": message("notice-reason.finish-ready", "ready for the finish"),
    "hookup authorised": message("notice-reason.hookup-authorised", "hookup authorized"),
    "inspection booked": message("notice-reason.inspection-booked", "inspection booked"),
    "inspection cancelled": message("notice-reason.inspection-cancelled", "inspection cancelled"),
    "inspection rescheduled": message(
        "notice-reason.inspection-rescheduled", "inspection rescheduled"
    ),
    "inspection tomorrow": message("notice-reason.inspection-tomorrow", "inspection tomorrow"),
    "job set aside": message("notice-reason.job-set-aside", "job not checked"),
    "last day to ask": message(
        "notice-reason.last-day-to-ask", "last day to request an inspection"
    ),
    "next day's list": message("notice-reason.next-day-list", "next-day list"),
    "no access": message("notice-reason.no-access", "no access"),
    "nobody came": message("notice-reason.nobody-came", "inspector did not come"),
    "not delivered": message("notice-reason.not-delivered", "message not delivered"),
    "permit expiring": message("notice-reason.permit-expiring", "permit expires soon"),
    "permit not issued": message("notice-reason.permit-not-issued", "permit not issued"),
    "re-inspection not booked": message(
        "notice-reason.re-inspection-not-booked", "reinspection not requested"
    ),
    "release again": message("notice-reason.release-again", "ready to release again"),
    "result recorded": message("notice-reason.result-recorded", "result recorded"),
    "rough-in ready": message("notice-reason.rough-in-ready", "ready for rough-in inspection"),
    "temporary removal due": message(
        "notice-reason.temporary-removal-due", "temporary service to remove"
    ),
    "weekly summary": message("notice-reason.weekly-summary", "weekly summary"),
    "work without permit": message("notice-reason.work-without-permit", "work without a permit"),
}
"""By the id of the reason."""
