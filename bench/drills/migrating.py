"""Two migrations while people work: `python -m bench.drills.migrating NUMBER`.

One adds a column and an index to the table of observations, one a column with something in it to
that of the jobs' standings: the tables that every tick writes to. The code that runs beside them
knows nothing of either. A lock that does not come within three seconds is given up and asked for
again, as docs/deploy.md advises. In one transaction they were in a deadlock with people, who take
the same tables in another order, ten times out of ten.
"""

import os
import sys
import time
from typing import Any

TRIES = 10
PREFIX = "drill_"


def main(number: int) -> int:
    """Apply both; 1 when the locks never came."""
    os.environ["PGOPTIONS"] = "-c lock_timeout=3s"
    import django

    django.setup()
    return int(not all(_applied(each) for each in _migrations(number)))


def _applied(made: Any) -> bool:
    from django.db import OperationalError, connection
    from django.db.migrations.executor import MigrationExecutor

    for _ in range(TRIES):
        try:
            executor = MigrationExecutor(connection)
            if (made.app_label, made.name) not in executor.loader.applied_migrations:
                executor.apply_migration(executor.loader.project_state(), made)
        except OperationalError as error:  # no lock, a deadlock, a server that went away
            print(f"{made.name}: {error}", file=sys.stderr)
            connection.close()
            time.sleep(0.5)
        else:
            return True
    return False


def _migrations(number: int) -> list[Any]:
    from django.db import migrations, models

    name = f"{PREFIX}{number}"

    def fill(apps: Any, _editor: Any) -> None:
        apps.get_model("inspections", "jobstanding").objects.update(**{name: "filled"})

    # Without a default: one that Django alone knows would refuse the rows of older code.
    column = models.TextField(null=True)
    index = models.Index(fields=[name], name=f"{name}_index")
    parts = {
        "observation": [
            migrations.AddField("observation", name, column),
            migrations.AddIndex("observation", index),
        ],
        "jobstanding": [
            migrations.AddField("jobstanding", name, column),
            migrations.RunPython(fill, migrations.RunPython.noop),
        ],
    }
    found = []
    for table, operations in parts.items():
        made = migrations.Migration(f"9{number:03}_drill_{table}", "inspections")
        # Django's own declares one list for all of a class; this is one migration's.
        vars(made)["operations"] = operations
        found.append(made)
    return found


def halves(numbers: list[int]) -> int:
    """How many of these migrations are there in part, or not at all."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("SELECT name FROM django_migrations WHERE name LIKE '9%%_drill_%%'")
        told = set()
        for (name,) in cursor.fetchall():
            told.add(name)
        cursor.execute(
            "SELECT '9' || lpad(substr(column_name, 7), 3, '0') || '_drill_' "
            "|| substr(table_name, 13) FROM information_schema.columns "
            "WHERE column_name LIKE 'drill\\_%%' AND table_name LIKE 'inspections%%'"
        )
        there = set()
        for (name,) in cursor.fetchall():
            there.add(name)
    wanted = set()
    for n in numbers:
        for table in ("observation", "jobstanding"):
            wanted.add(f"9{n:03}_drill_{table}")
    return len(wanted - (told & there)) + len(told ^ there)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1])))
