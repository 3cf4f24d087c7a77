"""Words by verdict: what most rules say, from a line for each verdict they can come to."""

from collections.abc import Iterable, Mapping

from inspections.checker.finding import Finding, FindingWords, Verdict

By = Mapping[Verdict, str]


def verdict_words(
    finding: Finding, figure: str, limit: str, working: Iterable[str], says: By, remedies: By
) -> FindingWords:
    """The words for the finding's verdict; a verdict without a remedy needs none."""
    verdict = finding.verdict
    return FindingWords(says[verdict], figure, limit, tuple(working), remedies.get(verdict, ""))
