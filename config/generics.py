"""Classes of Django's that say of what they are to a checker of types alone.

`ModelForm[Job]` is a form of a job to whoever checks, and Django's own class to whoever runs it:
the library that would teach Django to take the brackets is no part of what runs.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from django.core.files.base import File as File
    from django.db.models import DateField as DateField
    from django.db.models import DateTimeField as DateTimeField
    from django.db.models import PositiveIntegerField as PositiveIntegerField
    from django.db.models import PositiveSmallIntegerField as PositiveSmallIntegerField
    from django.db.models import TextField as TextField
    from django.forms import ModelForm as ModelForm
else:
    from django import forms
    from django.core.files import base
    from django.db import models

    class _Said:
        """A class, whatever stands in its brackets."""

        def __init__(self, plain: type) -> None:
            self.plain = plain

        def __getitem__(self, _types: object) -> type:
            return self.plain

    File = _Said(base.File)
    DateField = _Said(models.DateField)
    DateTimeField = _Said(models.DateTimeField)
    PositiveIntegerField = _Said(models.PositiveIntegerField)
    PositiveSmallIntegerField = _Said(models.PositiveSmallIntegerField)
    TextField = _Said(models.TextField)
    ModelForm = _Said(forms.ModelForm)
