"""Why a message did not arrive, as the office reads it.

Answers of other servers stay in their own words.
"""

from config.messages.message import message

WEBHOOK = message("send.webhook", "webhook")
GATEWAY = message("send.gateway", "gateway")
"""Whose server it is, as the sentences below call it."""

MAIL_REFUSED_US = message("send.mail-sign-in", "The mail server refused our sign-in: {answer}")
MAIL_CLOSES = message("send.mail-closes", "The mail server closed the connection: {answer}")
MAIL_SILENT = message("send.mail-silent", "The mail server does not answer: {answer}")
MAIL_ANSWERED = message("send.mail-answered", "The mail server answered {code}: {answer}")
UNMADE = message("send.unmade", "The message cannot be made: {answer}")
LACKS_VALUE = message("send.lacks-value", "The message template lacks a value for “{name}”.")
CAME_BACK = message("send.came-back", "The message came back: {answer}")
NO_REASON = message("send.came-back.no-reason", "no reason given")
ADDRESS_PAUSED = message("send.address-paused", "The address is paused. {fault}")
PERSON_LEFT = message("send.person-left", "This person is no longer in the shop.")

CANNOT_SIGN = message(
    "send.cannot-sign", "The secret of the webhook cannot sign the message: {answer}"
)
WEBHOOK_GONE = message("send.webhook-gone", "The webhook answered 410: it no longer exists.")
STATUS = message("send.status", "The {who} answered {code}.")
NOT_SECURE = message(
    "send.not-secure",
    "The address of the {who} must begin with https://, or messages travel unencrypted.",
)
NOT_HTTPS = message("send.not-https", "The address of the {who} must begin with https://.")
NO_HOST = message("send.no-host", "The address of the {who} names no host.")
UNREADABLE = message("send.unreadable", "The address of the {who} cannot be read.")
UNFIT = message("send.unfit", "No request can be made to the {who}: {answer}")
UNLISTED = message(
    "send.unlisted",
    "The host of the {who} is not on the site's list. Whoever runs the site can add it.",
)
KIND_GONE = message(
    "send.kind-gone", "This kind of gateway is no longer offered. Enter the gateway again."
)
SILENT = message("send.silent", "{host} does not answer: {answer}")
NOT_FOUND = message("send.not-found", "{host} cannot be found: {answer}")
NO_ADDRESS = message("send.no-address", "{host} cannot be found: it has no address.")
NO_RESOLVER = message("send.no-resolver", "{host} cannot be found: the resolver does not answer.")
PRIVATE = message(
    "send.private",
    "{host} is {address}, an address of a private network. Whoever runs the site can "
    "allow it with STUDBAY_PRIVATE_NETWORKS.",
)
