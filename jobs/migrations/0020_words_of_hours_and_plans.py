"""What is said of an authority's hours and of a plan that cannot be sent; no table changes."""

from django.db import migrations, models
from django.db.models import F, Q


def said(model, name, condition, words):
    """The same constraint, with its words."""
    constraint = models.CheckConstraint(
        condition=condition,
        name=name,
        violation_error_code=name,
        violation_error_message=words,
    )
    return migrations.AlterConstraint(model, name, constraint)


class Migration(migrations.Migration):
    dependencies = [('jobs', '0019_work_as_messages')]

    operations = [
        said(
            'authority',
            'inspections_have_hours',
            Q(from_hour__lt=F('to_hour')),
            'The hours of inspections end before they begin. Set the last hour later than the '
            'first.',
        ),
        said(
            'plan',
            'only_a_made_plan_is_told',
            Q(told_at__isnull=True) | Q(state='made'),
            'Only a plan that is worked out can be sent.',
        ),
        said(
            'plan',
            'no_supposition_is_told',
            Q(told_at__isnull=True) | Q(supposing=[]),
            'A what-if plan cannot be sent. Make one without it.',
        ),
    ]
