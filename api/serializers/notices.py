"""Shapes of notices and of where they go."""

from rest_framework import serializers

from api.serializers.fields import EnglishField
from config.languages import say
from notifications.models import Address, Channel, Notice
from notifications.telling import text_now


class NoticeSerializer(serializers.Serializer[Notice]):
    """A notice to a person."""

    id = serializers.UUIDField()
    job = serializers.UUIDField(source="job_id", allow_null=True)
    kind = serializers.CharField()
    urgent = serializers.BooleanField()
    text = serializers.SerializerMethodField()
    body = serializers.SerializerMethodField()
    due_at = serializers.DateTimeField()
    seen_at = serializers.DateTimeField(allow_null=True)

    def get_text(self, notice: Notice) -> str:
        """What it tells now."""
        return say(text_now(notice), "en")

    def get_body(self, notice: Notice) -> str:
        """The lines below it."""
        return "\n".join(say(line, "en") for line in notice.body)


class AddressSerializer(serializers.Serializer[Address]):
    """One way to reach a person. A webhook is signed with the secret it was made with."""

    id = serializers.UUIDField(read_only=True)
    channel = serializers.ChoiceField(choices=[Channel.EMAIL, Channel.WEBHOOK])
    target = serializers.CharField(max_length=500)
    paused_at = serializers.DateTimeField(read_only=True, allow_null=True)
    paused_because = EnglishField(read_only=True)


class AddressMadeSerializer(AddressSerializer):
    """One that was just made; a webhook's secret is shown only once."""

    secret = serializers.CharField(read_only=True)
