"""Make the stranger shop anew and keep its rows: `python -m tests.stranger`."""

import json
import os
import re
from typing import Any

os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"


def main() -> None:
    """In a database of its own, which is gone afterwards."""
    import django

    django.setup()
    from django.conf import settings
    from django.test.utils import setup_databases, setup_test_environment, teardown_databases

    from config.celery import app
    from tests.stranger.make import stranger_shop
    from tests.stranger.rows import ROWS, kinds, taken

    setup_test_environment(debug=False)
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    app.conf.task_always_eager = True
    databases = setup_databases(verbosity=0, interactive=False)
    try:
        files = stranger_shop()
        rows = {model._meta.label_lower: taken(model) for model in kinds()}
        text = _text(rows, files)
    finally:
        teardown_databases(databases, verbosity=0)
    ROWS.write_text(_in_one_folder(text), "utf-8")
    count = sum(len(each) for each in rows.values())
    print(f"{count} rows of {sum(map(bool, rows.values()))} tables, {ROWS.stat().st_size} bytes")


def _in_one_folder(text: str) -> str:
    """Pictures are filed by the month in which they come; these are not."""
    return re.sub(r"photographs/\d{4}/\d{2}/", "photographs/zzyzx/", text)


def _text(rows: dict[str, list[dict[str, Any]]], files: dict[str, bytes]) -> str:
    """A line for each row, so that a difference can be read."""
    tables = [
        f" {json.dumps(label)}: [\n"
        + ",\n".join(f"  {json.dumps(row, ensure_ascii=False)}" for row in found)
        + "\n ]"
        for label, found in rows.items()
        if found
    ]
    kept = json.dumps({name: content.hex() for name, content in files.items()})
    return '{"rows": {\n' + ",\n".join(tables) + f'\n}},\n"files": {kept}}}\n'


if __name__ == "__main__":
    main()
