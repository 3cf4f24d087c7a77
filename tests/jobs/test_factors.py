"""Second factors: which codes are taken, how often, and who may turn one off."""

from base64 import b32encode
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from importlib import import_module

import pyotp
import pytest
from allauth.mfa.models import Authenticator
from allauth.mfa.utils import decrypt, encrypt
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from jobs.access import NotAllowed
from jobs.models import Membership, Person, RecoveryCode, Role, SecondFactor
from jobs.secrets import digest_of
from jobs.services.factors import (
    TooManyTries,
    codes_left,
    factor_begin,
    factor_check,
    factor_codes,
    factor_confirm,
    factor_end,
    factor_lift,
    factor_live,
    factor_pending,
    phone_on,
)
from tests.sure import sure

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 16, 9, 0, 10, tzinfo=UTC)
HALF_MINUTE = timedelta(seconds=30)


def secret_of(person: Person) -> str:
    """What the person's phone was told."""
    phone = phone_on(person)
    return decrypt(phone.data["secret"]) if phone else sure(factor_pending(person)).pending


def code_at(person: Person, at: datetime) -> str:
    """What the person's phone shows."""
    return pyotp.TOTP(secret_of(person)).at(at)


def turned_on(person: Person, at: datetime = NOW - timedelta(hours=1)) -> list[str]:
    factor_begin(person)
    return factor_confirm(person, code=code_at(person, at), now=at)


def test_the_codes_are_those_of_the_specification(shop) -> None:
    """RFC 6238, appendix B, its six last digits."""
    turned_on(shop.lead)
    SecondFactor.objects.filter(person=shop.lead).update(last_step=-1)
    secret = b32encode(b"12345678901234567890").decode()
    Authenticator.objects.filter(user=shop.lead, type="totp").update(
        data={"secret": encrypt(secret)}
    )
    for seconds, code in ((59, "287082"), (1111111109, "081804"), (20000000000, "353130")):
        at = datetime.fromtimestamp(seconds, UTC)
        assert factor_check(shop.lead, code=code, now=at)


def test_it_asks_for_nothing_until_a_first_code_was_right(shop) -> None:
    factor_begin(shop.lead)
    assert factor_live(shop.lead) is None
    with pytest.raises(ValidationError, match="not the code of this moment"):
        factor_confirm(shop.lead, code="000000x", now=NOW)
    assert factor_live(shop.lead) is None
    assert factor_check(shop.lead, code=code_at(shop.lead, NOW), now=NOW) is False
    assert len(factor_confirm(shop.lead, code=code_at(shop.lead, NOW), now=NOW)) == 10
    assert factor_live(shop.lead) is not None
    with pytest.raises(ValidationError, match="already on"):
        factor_begin(shop.lead)


def test_a_code_is_taken_once_and_none_before_it(shop) -> None:
    turned_on(shop.lead)
    now, before = code_at(shop.lead, NOW), code_at(shop.lead, NOW - HALF_MINUTE)
    assert factor_check(shop.lead, code=f"{now[:3]} {now[3:]}", now=NOW)
    assert not factor_check(shop.lead, code=now, now=NOW)
    assert not factor_check(shop.lead, code=before, now=NOW)
    assert factor_check(shop.lead, code=code_at(shop.lead, NOW + HALF_MINUTE), now=NOW)


@pytest.mark.parametrize(("steps", "taken"), [(-2, False), (-1, True), (1, True), (2, False)])
def test_a_clock_may_be_half_a_minute_off(shop, steps, taken) -> None:
    turned_on(shop.lead)
    code = code_at(shop.lead, NOW + steps * HALF_MINUTE)
    assert factor_check(shop.lead, code=code, now=NOW) is taken


def test_a_recovery_code_is_good_once_and_kept_sealed(shop) -> None:
    first, second, *_ = turned_on(shop.lead)
    kept = repr(list(Authenticator.objects.values()))
    assert first not in kept
    assert first.replace("-", "") not in kept
    assert factor_check(shop.lead, code=first, now=NOW)
    assert not factor_check(shop.lead, code=first, now=NOW)
    later = NOW + timedelta(minutes=5)
    assert codes_left(shop.lead) == 9
    turned_on(shop.member)
    assert not factor_check(shop.member, code=second, now=later), "another person's"


def test_new_recovery_codes_take_the_place_of_the_old(shop) -> None:
    old = turned_on(shop.lead)
    with pytest.raises(ValidationError, match="wrong or was already used"):
        factor_codes(shop.lead, code="abc")
    new = factor_codes(shop.lead, code=old[0])
    assert not set(new) & set(old)
    assert not factor_check(shop.lead, code=old[1], now=NOW)
    assert factor_check(shop.lead, code=new[1], now=NOW)


def test_ten_wrong_codes_and_none_is_looked_at_for_a_quarter_of_an_hour(shop) -> None:
    recovery = turned_on(shop.lead)[0]
    for _ in range(9):
        assert not factor_check(shop.lead, code="123", now=NOW)
    with pytest.raises(TooManyTries):
        factor_check(shop.lead, code="123", now=NOW)
    soon, late = NOW + timedelta(minutes=14), NOW + timedelta(minutes=16)
    for good in (code_at(shop.lead, soon), recovery):
        with pytest.raises(TooManyTries):
            factor_check(shop.lead, code=good, now=soon)
    assert factor_check(shop.lead, code=recovery, now=late), "it was not used up meanwhile"


def test_a_right_code_forgets_the_wrong_ones(shop) -> None:
    recovery = turned_on(shop.lead)
    for good in recovery[:2]:
        for _ in range(9):
            assert not factor_check(shop.lead, code="123", now=NOW)
        assert factor_check(shop.lead, code=good, now=NOW)


def test_ones_own_is_turned_off_with_a_code(shop) -> None:
    recovery = turned_on(shop.lead)
    with pytest.raises(ValidationError, match="wrong or was already used"):
        factor_end(shop.lead, code="123")
    factor_end(shop.lead, code=recovery[0])
    ended = SecondFactor.objects.get(person=shop.lead)
    assert (ended.live, ended.ended_by) == (False, shop.lead)
    assert not Authenticator.objects.filter(user=shop.lead).exists()
    assert factor_live(shop.lead) is None
    assert not factor_check(shop.lead, code=recovery[1], now=NOW)
    turned_on(shop.lead)
    assert SecondFactor.objects.filter(person=shop.lead).count() == 2


def test_the_office_turns_it_off_and_that_stays_recorded(shop) -> None:
    turned_on(shop.lead)
    of_lead = Membership.objects.get(person=shop.lead)
    for other in (shop.lead, shop.member, shop.builder):
        with pytest.raises(NotAllowed):
            factor_lift(other, membership=of_lead)
    before = timezone.now()
    ended = factor_lift(shop.office, membership=of_lead)
    assert ended.ended_by == shop.office
    assert sure(ended.ended_at) >= before
    with pytest.raises(ValidationError, match="has no second factor to turn off"):
        factor_lift(shop.office, membership=of_lead)


def test_the_office_cannot_turn_its_own_off_so_nor_what_others_rely_on(shop, stranger_shop) -> None:
    turned_on(shop.office)
    with pytest.raises(ValidationError, match="Turn off your own second factor with a code"):
        factor_lift(shop.office, membership=Membership.objects.get(person=shop.office))
    turned_on(shop.lead)
    of_lead = Membership.objects.get(person=shop.lead)
    with pytest.raises(NotAllowed):
        factor_lift(stranger_shop.office, membership=of_lead)
    Membership.objects.create(shop=stranger_shop.shop, person=shop.lead, role=Role.CREW_LEAD)
    with pytest.raises(ValidationError, match="also works with other shops"):
        factor_lift(shop.office, membership=of_lead)
    assert factor_live(shop.lead)


def test_whoever_runs_the_server_turns_it_off(shop, capsys) -> None:
    turned_on(shop.office)
    call_command("second_factor_off", shop.office.username)
    assert "password alone" in capsys.readouterr().out
    ended = SecondFactor.objects.get(person=shop.office)
    assert (ended.live, ended.ended_by) == (False, None)
    for name in (shop.office.username, "nobody-of-that-name"):
        with pytest.raises(CommandError, match=name if name.startswith("nobody") else "no second"):
            call_command("second_factor_off", name)


def test_a_name_that_is_no_text_is_nobodys(db) -> None:
    with pytest.raises(CommandError, match="nobody signs in"):
        call_command("second_factor_off", "\udcff")  # a byte of a terminal that is no UTF-8


@pytest.mark.postgresql  # SQLite in memory is one connection's
@pytest.mark.django_db(transaction=True)
def test_of_many_who_give_one_code_at_once_one_comes_in_and_every_wrong_try_counts(shop) -> None:
    recovery = turned_on(shop.lead)[0]

    def tried(code: str) -> bool | None:
        try:
            return factor_check(shop.lead, code=code, now=NOW)
        except TooManyTries:
            return None
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as crowd:
        for code in (code_at(shop.lead, NOW), recovery):
            answers = list(crowd.map(tried, [code] * 6))
            assert (answers.count(False), answers.count(True)) == (5, 1)
        assert factor_check(shop.lead, code=code_at(shop.lead, NOW + HALF_MINUTE), now=NOW)
        found = list(crowd.map(tried, ["123"] * 24))
    assert found.count(False) == 9
    assert found.count(None) == 15


def test_nobody_who_reads_the_database_computes_a_code(shop) -> None:
    """OWASP ASVS 5.0, 6.5.1 and 13.3.1: of phone and recovery codes only sealed values are kept."""
    factor_begin(shop.member)
    begun = secret_of(shop.member)
    codes = turned_on(shop.lead)
    with connection.cursor() as cursor:
        kept = ""
        for table in ("jobs_secondfactor", "jobs_recoverycode", "mfa_authenticator"):
            cursor.execute(f"SELECT * FROM {table}")
            kept += repr(cursor.fetchall())
    assert "s1:" in kept
    for secret in (begun, secret_of(shop.lead), *codes):
        assert secret not in kept
        assert secret.replace("-", "") not in kept


def test_what_was_set_up_before_goes_on_sealed(shop) -> None:
    """The migration moves phones, what was begun, and unused recovery codes; each works after."""
    migration = import_module("jobs.migrations.0011_accounts")
    secret, begun = pyotp.random_base32(), pyotp.random_base32()
    given = {"begun_at": NOW, "secret": secret}
    factor = SecondFactor.objects.create(person=shop.lead, confirmed_at=NOW, **given)
    for code, used_at in (("abcdefghjkmnpqrs", None), ("tuvwxyz234567892", NOW)):
        RecoveryCode.objects.create(factor=factor, digest=digest_of(code), used_at=used_at)
    SecondFactor.objects.create(person=shop.member, begun_at=NOW, secret=begun)
    state = MigrationExecutor(connection).loader.project_state(("jobs", "0011_accounts"))
    migration.move_factors(state.apps, None)
    assert secret_of(shop.lead) == secret
    assert sure(factor_pending(shop.member)).pending == begun
    assert set(SecondFactor.objects.values_list("secret", flat=True)) == {""}
    assert factor_check(shop.lead, code=code_at(shop.lead, NOW), now=NOW)
    assert not factor_check(shop.lead, code="tuvw-xyz2-3456-7892", now=NOW)
    assert not factor_check(shop.lead, code=digest_of("abcdefghjkmnpqrs"), now=NOW)
    assert factor_check(shop.lead, code="ABCD-EFGH-JKMN-PQRS", now=NOW)
    assert not factor_check(shop.lead, code="abcd-efgh-jkmn-pqrs", now=NOW)
    assert len(factor_confirm(shop.member, code=pyotp.TOTP(begun).at(NOW), now=NOW)) == 10
