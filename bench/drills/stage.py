"""What a drill begins with: a shop with houses before the cover, and people who may write."""

from typing import Any

JOBS = 6


def set_stage(people: int, jobs: int = JOBS) -> tuple[list[dict[str, Any]], list[str]]:
    """Areas with what is to be looked at in each, and a token for each person."""
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    from inspections.checker.finding import Verdict
    from jobs.models import ApiToken
    from jobs.services.tokens import token_make
    from notifications.models import Channel
    from notifications.services.wishes import address_add
    from tests.inspections.tiny import HOUSES
    from tests.people import Shopful

    shop = Shopful("Drill")
    for number, person in enumerate((shop.office, shop.lead, shop.builder)):
        address_add(
            shop.office,
            shop=shop.shop,
            person=person,
            channel=Channel.EMAIL,
            target=f"p{number}@example.org",
        )
    areas = []
    for number in range(jobs):
        job = shop.roughed_in(HOUSES["clean"])
        for area in job.areas.all():
            shop.look_at(area)
            shop.accept(area, reference=f"R{number}")
            looks = area.items.filter(verdict=Verdict.VERIFY, current=True, stage="rough-in")
            items = []
            for i in looks:
                items.append({"id": str(i.id), "fingerprint": i.fingerprint})
            if items:
                areas.append({"id": str(area.id), "job": str(job.id), "items": items})
    scope = ApiToken.Scope.WRITE
    tokens = []
    for n in range(people):
        tokens.append(token_make(shop.office, name=f"drill {n}", scope=scope)[1])
    return areas, tokens
