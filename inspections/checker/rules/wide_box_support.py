"""Extra support for boxes wider than two gangs."""

from collections.abc import Iterator

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import plural

NAME = "wide-box-support"


def tell(finding: Finding) -> FindingWords:
    """Braces against what is asked."""
    data = finding.facts
    braces, asked = data["braces"], plural(data["asked"], "brace")
    if braces is None:
        figure = "not recorded"
    else:
        figure = plural(braces, "brace")
    gangs = f"{data['gangs']}-gang box"
    says = {
        Verdict.MEETS: f"The {gangs} has {figure} beyond its first fixing.",
        Verdict.SHORT: f"The {gangs} has {figure}; {asked} asked beyond its first fixing.",
        Verdict.UNKNOWN: f"Nobody recorded how the {gangs} is braced.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Brace the far side of the box to framing.",
        Verdict.UNKNOWN: "Look at the far side of the box and record its braces.",
    }.get(finding.verdict, "")
    working = (f"{data['gangs']} gangs, more than {data['free']}: {asked} asked, {figure} found",)
    return FindingWords(says, figure, f"at least {asked}", working, remedy)


@rule(NAME, topic="boxes", title="Support of wide boxes", tell=tell, scope=Scope.ROOM)
def wide_box_support(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box wider than two gangs, fixed at one side, works loose; it is braced on the other."""
    book = site.rulebook
    if f"{NAME}.braces" not in book:
        return
    limits = (book[f"{NAME}.gangs"], book[f"{NAME}.braces"])
    free, asked = limits[0].value, limits[1].value
    for box in site.house.boxes:
        if box.gangs <= free:
            continue
        verdict = Verdict.UNKNOWN
        if box.braces is not None:
            verdict = Verdict.SHORT
            if box.braces >= asked:
                verdict = Verdict.MEETS
        data = {"gangs": box.gangs, "braces": box.braces, "free": free, "asked": asked}
        yield Finding(this, box.id, verdict, site.box_spot(box), data, limits)
