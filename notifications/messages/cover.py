"""Notices about covering, hookup, finish and final."""

from config.messages.message import message

RELEASED = message(
    "notice.released", "{job}, {area}: released. OK TO COVER. Reference {reference}."
)
WITHDRAWN = message(
    "notice.withdrawn", "{job}, {area}: DO NOT COVER. The cover release is withdrawn: {because}"
)
RELEASE_AGAIN = message(
    "notice.release-again",
    "{job}, {area}: the cause of the withdrawal is corrected, and nothing holds the area. "
    "Release it again.",
)
DRYWALL_NEAR = message("notice.drywall-near", "{job}: drywall starts {day}. DO NOT COVER: {areas}.")
NO_LAYER = message("notice.drywall-near.layer", "Do not install {layer} there yet.")
AS_OLD_AS = message(
    "notice.unchecked", "{job}: {age} Do not cover until the site says OK TO COVER."
)

HOOKUP = message("notice.hookup", "{job}: hookup authorized, reference {reference}.")
HOOKUP_NONE = message("notice.hookup.none", "No circuit is named. Ask which may be live.")
HOOKUP_TYPED = message(
    "notice.hookup.typed",
    "Live, as typed and not matched to the panel: {circuits}. Ask which circuits those are.",
)
HOOKUP_LIVE = message("notice.hookup.live", "Only these circuits may be live: {circuits}.")
TEMPORARY = message(
    "notice.temporary",
    "{job}: remove the temporary service by {day}, then record that it is gone.",
)

FINISH_READY = message(
    "notice.finish-ready",
    "{job}: every area is released and the hookup is authorized. Schedule the finish.",
)
TRIM_READY = message(
    "notice.trim-out-ready",
    "{job}: every area is released and the hookup is authorized. Schedule the trim-out.",
)
FINISH_DONE = message(
    "notice.final-ready",
    "{job}: the finish is done. Request the final inspection from {authority}.",
)
TRIM_DONE = message(
    "notice.final-ready-us",
    "{job}: the trim-out is done. Request the final inspection from {authority}.",
)
TEMPORARY_FIRST = message(
    "notice.final-ready.temporary", "First record that the temporary service is gone."
)
CERTIFICATE = message(
    "notice.certificate", "{job}: the final is accepted. Certificate {reference}."
)
CERTIFICATE_US = message(
    "notice.certificate-us", "{job}: the final is approved. Certificate {reference}."
)
