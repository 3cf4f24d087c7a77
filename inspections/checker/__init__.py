"""The checker: a house goes in as a value, findings come out. It knows no framework."""

from inspections.checker.revision_check import recheck

from .amendments import load_rulebook
from .check import check, silent_rules
from .finding import Finding, Rule, Verdict, digest, rules
from .house import House, Insulation, InsulationKind
from .load import HouseFault, HouseFaults, load_house
from .rulebook import Limit, Rulebook, RulebookFault, rulebook_ids

__all__ = [
    "Finding",
    "House",
    "HouseFault",
    "HouseFaults",
    "Insulation",
    "InsulationKind",
    "Limit",
    "Rule",
    "Rulebook",
    "RulebookFault",
    "Verdict",
    "check",
    "digest",
    "load_house",
    "load_rulebook",
    "recheck",
    "rulebook_ids",
    "rules",
    "silent_rules",
]
