"""What cannot be recorded of addresses, gateways, hours and calendars, and what would be right."""

from config.messages.message import message

NOTICE_TWICE = message("notice.twice", "This notice was given already.")
GATEWAY_NAME = message("gateway.name-taken", "A gateway has this name already. Use another name.")
GATEWAY_OTHER_SHOP = message(
    "gateway.other-shop", "That gateway is another shop's. Choose one of your own."
)
GATEWAY_GONE = message(
    "gateway.gone",
    "This gateway is no longer in use. The office has to enter it again before it can be chosen.",
)
GATEWAY_CHOOSE = message("gateway.choose", "Choose the gateway for the message.")
GATEWAY_KIND = message("gateway.kind", "Choose one of the kinds offered.")
GATEWAY_ACCOUNT = message("gateway.account", "This kind needs an account. Enter the account.")
GATEWAY_SECRET = message("gateway.secret", "This kind needs a key. Enter the token or password.")
GATEWAY_SENDER = message(
    "gateway.sender", "This kind needs a number to send from. Enter the number."
)
GATEWAY_ONE_LINE = message(
    "gateway.one-line", "Enter this on one line, without control characters."
)
GATEWAY_TOPIC = message(
    "gateway.topic", "The address of a push service needs {place} in the place of the topic."
)
GATEWAY_UNREADABLE = message(
    "gateway.unreadable", "This address cannot be read. Enter it again, beginning with https://."
)
GATEWAY_HTTPS = message(
    "gateway.https", "The address must begin with https://; {scheme}:// is not offered."
)
GATEWAY_NO_SCHEME = message("gateway.no-scheme", "The address must begin with https://.")
GATEWAY_HOST = message(
    "gateway.host", "The address must name its host, without {place} and without a password."
)

ADDRESS_TWICE = message("address.twice", "This address is already on your list.")
ADDRESS_GATEWAY = message(
    "address.gateway", "A text message needs a gateway; other addresses take none."
)
ADDRESS_ONE_LINE = message(
    "address.one-line", "Enter the address on one line, without control characters."
)
ADDRESS_WEBHOOK = message("address.webhook", "A webhook must begin with https:// or http://.")
ADDRESS_STRANGER = message(
    "address.stranger", "{person} is not in {shop}. Choose somebody of the shop."
)
ADDRESS_ENDED = message(
    "address.ended", "This person left the shop. Nothing is sent to that address."
)
ADDRESS_IS_PAUSED = message(
    "address.is-paused", "The address is paused. Resume it first, then try again."
)

QUIET_ENDS = message("hours.two-ends", "Enter both ends of the quiet hours, or neither.")
QUIET_NEVER = message(
    "hours.never-end", "Quiet hours cannot begin and end at the same time. Change one of them."
)
WISH_TWICE = message("wish.twice", "A choice for this kind is already recorded.")
DAYS_LIST = message(
    "rules.days", "Enter whole days between 1 and 365, the most first, as 30, 14, 7."
)

FEED_STRANGER = message("feed.stranger", "Only people of {shop} may open this calendar.")
FEED_JOB = message("feed.job", "Only people who may see this job may follow it.")
FEED_BUILDER = message("feed.builder", "That builder is another shop's. Choose one of your own.")
FEED_LEAD = message("feed.lead", "That crew lead is not in this shop. Choose one who is.")
FEED_ONE = message("feed.one", "A calendar is for one thing: a job, a builder or a crew lead.")
FEED_OWN = message("feed.own", "Only the person who opened a calendar may withdraw it.")
