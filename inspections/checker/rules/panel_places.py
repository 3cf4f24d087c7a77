"""Rooms in which no panel stands."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import power_panels

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import listed

NAME = "panel-places"


def tell(finding: Finding) -> FindingWords:
    """The room of the panel."""
    data = finding.facts
    kind, barred = data["kind"], listed(data["barred"])
    says = {
        Verdict.MEETS: f"A panel may be in {data['room']} ({kind}).",
        Verdict.SHORT: f"No panel may be in {data['room']} ({kind}).",
    }
    remedies = {Verdict.SHORT: "Move the panel."}
    working = (f"{data['room']} is a {kind}; none in: {barred}",)
    return verdict_words(finding, kind, f"none in {barred}", working, says, remedies)


@rule(NAME, topic="panel", title="Room of the panel", tell=tell, scope=Scope.WIRING)
def panel_places(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Panels stay out of bathrooms, clothes closets and stairways.

    A panel wants a dry place, free of things that burn, that somebody in haste can reach.
    """
    limit = site.rulebook.get(f"{NAME}.not_in")
    if limit is None:
        return
    for panel in power_panels(site):
        room = site.rooms[panel.room]
        barred = []
        for kind in limit.value:
            barred.append(kind.replace("_", " "))
        data = {"room": room.name, "kind": room.kind.value.replace("_", " "), "barred": barred}
        verdict = Verdict.MEETS
        if room.kind in limit.value:
            verdict = Verdict.SHORT
        yield Finding(this, panel.id, verdict, site.panel_spot(panel), data, (limit,))
