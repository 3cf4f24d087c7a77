"""Fields that forms of several pages use."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.utils import timezone

from config.languages import said_later
from jobs.moments import ANY_DAY, DayRefused, NotADay, day_given
from jobs.planning.weekday_messages import WEEKDAY_NAMES
from pages.field_messages import NO_DATE, NUMBERS_OF_DAYS


class ClockField(forms.TimeField):
    """An hour of the day, as a browser's own field for it."""

    widget = forms.TimeInput(format="%H:%M", attrs={"type": "time"})


def choose_among(form: forms.BaseForm, name: str, rows: QuerySet[Any]) -> None:
    """Let a field choose among these rows."""
    field = form.fields[name]
    assert isinstance(field, forms.ModelChoiceField)
    field.queryset = rows


def choose_of(form: forms.BaseForm, name: str, choices: Iterable[tuple[str, str]]) -> None:
    """Let a field choose of these: what is sent, and what is shown."""
    field = form.fields[name]
    assert isinstance(field, forms.ChoiceField)
    field.choices = list(choices)


class DaysField(forms.CharField):
    """Numbers of days, one after another."""

    def prepare_value(self, value: Any) -> Any:
        """`[30, 14, 7]` as a person writes it."""
        if isinstance(value, list):
            return ", ".join(map(str, value))
        return value

    def to_python(self, value: Any) -> Any:
        """The numbers, or a fault that says how to write them."""
        parts = (super().to_python(value) or "").replace(",", " ").split()
        if not all(part.isdecimal() and len(part) < 4 for part in parts):
            raise forms.ValidationError(said_later(NUMBERS_OF_DAYS()))
        days: list[int] = []
        for part in parts:
            days.append(int(part))
        return days


DAYS = [(number, said_later(name())) for number, name in enumerate(WEEKDAY_NAMES)]


class WeekdaysField(forms.TypedMultipleChoiceField):
    """Weekdays as boxes to tick, kept as numbers from Monday, 0."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, **options: Any) -> None:
        super().__init__(choices=DAYS, coerce=int, **options)


class ClosuresField(forms.CharField):
    """Days on which the office is closed, one a line: the date, then why."""

    widget = forms.Textarea

    def prepare_value(self, value: Any) -> Any:
        """The days as lines."""
        if isinstance(value, dict):
            parts = []
            for day, why in sorted(value.items()):
                parts.append(f"{day} {why}".rstrip())
            return "\n".join(parts)
        return value

    def to_python(self, value: Any) -> Any:
        """The lines as days; a line without a date is named."""
        found = {}
        for line in str(value or "").splitlines():
            day, _, why = line.strip().partition(" ")
            if not day:
                continue
            try:
                day_given(day, ANY_DAY, timezone.now())
            except NotADay:
                raise ValidationError(said_later(NO_DATE(line=line.strip()))) from None
            except DayRefused as fault:
                raise ValidationError(said_later(fault.text)) from None
            found[day] = why.strip()
        return found
