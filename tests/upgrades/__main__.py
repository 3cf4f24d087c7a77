"""`python -m tests.upgrades QUEUE` upgrades the database it is started on; the report in JSON."""

import json
import os
import sys
from pathlib import Path

import django


def main(queue: Path) -> None:
    """Set the site up, then work with its models."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    django.setup()
    from tests.upgrades.upgraded import upgrade

    print(json.dumps(upgrade(json.loads(queue.read_text("utf-8")))))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
