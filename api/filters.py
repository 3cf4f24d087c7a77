"""What lists can be narrowed by."""

import django_filters
from django.db.models import Q, QuerySet

from inspections.models import Deficiency, Inspection, InspectionKind, RecordEntry
from inspections.record.actions import written_as
from inspections.standing.stages import Stage
from jobs.forms import Within
from jobs.models import Job
from jobs.moments import ANY_DAY, PAST_MOMENT

DAY, MOMENT = Within(ANY_DAY), Within(PAST_MOMENT)


class JobFilter(django_filters.FilterSet):
    """Jobs by where they stand, for whom, and by words."""

    stage = django_filters.ChoiceFilter(
        field_name="standing__stage", choices=[(each.value, each.value) for each in Stage]
    )
    builder = django_filters.UUIDFilter(field_name="builder")
    authority = django_filters.UUIDFilter(field_name="authority")
    crew_lead = django_filters.CharFilter(field_name="crew_lead__username")
    drywall_from = django_filters.DateFilter(
        field_name="drywall_on", lookup_expr="gte", validators=[DAY]
    )
    drywall_to = django_filters.DateFilter(
        field_name="drywall_on", lookup_expr="lte", validators=[DAY]
    )
    closed = django_filters.BooleanFilter(method="is_closed", label="whether its permit is closed")
    find = django_filters.CharFilter(method="found", label="part of name, address or permit")

    class Meta:
        model = Job
        fields: tuple[str, ...] = ()

    def is_closed(self, jobs: QuerySet[Job], _name: str, value: bool) -> QuerySet[Job]:
        """Jobs whose permit is closed, or the others."""
        closed = Q(permit__closed_on__isnull=False)
        if value:
            return jobs.filter(closed)
        return jobs.exclude(closed)

    def found(self, jobs: QuerySet[Job], _name: str, value: str) -> QuerySet[Job]:
        """Jobs with these words in name, address or permit number."""
        named = Q(name__icontains=value) | Q(address__icontains=value)
        return jobs.filter(named | Q(permit__number__icontains=value))


class InspectionFilter(django_filters.FilterSet):
    """Inspections of a kind."""

    kind = django_filters.ChoiceFilter(choices=InspectionKind.choices)

    class Meta:
        model = Inspection
        fields: tuple[str, ...] = ()


class DeficiencyFilter(django_filters.FilterSet):
    """Deficiencies of an area, corrected or accepted or not."""

    area = django_filters.CharFilter(field_name="area__code")
    corrected = django_filters.BooleanFilter(
        field_name="corrected_at", lookup_expr="isnull", exclude=True
    )
    accepted = django_filters.BooleanFilter(
        field_name="accepted_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Deficiency
        fields: tuple[str, ...] = ()


class RecordFilter(django_filters.FilterSet):
    """Entries of a kind, or of a time."""

    action = django_filters.CharFilter(method="of_action")
    since = django_filters.IsoDateTimeFilter(
        field_name="at", lookup_expr="gte", validators=[MOMENT]
    )

    class Meta:
        model = RecordEntry
        fields: tuple[str, ...] = ()

    def of_action(
        self, entries: QuerySet[RecordEntry], _name: str, action: str
    ) -> QuerySet[RecordEntry]:
        """Entries of an action by its word of today, those among them that an earlier one names."""
        return entries.filter(action__in=written_as(action))
