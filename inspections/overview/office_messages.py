"""What the office's day says: what happened, and the one action that ends it."""

from config.messages.message import message

NOT_CHECKED = message("office.not-checked", "{age} None of its areas counts as released.")
NOT_CHECKED_DO = message("office.not-checked.do", "Notify whoever runs the site")
OVERDUE = message(
    "office.overdue", "{n} deficiencies are overdue.", one="{n} deficiency is overdue."
)
OVERDUE_DO = message("office.overdue.do", "Ask the crew lead")
TEMPORARY = message("office.temporary", "The temporary service must be removed by {day}.")
TEMPORARY_DO = message("office.temporary.do", "Have it removed and record it")
COVERED = message("office.covered", "Drywall was due on {day}. Areas on hold: {areas}.")
COVERED_DO = message("office.covered.do", "Call the builder")
DANGER = message("office.danger", "Drywall starts on {day}. Areas on hold: {areas}.")
DANGER_DO = message("office.danger.do", "Move the date or notify the builder")
PERMIT_SLOW = message(
    "office.permit-slow", "The permit was applied for on {day} and is not issued yet."
)
PERMIT_SLOW_DO = message("office.permit-slow.do", "Call the authority")
PERMIT_EXPIRED = message("office.permit-expired", "The permit expired on {day}.")
PERMIT_ENDING = message("office.permit-ending", "The permit is valid until {day}.")
PERMIT_ENDING_DO = message("office.permit-ending.do", "Request an extension")
NO_ACCESS = message("office.no-access", "The inspector could not get in: {inspection}.")
NO_ACCESS_DO = message("office.no-access.do", "Reschedule the inspection")
NOBODY_CAME = message("office.nobody-came", "No inspector came: {inspection}.")
NOBODY_CAME_DO = message("office.nobody-came.do", "Request a new inspection")
ANSWER_MISSING = message(
    "office.answer-missing", "The result is not recorded yet: {inspection} on {day}."
)
ANSWER_MISSING_DO = message("office.answer-missing.do", "Record the result")
UNANSWERED = message(
    "office.unanswered",
    "Cover release withdrawn, what was done about it is not recorded yet: {areas}.",
)
UNANSWERED_DO = message("office.unanswered.do", "Record what was done")
RELEASE_AGAIN = message("office.release-again", "Nothing on hold after a withdrawal: {areas}.")
RELEASE_AGAIN_DO = message("office.release-again.do", "Release for cover again")
RELEASE = message("office.release", "Accepted, nothing on hold: {areas}.")
RELEASE_DO = message("office.release.do", "Release for cover")
NOT_ACCEPTED = message("office.not-accepted", "Not accepted, no new inspection requested: {areas}.")
REINSPECT_DO = message("office.not-accepted.do", "Request another inspection")
REINSPECT_FEE_DO = message("office.not-accepted.do-fee", "Request another inspection (fee {fee})")
READY = message("office.ready", "Ready for inspection: {areas}.")
READY_DO = message("office.ready.do", "Request the inspection")
DRYWALL = message("office.drywall", "drywall")
