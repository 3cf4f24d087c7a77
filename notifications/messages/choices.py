"""What can be chosen, and in what state things are, as words of a page."""

from collections.abc import Mapping

from config.messages.message import Message, message

PERMIT = message("notice-kind.permit", "permits")
INSPECTION = message("notice-kind.inspection", "inspections")
DEFICIENCY = message("notice-kind.deficiency", "deficiencies")
COVER = message("notice-kind.cover", "cover releases")
HOOKUP = message("notice-kind.hookup", "construction hookup and temporary service")
LIST = message("notice-kind.list", "next-day lists")
FINISH = message("notice-kind.finish", "finish, final and certificate")
SUMMARY = message("notice-kind.summary", "weekly summary")
TROUBLE = message("notice-kind.trouble", "messages and checks that failed")
AUDIT = message("notice-kind.audit", "nightly audit")

EMAIL = message("channel.email", "e-mail")
MESSAGE = message("channel.message", "text message, chat or push")
WEBHOOK = message("channel.webhook", "webhook")
FIRST_ADDRESS = message("channel.first", "my first address")
SITE_ALONE = message("channel.none", "on the site only")

PUSH = message("gateway-kind.push", "push, by ntfy")
ROOM = message("gateway-kind.room", "chat room, by Matrix")
CHAT = message("gateway-kind.chat", "chat, by an incoming webhook that takes text")
SMS = message("gateway-kind.sms", "text message, by Twilio's Messages")
FORM = message("gateway-kind.form", "text message, by a form of to, from and text")

URGENT = message("lane.urgent", "urgent")
ORDINARY = message("lane.ordinary", "ordinary")
BULK = message("lane.bulk", "bulk")

DUE = message("delivery-state.due", "waiting")
SENT = message("delivery-state.sent", "sent")
DEAD = message("delivery-state.dead", "not delivered")
MOOT = message("delivery-state.moot", "no longer needed")
STATES: Mapping[str, Message] = {"due": DUE, "sent": SENT, "dead": DEAD, "moot": MOOT}
"""By the state of a delivery."""

FEED_PERSON = message("feed-scope.person", "all my inspections")
FEED_JOB = message("feed-scope.job", "one job")
FEED_BUILDER = message("feed-scope.builder", "a builder's houses")
FEED_CREW = message("feed-scope.crew", "a crew lead's jobs")
