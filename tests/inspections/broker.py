"""The broker of a test, looked into past Celery."""

from kombu import Connection
from kombu.transport.redis import Channel

from config.celery import app


def _channel(broker: Connection) -> Channel:
    """What tests run on is Valkey, whose channels alone have a client."""
    channel = broker.default_channel
    assert isinstance(channel, Channel)
    return channel


def forget_messages() -> None:
    """Empty the broker."""
    with app.connection_for_write() as broker:
        _channel(broker).client.flushdb()


def queued() -> int:
    """Messages that no worker has taken yet."""
    with app.connection_for_read() as broker:
        return int(_channel(broker).client.llen("celery"))
