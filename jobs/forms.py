"""Fields of forms for what has bounds."""

from datetime import date, datetime
from typing import Any

from django import forms
from django.utils import timezone

from config.languages import said_later
from jobs.moments import Days, Kind


class Within:
    """Refuses a day or a moment that is none of a kind, with the range in words."""

    def __init__(self, kind: Kind) -> None:
        self.kind = kind

    def __call__(self, value: date | datetime) -> None:
        """A validator, as Django's own are."""
        if fault := self.kind.fault(value, timezone.now()):
            raise forms.ValidationError(said_later(fault))


class DayFormField(forms.DateField):
    """A day that a person gives, of a kind; the service asks again by the clock at the house."""

    def __init__(self, kind: Days, **options: Any) -> None:
        super().__init__(validators=[Within(kind)], **options)
