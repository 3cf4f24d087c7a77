"""What was done about the reason of a withdrawal is kept as it was, too.

Before there were answers an area could be cleared again at once, and its walls may be covered on
the strength of that. There the clearance that followed is written as the answer; a withdrawal
that none followed waits for one. Code of the version before writes no answers: what it clears
again meanwhile is withdrawn by the next settling, since nobody answered the reason.
"""

from django.db import migrations

from inspections.append_only import make_append_only, release

TABLES = ("inspections_withdrawalanswer",)
SAYS = "Cleared again before answers were recorded."


def answer_what_was_cleared_again(apps, _editor):
    clearances = apps.get_model("inspections", "Clearance").objects
    answers = apps.get_model("inspections", "WithdrawalAnswer").objects
    by_hand = clearances.filter(withdrawn_by__isnull=False)
    for withdrawn in by_hand.order_by("id").iterator():
        later = clearances.filter(
            area=withdrawn.area_id, issued_at__gte=withdrawn.withdrawn_at
        ).exclude(id=withdrawn.id)
        following = later.order_by("issued_at", "id").first()
        if following is not None:
            answers.create(
                clearance=withdrawn,
                says=SAYS,
                recorded_by_id=following.issued_by_id,
                recorded_at=following.issued_at,
            )


class Migration(migrations.Migration):
    dependencies = [("inspections", "0023_withdrawal_answers")]
    operations = [
        migrations.RunPython(answer_what_was_cleared_again, migrations.RunPython.noop),
        migrations.RunPython(
            lambda _apps, editor: make_append_only(editor.connection, TABLES),
            lambda _apps, editor: release(editor.connection, TABLES),
        ),
    ]
