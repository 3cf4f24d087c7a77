"""Signing in as people do, for tests of accounts."""

from django.test import Client

PASSWORD = "rough-in"
NEW = "four studs and a plate"


def tried(person_or_name, password: str, **given) -> int:
    """What a sign-in from some place is answered."""
    name = getattr(person_or_name, "username", person_or_name)
    client = Client(**given)
    return client.post("/sign-in/", {"login": name, "password": password}).status_code


def signed_in(person, **given) -> Client:
    """A client of somebody who is signed in."""
    client = Client(**given)
    client.force_login(person)
    return client


def is_in(client: Client) -> bool:
    """Whether it is signed in still."""
    return client.get("/wishes/").status_code == 200
