"""A shop to send hostile files to, on the database of the surroundings: prints its ids as JSON."""

import json
import os
import sys

import django


def main(what: str = "") -> None:
    """Make it; or, with `kept`, print the photographs that something refers to."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings"
    django.setup()
    from django.conf import settings
    from django.test import Client

    from config.celery import app
    from inspections.models import DeficiencyPhotograph, Item, Photograph
    from jobs.models import ApiToken
    from jobs.services.tokens import token_make
    from tests.inspections.tiny import HOUSES
    from tests.people import Shopful

    if what == "kept":
        files = []
        for kind in (Photograph, DeficiencyPhotograph):
            for each in kind.objects.all():
                files.append(each.file.name)
        print(json.dumps(files))
        return
    app.conf.task_always_eager = True
    shop = Shopful("Uploads")
    job = shop.roughed_in(HOUSES["clean"])
    client = Client(headers={"host": "localhost"})
    client.force_login(shop.office)
    made = token_make(shop.office, name="uploads", scope=ApiToken.Scope.WRITE)
    there = []
    for path in settings.VAR.iterdir():
        there.append(path.name)
    ground = {
        "job": str(job.id),
        "item": str(Item.objects.filter(job=job)[0].id),
        "session": client.cookies["sessionid"].value,
        "token": made[1],
        "house": json.loads(job.revisions.latest("number").house),
        "there": there,
    }
    print(json.dumps(ground))


if __name__ == "__main__":
    main(*sys.argv[1:])
