"""Check a house file without a database."""

from time import process_time
from typing import Any

from django.core.management.base import CommandParser

from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.rulebook import Rulebook
from inspections.management.house_command import CommandAnswer, HouseCommand
from inspections.papers.report.as_json import report_json
from inspections.papers.report.as_text import report_text

PASSING = {Verdict.OK, Verdict.VERIFY}
SITE_LIST = "site-list"


class Command(HouseCommand):
    """Every item of a house, as a person walks it."""

    help = "Check a house file: 0 nothing to fix or to record, 1 something is, 2 a bad file."

    formats = ("text", "json", "pdf", SITE_LIST)

    def add_arguments(self, parser: CommandParser) -> None:
        super().add_arguments(parser)
        stages = ("all", "rough-in", "finish")
        parser.add_argument(
            "--stage", choices=stages, default="all", help="only the items of that stage"
        )
        parser.add_argument("--timing", action="store_true", help="print CPU time to stderr")

    def answer(self, house: House, book: Rulebook, options: dict[str, Any]) -> CommandAnswer:
        start = process_time()
        found = check(house, book)
        if options["timing"]:
            taken = self.cpu_s | {"check": process_time() - start}
            timings = []
            for name, seconds in taken.items():
                timings.append(f"{name} {1000 * seconds:.1f} ms")
            told = ", ".join(timings)
            self.stderr.write(f"CPU: {told}")
        wanted = []
        for each in found:
            if options["stage"] in ("all", each.rule.stage):
                wanted.append(each)

        def pdf() -> bytes:
            from inspections.papers.sheets.checklist import checklist_pdf  # heavy

            return checklist_pdf(house, book, wanted)

        def site_list() -> bytes:
            from inspections.papers.sheets.site_list import SiteList, site_list_pdf  # heavy

            stage = options["stage"]
            if stage == "all":
                stage = "rough-in"  # one walk has one list; the finish has its own
            walked = []
            for each in found:
                if each.rule.stage == stage:
                    walked.append(each)
            return site_list_pdf(SiteList(house, walked), book)

        return CommandAnswer(
            all(finding.verdict in PASSING for finding in wanted),
            lambda: report_text(house, book, wanted),
            lambda: report_json(house, book, wanted),
            pdf,
            papers={SITE_LIST: site_list},
        )
