"""Verdicts and answers have one name each, on pages, in the API and in the tables.

What the figures say: ok, not_to_code, verify, info_needed. What a person says: ok, fix, cant_see.
Entries of the record stay as they were written. Observations are append-only: they are an ordinary
table while their words change, and SQLite makes the table anew.
"""

import json

from django.db import migrations, models

from inspections.append_only import make_append_only, release

VERDICTS = {"meets": "ok", "short": "not_to_code", "look": "verify", "unknown": "info_needed"}
OUTCOMES = {"pass": "ok", "fail": "fix", "absent": "cant_see"}
REASONS = {"failing": "fix", "unknown": "info_needed"}
OBSERVATIONS = ("inspections_observation",)


def open_up(_apps, editor):
    release(editor.connection, OBSERVATIONS)


def close(_apps, editor):
    make_append_only(editor.connection, OBSERVATIONS)


def case(column, words):
    """A word's name of today, in SQL; all are literals of this file."""
    whens = " ".join(f"WHEN '{old}' THEN '{new}'" for old, new in words.items())
    return f"CASE {column} {whens} ELSE {column} END"


def rename(apps, editor):
    _rename(apps, editor, VERDICTS, OUTCOMES, REASONS)


def rename_back(apps, editor):
    turned = [{new: old for old, new in each.items()} for each in (VERDICTS, OUTCOMES, REASONS)]
    _rename(apps, editor, *turned)


def _rename(apps, editor, verdicts, outcomes, reasons):
    put = "json_set(finding, '$.verdict', verdict)"
    if editor.connection.vendor == "postgresql":
        put = "jsonb_set(finding, '{verdict}', to_jsonb(verdict::text))"
    with editor.connection.cursor() as cursor:
        cursor.execute(f"UPDATE inspections_item SET verdict = {case('verdict', verdicts)}")
        cursor.execute(f"UPDATE inspections_item SET finding = {put}")
        cursor.execute(
            f"UPDATE inspections_observation SET outcome = {case('outcome', outcomes)}"
        )
    _rename_reasons(apps.get_model("inspections", "AreaStanding"), "holds", reasons)
    _rename_reasons(apps.get_model("inspections", "CoverRelease"), "withdrawn_holds", reasons)


def _rename_reasons(model, field, reasons):
    for row in model.objects.exclude(**{field: None}).exclude(**{field: []}).iterator():
        holds = getattr(row, field)
        changed = [
            {**hold, "reason": reasons.get(hold.get("reason"), hold.get("reason"))}
            if isinstance(hold, dict) and "reason" in hold
            else hold
            for hold in holds
        ]
        if json.dumps(changed) != json.dumps(holds):
            model.objects.filter(pk=row.pk).update(**{field: changed})


class Migration(migrations.Migration):
    dependencies = [("inspections", "0037_append_only_houses")]
    operations = [
        migrations.RunPython(open_up, close),
        migrations.AlterField(
            model_name="item",
            name="verdict",
            field=models.CharField(max_length=12),
        ),
        migrations.AlterField(
            model_name="observation",
            name="outcome",
            field=models.CharField(
                choices=[("ok", "OK"), ("fix", "Fix"), ("cant_see", "Can't see")], max_length=10
            ),
        ),
        migrations.RunPython(rename, rename_back),
        migrations.RunPython(close, open_up),
    ]
