"""The auditor has nothing to say of what the project's own code concludes."""

import pytest

from inspections.tasks import settle_due
from tests.audit.audited import audited
from tests.lived import lived_in

pytestmark = pytest.mark.django_db


def test_a_shop_in_the_middle_of_things_has_no_difference(shop, stranger_shop, house_bytes) -> None:
    lived_in(shop, house_bytes)
    stranger_shop.roughed_in(house_bytes)
    settle_due()
    assert audited() == []
