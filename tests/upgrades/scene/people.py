"""The people of the demo's shops, as tests have them."""

from jobs.models import Person, Role, Shop
from tests.people import Shopful
from tests.sure import the_first


class DemoShop(Shopful):
    """A shop that the demo has made, with the people that its scenario names."""

    def __init__(self, name: str) -> None:
        self.shop = Shop.objects.get(name=name)
        self.authority = the_first(self.shop.authorities.all())
        self.firm, self.other_firm = self.shop.builders.order_by("id")[:2]
        self.office = Person.objects.get(username="office")
        self.lead = Person.objects.get(username="lead")
        self.member = Person.objects.get(username="member")
        self.builder = Person.objects.get(username="builder")
        self.other_builder = Person.objects.get(username="builder2")


class SecondShop(Shopful):
    """The demo's other shop, with the people that it lacks."""

    def __init__(self, name: str) -> None:
        self.shop = Shop.objects.get(name=name)
        self.authority = the_first(self.shop.authorities.all())
        self.firm = self.shop.builders.get()
        self.office = Person.objects.get(username="lanternby")
        self.lead = self.person("lead", Role.CREW_LEAD)
        self.member = self.person("member", Role.CREW_MEMBER)
        self.builder = self.person("builder", Role.BUILDER, self.firm)
