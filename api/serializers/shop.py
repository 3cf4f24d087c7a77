"""Shapes of what a shop keeps: people, firms, authorities, rulebooks, figures, changes."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.serializers.fields import AnyJson, EnglishField, LocalTime, told_each
from inspections.checker.rulebook import Limit, Rulebook
from inspections.models import Amendment, RecordEntry
from inspections.overview.figures import Figure, FigureRow
from jobs.models import Authority, Builder, Invitation, Membership, Role
from jobs.services.authorities import authority_templates


class BuilderSerializer(serializers.Serializer[Builder]):
    """A builder's firm."""

    id = serializers.UUIDField(read_only=True)
    name = serializers.CharField(max_length=120)


class AuthoritySerializer(serializers.ModelSerializer[Authority]):
    """An authority with its rules for inspections."""

    cut_off = LocalTime(required=False, allow_null=True)
    from_hour = LocalTime(required=False)
    to_hour = LocalTime(required=False)

    class Meta:
        model = Authority
        exclude = ["shop"]
        read_only_fields = ["id"]


class AuthorityNewSerializer(serializers.Serializer[None]):
    """An authority to add, by itself or from what one has published."""

    name = serializers.CharField(max_length=120)
    template = serializers.ChoiceField(
        choices=[(each, each) for each in authority_templates()], required=False
    )


class RoleSerializer(serializers.Serializer[None]):
    """A role in the shop; a builder's person has a firm."""

    role = serializers.ChoiceField(choices=Role.choices)
    builder = serializers.UUIDField(required=False, allow_null=True)


class MemberSerializer(serializers.Serializer[Membership]):
    """Somebody in the shop."""

    id = serializers.UUIDField()
    person = serializers.CharField(source="person.username")
    name = serializers.CharField(source="person.get_full_name")
    role = serializers.ChoiceField(choices=Role.choices)
    builder = serializers.UUIDField(source="builder_id", allow_null=True)


class InvitationSerializer(serializers.Serializer[Invitation]):
    """A way into the shop for one person."""

    id = serializers.UUIDField(read_only=True)
    role = serializers.ChoiceField(choices=Role.choices)
    builder = serializers.UUIDField(source="builder.id", required=False, allow_null=True)
    for_whom = serializers.CharField(max_length=120)
    expires_at = serializers.DateTimeField(read_only=True)


class InvitationMadeSerializer(InvitationSerializer):
    """One that was just made, with its secret."""

    secret = serializers.CharField(read_only=True)


class LimitSerializer(serializers.Serializer[Limit]):
    """One figure of a code, as the shop has it."""

    name = serializers.CharField()
    value = AnyJson()
    unit = serializers.CharField(allow_blank=True)
    section = serializers.CharField()
    edition = serializers.CharField()
    known = serializers.CharField()
    # A field that the metaclass takes away: the name of its own is free again.
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]
    note = serializers.CharField(allow_blank=True)
    amended_from = AnyJson(allow_null=True)
    reason = serializers.CharField(allow_blank=True)


class RulebookSerializer(serializers.Serializer[Rulebook]):
    """One edition of one code as data."""

    id = serializers.CharField()
    code = serializers.CharField()
    edition = serializers.CharField()
    title = serializers.CharField()
    limits = serializers.SerializerMethodField()

    @extend_schema_field(LimitSerializer(many=True))
    def get_limits(self, book: Rulebook) -> list[dict[str, Any]]:
        """Every limit."""
        return told_each(book.limits.values(), LimitSerializer)


class AmendmentSerializer(serializers.Serializer[Amendment]):
    """A limit that a shop set; a value of null has it as the code has it."""

    id = serializers.UUIDField(read_only=True)
    rulebook = serializers.CharField(max_length=40)
    limit = serializers.CharField(max_length=120)
    value = AnyJson(allow_null=True)
    unit = serializers.CharField(required=False, allow_blank=True, max_length=40)
    reason = serializers.CharField(max_length=300)
    made_by = serializers.CharField(read_only=True, source="made_by.username")
    made_at = serializers.DateTimeField(read_only=True)


class FigureRowSerializer(serializers.Serializer[FigureRow]):
    """One line of a figure and the jobs that it is made of."""

    name = EnglishField()
    cells = serializers.ListField(child=EnglishField())
    share = serializers.FloatField(allow_null=True)
    jobs = serializers.SerializerMethodField()

    def get_jobs(self, row: FigureRow) -> list[str]:
        """Their ids."""
        parts = []
        for each in row.jobs:
            parts.append(str(each))
        return sorted(parts)


class FigureSerializer(serializers.Serializer[Figure]):
    """A table of numbers."""

    key = serializers.CharField()
    title = EnglishField()
    how = EnglishField()
    heads = serializers.ListField(child=EnglishField())
    rows = FigureRowSerializer(many=True)


class ChangeSerializer(serializers.Serializer[RecordEntry]):
    """One change with its place among all of the shop's."""

    number = serializers.IntegerField()
    job = serializers.UUIDField(source="entry.job_id")
    at = serializers.DateTimeField(source="entry.at")
    by = serializers.CharField(source="entry.by.username")
    origin = serializers.CharField(source="entry.origin")
    action = serializers.CharField(source="entry.action")
    detail = AnyJson(source="entry.detail")
    before = AnyJson(source="entry.before")


class ChangesSerializer(serializers.Serializer[dict[str, object]]):
    """Some changes, the number to ask on from, and whether there may be more now."""

    results = ChangeSerializer(many=True)
    last = serializers.IntegerField()
    more = serializers.BooleanField()
