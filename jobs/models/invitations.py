"""Invitations: how somebody comes to have a role in a shop."""

from django.db import models
from django.db.models import Q

from .base import Record
from .fields import MomentField
from .shops import Builder, Person, Role, Shop


class Invitation(Record):
    """One person's way into one shop, used once. Only a digest of its secret is kept."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="invitations")
    role = models.CharField(max_length=20, choices=Role.choices)
    builder = models.ForeignKey(
        Builder, models.CASCADE, null=True, blank=True, related_name="invitations"
    )
    for_whom = models.CharField(max_length=120)
    digest = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    """Null: whoever runs the server, for the first person of a shop."""
    made_at = MomentField()
    expires_at = MomentField()
    withdrawn_at = MomentField(null=True, blank=True)
    used_at = MomentField(null=True, blank=True)
    used_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["made_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(role=Role.BUILDER, builder__isnull=False)
                | (~Q(role=Role.BUILDER) & Q(builder__isnull=True)),
                name="invited_builders_have_a_firm",
                violation_error_code="invited_builders_have_a_firm",
                violation_error_message=(
                    "Name the firm of a builder's person; leave it empty for the shop's own people."
                ),
            ),
            models.CheckConstraint(
                condition=Q(used_at__isnull=True, used_by__isnull=True)
                | Q(used_at__isnull=False, used_by__isnull=False),
                name="used_invitations_name_a_person",
                violation_error_code="used_invitations_name_a_person",
                violation_error_message="An invitation that was used names who came in by it.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.for_whom}, {self.get_role_display()} at {self.shop}"
