"""A migration while people work: `python -m bench.drills.migrating NUMBER`.

It adds a column and an index to the table of observations and a column with something in it to
that of the jobs' standings, all in one transaction: the two tables that every tick writes to.
The code that runs beside it knows nothing of either. A lock that does not come within three
seconds is given up and asked for again, as docs/deploy.md advises.
"""

import os
import sys
import time
from typing import Any

TRIES = 10
PREFIX = "drill_"


def main(number: int) -> int:
    """Apply it; 1 when the locks never came."""
    os.environ["PGOPTIONS"] = "-c lock_timeout=3s"
    import django

    django.setup()
    from django.db import OperationalError, connection
    from django.db.migrations.executor import MigrationExecutor

    made = _migration(number)
    for _ in range(TRIES):
        try:
            executor = MigrationExecutor(connection)
            if (made.app_label, made.name) not in executor.loader.applied_migrations:
                executor.apply_migration(executor.loader.project_state(), made)
        except OperationalError:  # a lock that did not come, a deadlock, a server that went away
            connection.close()
            time.sleep(0.5)
        else:
            return 0
    return 1


def _migration(number: int) -> Any:
    from django.db import migrations, models

    name = f"{PREFIX}{number}"

    def fill(apps: Any, _editor: Any) -> None:
        apps.get_model("inspections", "jobstanding").objects.update(**{name: "filled"})

    operations = [
        # Without a default: one that Django alone knows would refuse the rows of older code.
        migrations.AddField("observation", name, models.TextField(null=True)),
        migrations.AddIndex("observation", models.Index(fields=[name], name=f"{name}_index")),
        migrations.AddField("jobstanding", name, models.TextField(null=True)),
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]
    made = migrations.Migration(f"9{number:03}_drill", "inspections")
    made.operations = operations
    return made


def halves(numbers: list[int]) -> int:
    """How many of these migrations are there in part, or not at all."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT column_name, count(*) FROM information_schema.columns "
            "WHERE column_name LIKE 'drill\\_%%' GROUP BY column_name"
        )
        columns = dict(cursor.fetchall())
        cursor.execute("SELECT name FROM django_migrations WHERE name LIKE '9%%_drill'")
        told = {name for (name,) in cursor.fetchall()}
    return sum(columns.get(f"{PREFIX}{n}") != 2 or f"9{n:03}_drill" not in told for n in numbers)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1])))
