"""Which sender a channel has."""

from notifications.models import Channel

from .base import Sender


def sender_for(channel: str) -> Sender:
    """A sender for the channel, opened by `with`."""
    if channel == Channel.EMAIL:
        from .email import EmailSender

        return EmailSender()
    if channel == Channel.WEBHOOK:
        from .webhook import WebhookSender

        return WebhookSender()
    from .message import MessageSender  # its library takes long to load

    return MessageSender()
