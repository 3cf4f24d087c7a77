"""Guessing passwords, and having lost one: who is put off, who never is (OWASP ASVS 5.0, 6.3)."""

import re
import time

import pytest
from django.test import Client
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from redis.exceptions import ConnectionError as NoRedis

from config.cache import ForgivingRedisCache
from jobs.models import Person
from pages.account import adapter
from tests.jobs.test_factors import turned_on
from tests.people import Shopful
from tests.signing_in import NEW, PASSWORD, is_in, signed_in, tried
from tests.sure import sure

pytestmark = pytest.mark.django_db


@pytest.fixture
def quick(monkeypatch) -> list[float]:
    """Waits that were asked for; none is waited."""
    waits: list[float] = []
    monkeypatch.setattr(time, "sleep", waits.append)
    return waits


class TestGuessing:
    """ASVS 6.3.1: guesses are bounded, and nobody is kept out by those of others."""

    def test_over_many_names_from_one_place_there_is_a_limit(self, shop, quick) -> None:
        answers = [tried(f"somebody-{n}", "not it") for n in range(52)]
        assert answers == [422] * 50 + [429] * 2
        assert tried(shop.lead, PASSWORD) == 429, "the place is locked"
        assert tried(shop.lead, PASSWORD, REMOTE_ADDR="192.0.2.9") == 302, "and no other"

    def test_whoever_is_guessed_at_from_everywhere_signs_in(self, shop, quick) -> None:
        for n in range(60):
            tried(shop.lead, "not it", REMOTE_ADDR=f"198.51.100.{n}")
        assert tried(shop.lead, PASSWORD, REMOTE_ADDR="192.0.2.9") == 302
        assert len(quick) == 41, "each guess after the twentieth was slowed, the right one too"
        assert set(quick) == {adapter.SLOW}

    def test_right_credentials_with_a_second_factor_are_refused_nowhere(self, shop, quick) -> None:
        turned_on(shop.lead, timezone.now())
        for n in range(12):
            tried(shop.lead, "not it")
            tried(f"somebody-{n}", "not it")
        assert tried(shop.lead, "not it") == 429
        assert tried(shop.lead, PASSWORD) == 302

    def test_behind_proxies_the_place_is_what_ours_says(self, shop, quick, settings) -> None:
        settings.ALLAUTH_TRUSTED_PROXY_COUNT = 1
        for n in range(10):
            made_up = f"203.0.113.{n}, 192.0.2.1"
            assert tried(shop.lead, "not it", HTTP_X_FORWARDED_FOR=made_up) == 422
        assert tried(shop.lead, PASSWORD, HTTP_X_FORWARDED_FOR="192.0.2.1") == 429
        assert tried(shop.lead, PASSWORD, HTTP_X_FORWARDED_FOR="192.0.2.2") == 302
        settings.ALLAUTH_TRUSTED_PROXY_COUNT = 3
        assert tried(shop.lead, PASSWORD, HTTP_X_FORWARDED_FOR="192.0.2.7") == 302, "no 500"

    def test_without_proxies_a_header_is_not_believed(self, shop, quick) -> None:
        for n in range(10):
            tried(shop.lead, "not it", HTTP_X_FORWARDED_FOR=f"203.0.113.{n}")
        assert tried(shop.lead, PASSWORD, HTTP_X_FORWARDED_FOR="203.0.113.99") == 429

    def test_while_redis_is_away_sign_in_goes_on(self, shop, monkeypatch, caplog) -> None:
        cache = ForgivingRedisCache("redis://127.0.0.1:1", {})
        monkeypatch.setattr("allauth.core.internal.ratelimit.cache", cache)
        assert tried(shop.lead, "not it") == 422
        assert tried(shop.lead, PASSWORD) == 302
        assert "Redis is away" in caplog.text

    def test_what_redis_answers_is_what_the_cache_answers(self, monkeypatch) -> None:
        cache = ForgivingRedisCache("redis://127.0.0.1:1", {})

        def away(*_, **__):
            raise NoRedis

        monkeypatch.setattr(type(cache._cache), "get_client", away)
        assert cache.get("a", 3) == cache.get("a", default=3) == 3
        assert cache.add("a", 1) is True
        assert cache.delete("a") is False

    def test_the_library_opens_no_address_that_is_not_ours(self, client) -> None:
        for name in ("account_signup", "account_email", "account_reauthenticate", "mfa_index"):
            with pytest.raises(NoReverseMatch):
                reverse(name)
        for path in ("/accounts/login/", "/accounts/signup/", "/signup/", "/accounts/"):
            assert client.get(path).status_code == 404


class TestPasswords:
    """ASVS 6.2: 12 characters, no common one, changed by whoever knows it."""

    def change(self, client: Client, old: str, new: str):
        return client.post("/account/password/", {"oldpassword": old, "password1": new})

    def test_a_change_ends_every_other_session(self, shop) -> None:
        mine, other = signed_in(shop.lead), signed_in(shop.lead)
        assert self.change(mine, "not it", NEW).status_code == 422
        assert self.change(mine, PASSWORD, "eleven char").status_code == 422
        assert "too common" in self.change(mine, PASSWORD, "password1234").text
        assert self.change(mine, PASSWORD, NEW).status_code == 302
        assert is_in(mine)
        assert not is_in(other)
        assert tried(shop.lead, PASSWORD) == 422
        assert tried(shop.lead, NEW) == 302

    def reset(self, client: Client, email: str):
        return client.post("/sign-in/forgotten/", {"email": email}, HTTP_HOST="localhost")

    def link(self, mail: str) -> str:
        return sure(re.search(r"https?://[^/\s]+(/reset/\S+)", mail)).group(1)

    @pytest.fixture
    def known(self, shop: Shopful) -> Person:
        shop.lead.email, shop.lead.language = "lead@studbay.example", "fr"
        shop.lead.save()
        return shop.lead

    def test_a_link_by_mail_is_good_once_and_tells_nobody_who_is_known(
        self, client, known, mailoutbox, settings
    ) -> None:
        settings.SITE_URL = "https://studbay.example"
        other = signed_in(known)
        answers = [self.reset(client, mail) for mail in (known.email, "nobody@studbay.example")]
        assert {each.status_code for each in answers} == {302}
        assert len({each.headers["Location"] for each in answers}) == 1
        (mail,) = mailoutbox
        assert mail.to == [known.email]
        assert "mot de passe" in mail.body
        assert "https://studbay.example/reset/" in mail.body, "not the host that was asked"
        page = client.get(self.link(mail.body), follow=True)
        form = page.redirect_chain[-1][0]
        assert self.link(mail.body) not in page.text
        assert client.post(form, {"password1": "short"}).status_code == 422
        assert client.post(form, {"password1": NEW}).headers["Location"] == "/sign-in/"
        assert not is_in(other)
        assert tried(known, NEW) == 302
        assert Client().get(self.link(mail.body)).status_code == 410

    def test_a_link_by_mail_runs_out(self, client, known, mailoutbox, settings) -> None:
        self.reset(client, known.email)
        settings.PASSWORD_RESET_TIMEOUT = -1
        assert client.get(self.link(mailoutbox[0].body)).status_code == 410

    def test_links_by_mail_are_few(self, client, known, mailoutbox) -> None:
        answers = [self.reset(client, known.email).status_code for _ in range(7)]
        assert answers == [302] * 5 + [429] * 2
        assert len(mailoutbox) == 5

    def test_a_mail_server_that_is_away_tells_nobody_who_is_known(
        self, client, known, settings
    ) -> None:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1
        assert self.reset(client, known.email).status_code == 302

    def test_an_address_is_kept_once_its_mail_was_opened(self, shop, mailoutbox) -> None:
        mine = signed_in(shop.lead)
        mine.post("/account/mail/", {"email": "mine@studbay.example"})
        assert Person.objects.get(pk=shop.lead.pk).email == ""
        path = sure(re.search(r"https?://[^/\s]+(/mail/\S+)", mailoutbox[0].body)).group(1)
        assert "mine@studbay.example" in Client().get(path).text
        assert Person.objects.get(pk=shop.lead.pk).email == "", "a mail program that looks opens it"
        Client().post(path)
        assert Person.objects.get(pk=shop.lead.pk).email == "mine@studbay.example"
        assert Client().post(path).status_code == 410
