"""Signing in and what is kept of it: guessing, passwords, sessions, asking again, the way back.

After OWASP ASVS 5.0, chapters 6 and 7, and NIST SP 800-63B; each test says what it holds.
"""

import re
from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from config.sessions import kept_key
from jobs.models import ApiToken, Invitation, Membership, OpenSession, Role, WayBack
from jobs.services.factors import factor_live
from jobs.services.tokens import token_make
from jobs.services.ways_back import way_back_make
from tests.jobs.test_factors import code_at, turned_on
from tests.passkeys import with_passkey
from tests.signed_in import forget_proof, keep_proof
from tests.signing_in import NEW, PASSWORD, is_in, signed_in, tried
from tests.sure import sure

pytestmark = pytest.mark.django_db


class TestSessions:
    """ASVS 7.3 to 7.5: listed, ended one by one, ended when nobody is there."""

    def later(self, monkeypatch, **by) -> None:
        late = timezone.now() + timedelta(**by)
        monkeypatch.setattr(timezone, "now", lambda: late)

    def test_they_are_listed_and_ended_with_a_proof(self, shop) -> None:
        mine, other = signed_in(shop.lead), signed_in(shop.lead, HTTP_USER_AGENT="Old phone")
        assert is_in(other)
        text = mine.get("/account/").text
        assert "<b>this device</b>" in text
        noted = OpenSession.objects.get(digest=kept_key(other.session.session_key))
        forget_proof(mine)
        path = f"/account/sessions/{noted.id}/end/"
        assert mine.post(path).status_code == 403
        assert is_in(other)
        assert mine.post(path, {"again": "1", "again_password": PASSWORD}).status_code == 302
        assert not is_in(other)
        assert is_in(mine)

    def test_another_s_is_not_there(self, shop) -> None:
        other = signed_in(shop.member)
        noted = OpenSession.objects.get(person=shop.member)
        assert signed_in(shop.lead).post(f"/account/sessions/{noted.id}/end/").status_code == 404
        assert is_in(other)

    def test_all_others_are_ended_at_once(self, shop) -> None:
        mine, others = signed_in(shop.lead), [signed_in(shop.lead) for _ in range(3)]
        mine.post("/account/sessions/end/")
        assert is_in(mine)
        assert not any(map(is_in, others))
        assert OpenSession.objects.filter(person=shop.lead).count() == 1

    def test_an_office_that_is_left_is_signed_out_and_a_phone_is_not(
        self, shop, monkeypatch
    ) -> None:
        office, phone = signed_in(shop.office), signed_in(shop.lead)
        self.later(monkeypatch, hours=11)
        assert is_in(office)
        self.later(monkeypatch, hours=13)
        assert not is_in(office)
        assert office.get("/api/jobs").status_code == 401
        assert is_in(phone)
        self.later(monkeypatch, days=31)
        assert not is_in(phone)

    def test_an_office_is_signed_out_after_two_weeks_whatever_was_done(
        self, shop, monkeypatch
    ) -> None:
        office = signed_in(shop.office)
        for _ in range(33):
            self.later(monkeypatch, hours=10)
            assert is_in(office)
        self.later(monkeypatch, hours=10)
        assert not is_in(office)

    def test_a_session_of_before_goes_on_and_is_listed(self, shop) -> None:
        old = signed_in(shop.lead)
        session = old.session
        for name in ("seen", "began"):
            del session[name]
        session.save()
        OpenSession.objects.filter(person=shop.lead).delete()
        assert is_in(old)
        assert OpenSession.objects.filter(person=shop.lead).count() == 1


ASKED = {
    "/programs/": {"name": "meter <i>", "scope": "read", "days": "30"},
    "/people/invite/": {"for_whom": 'Rowan "R" Ashdale', "role": "office", "builder": ""},
    "/people/{member}/": {"role": "office", "builder": ""},
    "/people/{member}/factor/": {},
    "/people/{member}/back/": {},
    "/second-factor/begin/": {},
    "/account/passkeys/": {"name": "my phone", "credential": "{}"},
    "/account/sessions/end/": {},
    "/account/mail/": {"email": "office@studbay.example"},
}


class TestAskedAgain:
    """ASVS 7.5.1 and 7.5.2: an open screen alone changes nothing of who may come in."""

    def path(self, shop, path: str) -> str:
        return path.format(member=Membership.objects.get(person=shop.member).id)

    @pytest.mark.parametrize("path", ASKED)
    def test_what_was_typed_comes_along_and_nothing_is_done_before(self, shop, path) -> None:
        mine, given = signed_in(shop.office), ASKED[path]
        forget_proof(mine)
        before = self.counted()
        page = mine.post(self.path(shop, path), given)
        assert page.status_code == 403
        assert "Confirm it is you" in page.text
        for name, value in given.items():
            shown = value.replace('"', "&quot;").replace("<i>", "&lt;i&gt;")
            assert f'name="{name}" value="{shown}"' in page.text
        wrong = mine.post(self.path(shop, path), given | {"again": "1", "again_password": "no"})
        assert wrong.status_code == 403
        assert "Wrong password." in wrong.text
        assert self.counted() == before

    def counted(self) -> tuple[int, ...]:
        roles = Membership.objects.filter(role=Role.OFFICE)
        models = (ApiToken, Invitation, WayBack)
        return (roles.count(), *(model.objects.count() for model in models))

    def test_once_proved_it_is_done_and_not_asked_for_a_while(self, shop) -> None:
        mine, given = signed_in(shop.office), ASKED["/people/invite/"]
        forget_proof(mine)
        key = mine.session.session_key
        proof = {"again": "1", "again_password": PASSWORD}
        assert mine.post("/people/invite/", given | proof).status_code == 302
        assert mine.session.session_key != key, "ASVS 7.2.4: a new key for who proved who they are"
        assert not Session.objects.filter(session_key=kept_key(key)).exists()
        assert OpenSession.objects.filter(person=shop.office).count() == 1
        assert shop.shop.invitations.filter(for_whom='Rowan "R" Ashdale').exists()
        assert mine.post("/people/invite/", given).status_code == 302

    def test_a_proof_is_good_for_ten_minutes(self, shop, monkeypatch) -> None:
        mine, now = signed_in(shop.office), timezone.now()
        session = mine.session
        keep_proof(session, shop.office, now)
        session.save()
        assert mine.post("/programs/", ASKED["/programs/"]).status_code == 302
        late = now + timedelta(minutes=11)
        monkeypatch.setattr(timezone, "now", lambda: late)
        assert mine.post("/people/invite/", ASKED["/people/invite/"]).status_code == 403

    def test_a_code_or_a_recovery_code_proves_it_as_well(self, shop) -> None:
        recovery = turned_on(shop.office, timezone.now() - timedelta(hours=1))
        mine, given = signed_in(shop.office), ASKED["/programs/"]
        for code in (code_at(shop.office, timezone.now()), recovery[0]):
            forget_proof(mine)
            proof = {"again": "1", "again_code": code}
            assert mine.post("/programs/", given | proof).status_code == 302
            forget_proof(mine)
            assert mine.post("/programs/", given | proof).status_code == 403, "used up"

    def test_guesses_are_few(self, shop) -> None:
        mine = signed_in(shop.office)
        forget_proof(mine)
        proof = {"again": "1", "again_password": "no"}
        for _ in range(30):
            mine.post("/programs/", proof)
        told = mine.post("/programs/", proof | {"again_password": PASSWORD})
        assert "Too many tries" in told.text

    def test_a_page_that_shows_secrets_asks_before_it_shows_them(self, shop) -> None:
        mine = signed_in(shop.lead)
        forget_proof(mine)
        assert mine.get("/account/passkeys/").status_code == 403
        proof = {"again": "1", "again_look": "1", "again_password": PASSWORD}
        assert mine.post("/account/passkeys/", proof).headers["Location"] == "/account/passkeys/"
        assert mine.get("/account/passkeys/").status_code == 200


class TestPrograms:
    """A token or an open session alone lets nobody into the office."""

    JSON = "application/json"

    def invite(self, client: Client, role: str, **given) -> int:
        body = {"role": role, "for_whom": "Rowan"}
        return client.post("/api/invitations", body, self.JSON, **given).status_code

    def change(self, client: Client, shop, role: str, **given) -> int:
        of_member = Membership.objects.get(person=shop.member)
        path = f"/api/people/{of_member.id}"
        return client.patch(path, {"role": role}, self.JSON, **given).status_code

    def test_a_token_invites_and_makes_nobody_of_the_office(self, client, shop) -> None:
        _, secret = token_make(shop.office, name="meter", scope=ApiToken.Scope.WRITE)
        by = {"headers": {"Authorization": f"Bearer {secret}"}}
        assert self.invite(client, "office", **by) == 403
        assert self.invite(client, "crew_lead", **by) == 201
        assert self.change(client, shop, "office", **by) == 403
        assert self.change(client, shop, "crew_lead", **by) == 200

    def test_an_open_session_does_it_once_it_has_shown_who_it_is(self, shop) -> None:
        mine = signed_in(shop.office)
        assert self.invite(mine, "office") == 201
        forget_proof(mine)
        assert self.invite(mine, "office") == 403
        assert self.invite(mine, "crew_lead") == 403
        assert self.change(mine, shop, "crew_lead") == 403


class TestWayBack:
    """A lost phone: the office's link, good once; all that the finder has ends at once."""

    def test_everything_ends_and_the_link_lets_in_once(self, shop) -> None:
        phone = signed_in(shop.member)
        with_passkey(shop.member)
        _, secret = token_make(shop.member, name="meter", scope=ApiToken.Scope.READ)
        office = signed_in(shop.office)
        of_member = Membership.objects.get(person=shop.member)
        page = office.post(f"/people/{of_member.id}/back/", follow=True).text
        path = sure(re.search(r"http://testserver(/back/[\w-]+)", page)).group(1)
        assert path not in office.get("/people/").text, "shown this once"
        assert not is_in(phone)
        bearer = {"Authorization": f"Bearer {secret}"}
        assert Client().get("/api/jobs", headers=bearer).status_code == 401
        assert factor_live(shop.member) is None
        assert tried(shop.member, PASSWORD) == 422
        new = Client()
        assert new.post(path, {"password": "short"}).status_code == 422
        assert new.post(path, {"password": NEW}).headers["Location"] == "/account/first/"
        assert is_in(new)
        assert new.get("/account/passkeys/").status_code == 200, "a passkey comes next"
        assert Client().get(path).status_code == 410
        link = WayBack.objects.get(person=shop.member)
        assert path.rpartition("/")[2] not in repr(vars(link))
        assert "by Office Tester" in office.get("/people/").text

    def test_it_runs_out_and_a_new_one_ends_the_old(self, shop) -> None:
        of_member = Membership.objects.get(person=shop.member)
        _, first = way_back_make(shop.office, membership=of_member)
        _, second = way_back_make(shop.office, membership=of_member)
        assert Client().get(f"/back/{first}").status_code == 410
        assert Client().get(f"/back/{second}").status_code == 200
        WayBack.objects.update(expires_at=timezone.now())
        assert Client().get(f"/back/{second}").status_code == 410
        assert Client().get("/back/nothing").status_code == 404

    def test_nobody_takes_over_whom_another_shop_relies_on(self, shop, stranger_shop) -> None:
        Membership.objects.create(
            shop=stranger_shop.shop, person=shop.member, role=Role.CREW_MEMBER
        )
        office, of_member = (
            signed_in(shop.office),
            Membership.objects.get(person=shop.member, shop=shop.shop),
        )
        refused = office.post(f"/people/{of_member.id}/back/")
        assert refused.status_code == 422
        assert "also works with other shops" in refused.text
        assert tried(shop.member, PASSWORD) == 302
        own = Membership.objects.get(person=shop.office)
        assert office.post(f"/people/{own.id}/back/").status_code == 422

    def test_who_has_left_does_not_come_back_by_it(self, shop) -> None:
        of_member = Membership.objects.get(person=shop.member)
        _, secret = way_back_make(shop.office, membership=of_member)
        of_member.delete()
        assert Client().get(f"/back/{secret}").status_code == 410
