"""Check a house file without a database."""

import json
import sys
from pathlib import Path
from time import process_time

from django.core.management.base import BaseCommand, CommandParser

from inspections import checker
from inspections.report import report_json, report_text

PASSING = {checker.Verdict.MEETS, checker.Verdict.LOOK}


class Command(BaseCommand):
    """Exit 0 when nothing is short or unknown, 1 when something is, 2 on a bad file."""

    help = "Check a house file: 0 nothing short or unknown, 1 something is, 2 a bad file."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", help="a house file in JSON, or - for standard input")
        parser.add_argument("--rulebook", help=f"one of {', '.join(checker.rulebook_ids())}")
        parser.add_argument("--amendments", help="a TOML file of local amendments")
        stages = ("all", "rough-in", "finish")
        parser.add_argument("--stage", choices=stages, default="all", help="only its items")
        parser.add_argument("--format", choices=("text", "json", "pdf"), default="text")
        parser.add_argument("--output", help="where to write; a PDF goes beside you otherwise")
        parser.add_argument("--timing", action="store_true", help="print CPU time to stderr")

    def handle(self, *args: str, **options: str) -> None:
        try:
            house, rulebook, findings = self._checked(**options)
        except OSError as error:
            self._refuse(f"{error.filename}: {error.strerror.lower()}")
        except (checker.HouseFaults, checker.RulebookFault, UnicodeDecodeError) as error:
            self._refuse(str(error))
        self._write(options, house, rulebook, findings)
        if any(finding.verdict not in PASSING for finding in findings):
            sys.exit(1)

    def _checked(self, *, file, rulebook, amendments, stage, timing, **_):
        raw = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
        overlay = Path(amendments).read_text("utf-8") if amendments else None
        start = process_time()
        house = checker.load_house(raw)
        read = process_time()
        chosen = rulebook or house.rulebook
        if not chosen:
            self._refuse("rulebook: is missing; name one in the file or with --rulebook")
        book = checker.load_rulebook(chosen, overlay)
        ready = process_time()
        findings = checker.check(house, book)
        done = process_time()
        if timing:
            self.stderr.write(
                f"CPU: read {1000 * (read - start):.1f} ms, "
                f"rulebook {1000 * (ready - read):.1f} ms, "
                f"check {1000 * (done - ready):.1f} ms"
            )
        wanted = [each for each in findings if stage in ("all", each.rule.stage)]
        return house, book, wanted

    def _write(self, options, house, rulebook, findings) -> None:
        if options["format"] == "pdf":
            from inspections.sheets import checklist_pdf  # heavy, and only here

            path = Path(options["output"] or Path(options["file"]).with_suffix(".pdf").name)
            path.write_bytes(checklist_pdf(house, rulebook, findings))
            self.stdout.write(str(path))
            return
        if options["format"] == "json":
            report = report_json(house, rulebook, findings)
            text = json.dumps(report, indent=2, ensure_ascii=False) + "\n"
        else:
            text = report_text(house, rulebook, findings)
        if options["output"]:
            Path(options["output"]).write_text(text, "utf-8")
        else:
            self.stdout.write(text, ending="")

    def _refuse(self, text: str) -> None:
        self.stderr.write(text)
        sys.exit(2)
