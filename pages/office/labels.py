"""What the forms and pages of the office say beside their templates."""

from config.languages import said_later
from config.messages.message import message


def _label(about: str, text: str) -> str:
    """The name of a field, said to whoever fills it in."""
    return said_later(message(f"label.{about}", text)())


AUTHORITY = {
    "notice_days": _label("authority.notice-days", "notice, working days"),
    "notice_hours": _label("authority.notice-hours", "and hours, on working days"),
    "cut_off": _label("authority.cut-off", "same-day cut-off for requests"),
    "works_on": _label("authority.works-on", "office open on"),
    "inspections_on": _label("authority.inspections-on", "inspects this district on"),
    "from_hour": _label("authority.from-hour", "inspections from"),
    "to_hour": _label("authority.to-hour", "inspections until"),
    "country": _label("country", "country, for its holidays (CA, US)"),
    "region": _label("region", "province or state (AB, WA)"),
    "closures": _label("closures", "other days closed, one per line: date, then reason"),
    "reinspection_fee": _label("authority.reinspection-fee", "reinspection fee"),
    "idle_days": _label("authority.idle-days", "permit expires after this many days idle"),
    "takes_parts": _label("authority.takes-parts", "accepts a rough-in area by area"),
    "elapsed_hours": _label(
        "authority.elapsed-hours",
        "hours after which work may be covered when no inspector came "
        "(leave empty unless this authority says so; the licence holder must sign)",
    ),
    "source": _label("authority.source", "where you read this"),
}
START_FROM = _label("authority.start-from", "start from")
NOTHING_PUBLISHED = _label("authority.nothing-published", "an empty form")

WORK_RULES = {
    "works_on": _label("work.works-on", "shop open on"),
    "from_hour": _label("work.from-hour", "day starts at"),
    "parts": _label("work.parts", "parts of a day in the plan (2: half days)"),
    "part_minutes": _label("work.part-minutes", "working minutes in each part"),
    "break_minutes": _label("work.break-minutes", "minutes between parts"),
    "country": AUTHORITY["country"],
    "region": AUTHORITY["region"],
    "closures": AUTHORITY["closures"],
    "weeks": _label("work.weeks", "weeks planned ahead"),
    "cover_days": _label("work.cover-days", "working days from cover release to finish"),
    "apprentices_per_licensed": _label(
        "work.apprentices", "apprentices for each licensed person (empty: no ratio)"
    ),
    "change_cost": _label(
        "work.change-cost", "move a sent task only if it saves this many days late"
    ),
    "speed_kmh": _label("work.speed", "driving speed in a straight line, km/h"),
    "yard_latitude": _label("work.yard-latitude", "latitude of the yard"),
    "yard_longitude": _label("work.yard-longitude", "longitude of the yard"),
    "rates": _label("work.rates", "rates, one per line: name, then minutes"),
}
NO_MINUTES = message(
    "rates.no-minutes", "“{line}” does not end with minutes, such as “box_rough_in 12”."
)

NOTICES = {
    "morning": _label("notices.morning", "calendar notifications go out at"),
    "list_at": _label("notices.list-at", "next day's lists and inspections go out at"),
    "permit_wait_days": _label(
        "notices.permit-wait", "permit not issued: notify after this many days"
    ),
    "acknowledge_minutes": _label(
        "notices.acknowledge", "urgent and not answered: next person after this many minutes"
    ),
    "permit_days": _label("notices.permit-days", "permit expires: notify this many days before"),
    "cover_days": _label(
        "notices.cover-days", "area not released: notify this many days before drywall"
    ),
    "owner": _label("notices.owner", "weekly summary to"),
    "summary_on": _label("notices.summary-on", "weekly summary on"),
}
EVERYBODY = _label("notices.everybody", "everybody in the office")
GATEWAY = {
    "name": _label("gateway.name", "name"),
    "kind": _label("gateway.kind", "type"),
    "url": said_later(
        message("label.gateway.url", "address, with {to} for the number, topic or room")(to="{to}")
    ),
    "account": _label("gateway.account", "account, if any"),
    "secret": _label("gateway.secret", "token or password"),
    "sender": _label("gateway.sender", "sender number"),
}

FIRM = _label("firm", "company")
SHOP_ITSELF = _label("shop-itself", "the shop itself")
FIND = _label("find", "address, name or permit")
INVITED = message("invited", "One-time link for {person}, valid 14 days: {url}")
WAY_BACK = message("way-back", "One-time link for {person}, valid one day: {url}")

CHECKED_AGAIN = message("checked-again", "Checked again. Recorded as revision {n}.")
LOOSER = message(
    "looser", "A limit may be looser only where an adopted code or the authority says so."
)

SUPPOSE_SINCE = message("suppose.since", "Choose the first day of the what-if.")
SUPPOSE_WHO = message("suppose.who", "Choose who is away, or which crew has one more person.")

NOT_SENT = message("day-list.not-sent", "not sent yet")
SENT_AS = message("day-list.sent-as", "number {n}, {moment}")

BAR = message("chart.bar", "{job}: {what}, {first} to {last}")
FLAG = message("chart.flag", "{job}: {what}")
FLAG_LATE = message(
    "chart.flag-late", "{job}: {what}, {n} days LATE", one="{job}: {what}, {n} day LATE"
)
PROMISED_FOR = message("chart.promised-for", "{flag}, promised for {day}")
