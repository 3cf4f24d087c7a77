"""What notices tell, and why messages did not arrive, are kept as messages.

What was told before stays as the English sentence that it was, as a string of JSON. Code of the
version before writes bare text: stop it first. No shop has run a release yet.
"""

import json

from django.db import migrations, models

from config.languages import say

COLUMNS = {
    'Notice': ('text',),
    'Delivery': ('fault',),
    'Try': ('fault',),
    'Gateway': ('fault',),
    'Address': ('paused_because',),
}
"""Columns of one sentence; the body of a notice has one a line."""
LENGTH = 500
BATCH = 1000


def _each(model, columns, turned):
    """Turn the columns of every row, in order, some at a time."""
    changed = []
    for row in model.objects.only(*columns).order_by('pk').iterator(BATCH):
        for column in columns:
            setattr(row, column, turned(column, getattr(row, column)))
        changed.append(row)
        if len(changed) == BATCH:
            model.objects.bulk_update(changed, columns)
            changed = []
    model.objects.bulk_update(changed, columns)


def _as_json(column, text):
    """A sentence, or the lines of a body, as JSON."""
    if column == 'body':
        return json.dumps(text.splitlines())
    return json.dumps(text)


def _as_text(column, stored):
    """What was stored, in English."""
    value = json.loads(stored)
    if column == 'body':
        return '\n'.join(say(line, 'en') for line in value)
    return say(value, 'en')[:LENGTH]


def _turn(apps, turned):
    for name, columns in COLUMNS.items():
        if name == 'Notice':
            columns = (*columns, 'body')
        _each(apps.get_model('notifications', name), columns, turned)


def write_json(apps, _editor):
    """Each sentence becomes the JSON of itself, before its column becomes one of JSON."""
    _turn(apps, _as_json)


def write_text(apps, _editor):
    """What was JSON becomes English again."""
    _turn(apps, _as_text)


def _altered(of):
    """The same change of every column of a sentence."""
    found = []
    for model, columns in COLUMNS.items():
        for column in columns:
            found.append(migrations.AlterField(model.lower(), column, of(model)))
    return found


def _json(model):
    if model in ('Notice', 'Try'):
        return models.JSONField()
    return models.JSONField(blank=True, default=str)


class Migration(migrations.Migration):

    dependencies = [('notifications', '0017_inspection')]

    operations = [
        *_altered(lambda _: models.TextField(blank=True)),
        migrations.RunPython(write_json, write_text),
        *_altered(_json),
        migrations.AlterField('notice', 'body', models.JSONField(blank=True, default=list)),
        migrations.AlterField(
            model_name='delivery',
            name='state',
            field=models.CharField(choices=[('due', 'waiting'), ('sent', 'sent'), ('dead', 'not delivered'), ('moot', 'no longer needed')], default='due', max_length=4),
        ),
        migrations.AlterField(
            model_name='feed',
            name='scope',
            field=models.CharField(choices=[('person', 'all my inspections'), ('job', 'one job'), ('builder', "a builder's houses"), ('crew', "a crew lead's jobs")], max_length=10),
        ),
        migrations.AlterField(
            model_name='notice',
            name='kind',
            field=models.CharField(choices=[('permit', 'permits'), ('inspection', 'inspections'), ('deficiency', 'deficiencies'), ('cover', 'cover releases'), ('hookup', 'construction hookup and temporary service'), ('list', 'next-day lists'), ('finish', 'finish, final and certificate'), ('summary', 'weekly summary'), ('trouble', 'messages and checks that failed'), ('audit', 'nightly audit')], max_length=12),
        ),
        migrations.AlterField(
            model_name='wish',
            name='kind',
            field=models.CharField(choices=[('permit', 'permits'), ('inspection', 'inspections'), ('deficiency', 'deficiencies'), ('cover', 'cover releases'), ('hookup', 'construction hookup and temporary service'), ('list', 'next-day lists'), ('finish', 'finish, final and certificate'), ('summary', 'weekly summary'), ('trouble', 'messages and checks that failed'), ('audit', 'nightly audit')], max_length=12),
        ),
        migrations.AlterField(
            model_name='wish',
            name='way',
            field=models.CharField(choices=[('first', 'my first address'), ('email', 'e-mail'), ('message', 'text message, chat or push'), ('webhook', 'webhook'), ('not', 'on the site only')], default='first', max_length=8),
        ),
        migrations.AlterConstraint(
            model_name='address',
            name='a_message_goes_through_a_gateway',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('channel', 'message'), ('gateway__isnull', False)), models.Q(models.Q(('channel', 'message'), _negated=True), ('gateway__isnull', True)), _connector='OR'), name='a_message_goes_through_a_gateway', violation_error_code='a_message_goes_through_a_gateway', violation_error_message='A text message needs a gateway; other addresses take none.'),
        ),
        migrations.AlterConstraint(
            model_name='address',
            name='one_address_once_per_person',
            constraint=models.UniqueConstraint(fields=('person', 'channel', 'digest'), name='one_address_once_per_person', violation_error_code='one_address_once_per_person', violation_error_message='This address is on your list already.'),
        ),
        migrations.AlterConstraint(
            model_name='gateway',
            name='gateway_name_once_per_shop',
            constraint=models.UniqueConstraint(fields=('shop', 'name'), name='gateway_name_once_per_shop', violation_error_code='gateway_name_once_per_shop', violation_error_message='A gateway has this name already. Use another name.'),
        ),
        migrations.AlterConstraint(
            model_name='habits',
            name='quiet_hours_have_two_ends',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('quiet_from__isnull', True), ('quiet_to__isnull', True)), models.Q(('quiet_from__isnull', False), ('quiet_to__isnull', False)), _connector='OR'), name='quiet_hours_have_two_ends', violation_error_code='quiet_hours_have_two_ends', violation_error_message='Enter both ends of the quiet hours, or neither.'),
        ),
        migrations.AlterConstraint(
            model_name='wish',
            name='one_wish_per_kind',
            constraint=models.UniqueConstraint(fields=('person', 'kind'), name='one_wish_per_kind', violation_error_code='one_wish_per_kind', violation_error_message='A choice for this kind is recorded already.'),
        ),
    ]
