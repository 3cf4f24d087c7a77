"""What services refuse is said when it is read: in the reader's language, in his manner."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils.translation import override

from config.languages import measured_in
from jobs.access import NotAllowed, require_role
from jobs.bounds_refused import refuse_outside, refuse_span
from jobs.models import ApiToken, Role
from jobs.models.shops import check_zone
from jobs.moments import ANY_DAY, BOOKABLE
from jobs.passwords import NotBreached, NotOfThisPlace
from jobs.services.crews import drive_times_load
from jobs.services.tokens import token_make

NOW = datetime(2026, 11, 29, 5, 30, tzinfo=UTC)
EDMONTON = "America/Edmonton"


def refused(call: Callable[[], object]) -> ValidationError:
    with pytest.raises(ValidationError) as found:
        call()
    return found.value


def read(refusal: ValidationError, language: str) -> str:
    with override(language):
        return " ".join(refusal.messages)


@pytest.mark.any_database
def test_a_day_out_of_range_is_said_to_whoever_reads_it() -> None:
    refusal = refused(lambda: refuse_outside(NOW, EDMONTON, due_on=(ANY_DAY, date(2099, 3, 5))))
    assert read(refusal, "en") == (
        "due on: Mar 5, 2099 is out of range. Enter a day from Jan 1, 2000 to Nov 28, 2046."
    )
    assert read(refusal, "fr") == (
        "à faire pour le : 5 mars 2099 est hors limites. "
        "Entrez un jour du 1 janv. 2000 au 28 nov. 2046."
    )
    assert read(refusal, "es").startswith("para el: 5 mar 2099 está fuera de rango.")


@pytest.mark.any_database
def test_a_moment_keeps_the_clock_of_the_house_in_every_language() -> None:
    far = NOW + timedelta(days=801)
    refusal = refused(lambda: refuse_outside(NOW, EDMONTON, starts_at=(BOOKABLE, far)))
    assert "22 h 30" in read(refusal, "fr")
    assert f"({EDMONTON})" in read(refusal, "es")


@pytest.mark.any_database
@pytest.mark.parametrize(
    ("call", "typed"),
    [
        (lambda: refuse_span(date(2026, 3, 18), date(2026, 3, 17), "to_day"), ""),
        (lambda: check_zone("of the zone"), "of the zone"),
        (lambda: NotBreached().validate("password1234"), ""),
        (lambda: NotOfThisPlace().validate("electrician1"), ""),
    ],
)
def test_nothing_of_ours_stays_english(call: Callable[[], object], typed: str) -> None:
    refusal = refused(call)
    for language in ("fr", "es"):
        words = read(refusal, language)
        assert words != read(refusal, "en")
        assert typed in words
        assert not {"the", "this", "Choose", "This"} & set(words.replace(typed, "").split())


@pytest.mark.django_db
def test_who_may_is_named_by_role(shop) -> None:
    with pytest.raises(NotAllowed) as one:
        require_role(shop.builder, shop.shop, Role.OFFICE)
    with pytest.raises(NotAllowed) as several:
        require_role(shop.builder, shop.shop, Role.OFFICE, Role.CREW_LEAD)
    name = shop.shop.name
    assert str(one.value) == f"Only the office of {name} can do this."
    assert str(several.value) == f"Only the office or a crew lead of {name} can do this."
    with override("fr"):
        assert str(one.value) == f"Seul le bureau de {name} peut faire cela."
        assert str(several.value).startswith("Seuls le bureau ou un chef d'équipe de ")
    with override("es"):
        assert str(several.value).endswith(f"un jefe de cuadrilla de {name} pueden hacer esto.")


@pytest.mark.django_db
def test_each_line_of_a_table_is_refused_in_one_language(shop) -> None:
    table = 'yard,Lot of the 9,5\nyard\nyard,yard,"5\nyard,yard,5'
    refusal = refused(lambda: drive_times_load(shop.office, shop=shop.shop, table=table))
    with override("fr"):
        lines = refusal.message_dict["table"]
    assert lines[0] == "Ligne 1 : aucun chantier ne s'appelle « Lot of the 9 »."
    assert lines[1].startswith("Ligne 2 : entrez")
    assert lines[2].startswith("Ligne 3 : illisible.")
    assert lines[3].startswith("Ligne 4 : ce trajet va de la cour")


@pytest.mark.django_db
def test_a_number_of_days_is_bounded_in_words(shop) -> None:
    scope = ApiToken.Scope.READ
    refusal = refused(lambda: token_make(shop.lead, name="meter", scope=scope, days=0))
    assert read(refusal, "es") == "Escriba un número de días de 1 a 365."


@pytest.mark.any_database
def test_a_distance_on_a_phone_is_bounded_in_the_units_of_its_reader() -> None:
    from pydantic import ValidationError as Invalid

    from pages.jobs.walk import Elsewhere, fault_says

    with pytest.raises(Invalid) as found:
        Elsewhere.model_validate({"at_mm": -1})
    (fault,) = (each for each in found.value.errors() if each["loc"] == ("at_mm",))
    assert fault_says(fault) == "Enter a distance from 0 to 3280 ft 10 1/16 in."
    with measured_in(imperial=False), override("fr"):
        assert fault_says(fault) == "Entrez une distance de 0 à 1\xa0000\xa0000 mm."
