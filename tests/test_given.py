"""Whatever takes a day or a moment from outside takes it by one of the kinds of `jobs.moments`."""

import ast
import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

import django_filters
from django import forms
from pydantic import BaseModel
from rest_framework import serializers

import api
import inspections
import jobs
import notifications
import pages
from api.serializers.fields import DaySerializerField as ApiDay
from api.serializers.fields import GivenMoment
from jobs.forms import DayFormField, Within

Kind = TypeVar("Kind")
ROOT = Path(__file__).parent.parent
FLOORS = (api, pages, notifications, inspections, jobs)
PLAIN = (serializers.DateField, serializers.DateTimeField)


def modules() -> Iterator[Any]:
    """Every module of the project but those that are run or migrate."""
    for floor in FLOORS:
        for found in pkgutil.walk_packages(floor.__path__, f"{floor.__name__}."):
            if "migrations" not in found.name:
                yield importlib.import_module(found.name)


def sources() -> Iterator[tuple[Path, ast.Module]]:
    for floor in FLOORS:
        for path in sorted((ROOT / floor.__name__).rglob("*.py")):
            if "migrations" not in path.parts:
                yield path, ast.parse(path.read_text("utf-8"))


def asked_for() -> set[type[serializers.BaseSerializer[Any]]]:
    """The serializers that bodies are read by: given to `given_in`, or told to be a request's."""
    found: set[type[serializers.BaseSerializer[Any]]] = set()
    for module in modules():
        if not module.__name__.startswith("api."):
            continue
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            if not isinstance(node, ast.Call):
                continue
            named = [each.value for each in node.keywords if each.arg == "request"]
            if isinstance(node.func, ast.Name) and node.func.id == "given_in":
                named.append(node.args[0])
            names = [each.id for each in named if isinstance(each, ast.Name)]
            shapes = [vars(module).get(name) for name in names]
            found |= {s for s in shapes if inspect.isclass(s) and issubclass(s, BASE)}
    return found


BASE = serializers.BaseSerializer


def plain_in(shape: serializers.BaseSerializer[Any], at: str) -> Iterator[str]:
    """The fields of a shape, however deep, that take any day or moment at all."""
    for name, field in getattr(shape, "fields", {}).items():
        yield from plain_field(field, f"{at}.{name}")


def plain_field(field: Any, at: str) -> Iterator[str]:
    if getattr(field, "read_only", False):
        return
    if isinstance(field, PLAIN) and not isinstance(field, ApiDay | GivenMoment):
        yield at
    if child := getattr(field, "child", None):
        yield from plain_field(child, at)
    yield from plain_in(field, at) if isinstance(field, serializers.Serializer) else ()


def test_every_body_of_the_api_takes_days_and_moments_of_a_kind() -> None:
    shapes = asked_for()
    assert len(shapes) > 25
    bare = [each for shape in shapes for each in plain_in(shape(), shape.__name__)]
    assert bare == []
    bounded = [
        name
        for shape in shapes
        for name, field in getattr(shape(), "fields", {}).items()
        if isinstance(field, ApiDay | GivenMoment)
    ]
    assert len(bounded) > 15


def kinds_below(base: type[Kind]) -> Iterator[type[Kind]]:
    for found in base.__subclasses__():
        yield found
        yield from kinds_below(found)


def test_every_form_takes_days_of_a_kind() -> None:
    list(modules())
    kinds: Iterator[Any] = kinds_below(forms.BaseForm)  # `base_fields` is of their metaclass
    ours = [form for form in kinds if form.__module__.split(".")[0] in NAMES]
    assert len(ours) > 12
    taking = 0
    for form in ours:
        for name, field in form.base_fields.items():
            if isinstance(field, forms.DateField | forms.DateTimeField | forms.MultiValueField):
                assert isinstance(field, DayFormField), f"{form.__name__}.{name}"
                taking += 1
    assert taking == 14


NAMES = {floor.__name__ for floor in FLOORS}


def test_every_filter_takes_days_and_moments_of_a_kind() -> None:
    list(modules())
    dated = (django_filters.DateFilter, django_filters.IsoDateTimeFilter)
    dated += (django_filters.DateTimeFilter, django_filters.DateFromToRangeFilter)
    taking = 0
    for sieve in kinds_below(django_filters.FilterSet):
        for name, each in getattr(sieve, "base_filters", {}).items():
            if isinstance(each, dated):
                bounds = each.extra.get("validators", ())
                assert any(isinstance(bound, Within) for bound in bounds), f"{sieve}.{name}"
                taking += 1
    assert taking == 3


def test_what_phones_send_and_house_files_hold_takes_moments_of_a_kind() -> None:
    list(modules())
    taking = 0
    for model in kinds_below(BaseModel):
        if model.__module__.split(".")[0] not in NAMES:
            continue
        for name, field in model.model_fields.items():
            dated = "date" in str(field.annotation).lower()
            if dated:
                bounds = [each for each in field.metadata if hasattr(each, "func")]
                assert bounds, f"{model.__name__}.{name}"
                taking += 1
    # two of a tick, one of what is sent, of a site change, of a correction, of a circuit as pulled
    assert taking == 7


def test_no_text_is_read_as_a_day_but_by_the_kinds() -> None:
    """Commands, query strings and tables of closures among it."""
    reading = {"fromisoformat", "strptime", "parse_date", "parse_datetime", "fromtimestamp"}
    for path, tree in sources():
        if path.name == "moments.py":
            continue
        for node in ast.walk(tree):
            if isinstance(node, ast.Attribute) and node.attr in reading:
                whose = getattr(node.value, "id", "")
                made_here = (path.name, node.attr) == ("base.py", "fromtimestamp")
                assert whose == "time" or made_here, f"{path}:{node.lineno}: {node.attr}"
