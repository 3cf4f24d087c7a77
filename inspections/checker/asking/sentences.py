"""Words by verdict: what most rules say, from a line for each verdict they can come to."""

from collections.abc import Iterable, Mapping

from inspections.checker.finding import Finding, Verdict, Words

By = Mapping[Verdict, str]


def told(
    finding: Finding, figure: str, limit: str, working: Iterable[str], says: By, remedies: By
) -> Words:
    """The words for the finding's verdict; a verdict without a remedy needs none."""
    verdict = finding.verdict
    return Words(says[verdict], figure, limit, tuple(working), remedies.get(verdict, ""))
