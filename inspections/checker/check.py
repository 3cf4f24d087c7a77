"""The one entry: a house and a rulebook in, findings out, in the order a person walks."""

from collections.abc import Iterable
from importlib import import_module
from pkgutil import iter_modules

from . import rules as rules_package
from .finding import Finding, Rule, rules
from .house import House
from .rulebook import Rulebook
from .site import HouseByCode

for _module in iter_modules(rules_package.__path__):
    import_module(f"{rules_package.__name__}.{_module.name}")


def check(house: House, rulebook: Rulebook) -> list[Finding]:
    """Every finding of every rule: the rough-in before the finish, each as a person walks.

    That is by area, room, wall clockwise from the door, low to high.
    """
    site = HouseByCode(house, rulebook)
    findings = []
    for rule in rules().values():
        for finding in rule.check(site):
            findings.append(finding)
    return walking_order(findings)


def walking_order(findings: Iterable[Finding]) -> list[Finding]:
    """Findings as a person meets them on a walk, the finish after the rough-in."""
    return sorted(findings, key=_walk)


def _walk(finding: Finding) -> tuple[bool, tuple[float, ...], str, str]:
    at_finish = finding.rule.stage == "finish"
    return at_finish, finding.spot.order, finding.rule.id, finding.subject


def silent_rules(rulebook: Rulebook) -> list[Rule]:
    """The rules on which this rulebook has no limit, and which therefore say nothing."""
    silent: list[Rule] = []
    for rule in rules().values():
        if not rulebook.speaks_on(rule.id):
            silent.append(rule)
    return silent
