"""Write the page of every rule."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandParser

from inspections.checker import manual

FOLDER = Path(__file__).resolve().parents[3] / "docs" / "rules"


class Command(BaseCommand):
    """The pages are made from the rules and kept nowhere: whoever wants to read them makes them."""

    help = "Write docs/rules from docstrings and rulebooks."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--folder", default=str(FOLDER), help="where to write the pages")

    def handle(self, *args: str, **options: str) -> None:
        folder, pages = Path(options["folder"]), manual.pages()
        folder.mkdir(parents=True, exist_ok=True)
        for path in folder.glob("*.md"):
            if path.name not in pages:  # of a rule that is gone
                path.unlink()
        for name, text in pages.items():
            (folder / name).write_text(text, "utf-8")
        self.stdout.write(f"{len(pages)} pages of rules in {folder}")
