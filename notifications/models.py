"""Notices: what a person should be told, once per reason and occasion."""

from django.db import models

from jobs.models import Job, Person, Record


class Notice(Record):
    """Something a person should be told; seen once they said so."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="notices")
    job = models.ForeignKey(Job, models.CASCADE, related_name="notices")
    reason = models.CharField(max_length=60)
    occasion = models.CharField(max_length=120)
    text = models.CharField(max_length=500)
    due_at = models.DateTimeField()
    seen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-due_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "reason", "occasion"], name="a_notice_is_given_once"
            )
        ]

    def __str__(self) -> str:
        return self.text
