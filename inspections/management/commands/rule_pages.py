"""Write the page of every rule, or say which are not current."""

import sys
from pathlib import Path

from django.core.management.base import BaseCommand, CommandParser

from inspections.checker import manual

FOLDER = Path(__file__).resolve().parents[3] / "docs" / "rules"


class Command(BaseCommand):
    """Exit 1 when --check finds a page that is not as the rules and rulebooks have it."""

    help = "Write docs/rules from docstrings and rulebooks."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--check", action="store_true", help="write nothing; 1 if stale")
        parser.add_argument("--folder", default=str(FOLDER), help="where the pages stand")

    def handle(self, *args: str, **options: str) -> None:
        folder, wanted = Path(options["folder"]), manual.pages()
        here = {}
        for path in folder.glob("*.md"):
            here[path.name] = path.read_text("utf-8")
        names = []
        for name in {*here, *wanted}:
            if here.get(name) != wanted.get(name):
                names.append(name)
        stale = sorted(names)
        if options["check"]:
            if stale:
                self.stderr.write(f"not current: {', '.join(stale)}; run `make docs`")
                sys.exit(1)
            self.stdout.write(f"{len(wanted)} pages of rules, all current")
            return
        folder.mkdir(parents=True, exist_ok=True)
        for name in stale:
            if name in wanted:
                (folder / name).write_text(wanted[name], "utf-8")
            else:
                (folder / name).unlink()
        self.stdout.write(f"{len(wanted)} pages of rules in {folder}, {len(stale)} of them changed")
