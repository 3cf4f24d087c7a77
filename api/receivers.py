"""What programs were answered ends with the person they acted for."""

from django.dispatch import receiver

from api.models import StoredAnswer
from jobs.models import Person
from jobs.signals import person_left


@receiver(person_left, dispatch_uid="whoever left is not answered again")
def forget_shop_answers(*, person: Person, elsewhere: bool, **_: object) -> None:
    """An answer that is kept to be given again may tell of the shop.

    Whoever works with another shop keeps theirs for the day, so that no call there is done twice.
    """
    if not elsewhere:
        StoredAnswer.objects.filter(person=person).delete()
