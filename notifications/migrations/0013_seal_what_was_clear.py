"""Secrets that stood in clear are sealed, and what is looked up gets its digest.

Code of the version before goes on: it finds no calendar by its address and gives up on a webhook or
a gateway, whose message goes to the person's next address and is shown to the office, until it is
stopped. What it writes in clear meanwhile is read as it is, and sealed by `manage.py reseal` or when
it is next saved.
"""

from django.db import migrations

from config.sealing import is_sealed, seal
from jobs.secrets import digest_of

PLACES = (
    ("Gateway", ("url", "secret"), None),
    ("Address", ("target", "secret"), "target"),
    ("Feed", ("token",), "token"),
)
"""Model, columns to seal, and the one that is known again by its digest."""


def seal_all(apps, schema_editor) -> None:
    """Row by row; one that is sealed already, by a run that was stopped, stays."""
    for name, columns, known_by in PLACES:
        model = apps.get_model("notifications", name)
        for row in model.objects.order_by("pk").iterator():
            if known_by and row.digest is None and not is_sealed(getattr(row, known_by)):
                row.digest = digest_of(getattr(row, known_by))
            for column in columns:
                clear = getattr(row, column)
                if clear and not is_sealed(clear):
                    setattr(row, column, seal(clear, of=f"{model._meta.db_table}.{column}"))
            row.save()


class Migration(migrations.Migration):
    dependencies = [("notifications", "0012_sealed")]

    operations = [migrations.RunPython(seal_all, migrations.RunPython.noop)]
