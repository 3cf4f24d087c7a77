"""What is refused comes back with everything that was typed: every form of every page.

Each form that can be found is filled, spoiled in the one way that `SPOILT` says, and sent; then
every value must stand in its field of the answer. An address that takes a form and is found on no
page, and a form that has no line here, fail.
"""

import re
from datetime import timedelta
from html import escape
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction

from pages.forms_in import Control, Form, forms_in
from pages.refill import is_secret
from tests.pages.every_form import Found, every_form  # noqa: F401 - a fixture
from tests.test_access import (  # noqa: F401 - fixtures
    DAY,
    TABLE,
    clients,
    ids,
    on_a_sunday,
    picture,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
PAST = (DAY - timedelta(days=3)).isoformat()


def not_a_picture() -> SimpleUploadedFile:
    return SimpleUploadedFile("a.jpg", b"no picture", "image/jpeg")


def not_a_house() -> SimpleUploadedFile:
    return SimpleUploadedFile("house.json", b"{}", "application/json")


SPOILT: dict[str, dict[str, Any]] = {
    "absence": {"to_day": PAST},
    "address-new": {"channel": "message", "gateway": ""},
    "answer": {"reference": ""},
    "as-drawn": {"item": "neither"},
    "ask": {"kind": "picnic"},
    "authority": {"notice_days": "many"},
    "authority-new": {"name": ""},
    "site-change": {},
    "crew-open": {"name": ""},
    "crew-place": {"to_day": PAST},
    "crew-skill": {"skill": "juggling"},
    "deficiency-photograph": {"photograph": not_a_picture},
    "draw-model": {"model": not_a_house},
    "drive-times": {"table": "yard,Lot 99,5"},
    "account_change_password": {"oldpassword": "not it"},
    "account_reset_password": {"email": "nowhere"},
    "account_reset_password_from_key": {"password1": "not it"},
    "factor-codes": {"code": "not it"},
    "factor-confirm": {"code": "not it"},
    "factor-end": {"code": "not it"},
    "firm": {"name": ""},
    "gateway-new": {"name": "texts", "kind": "chat", "url": "nothing at all"},
    "habits": {"quiet_to": ""},
    "happening": {"happening": "moved", "starts": ""},
    "house-upload": {"house": not_a_house},
    "insulation": {"kind": "straw"},
    "invite": {"for_whom": ""},
    "job-edit": {"drywall_on": "soon"},
    "job-new": {"drywall_on": "soon"},
    "join": {"username": "a name with blanks?"},
    "link-make": {"days": "4000"},
    "member": {"role": "king"},
    "milestone": {"reached_on": ""},
    "notice-office": {"permit_wait_days": "0"},
    "observe": {"outcome": "perhaps"},
    "permit": {"issued_on": "soon"},
    "permit-day": {"expires_on": "soon"},
    "permit-extend": {"expires_on": "soon"},
    "photograph": {"photograph": not_a_picture},
    "plan-ask": {"first_day": PAST},
    "programs": {"name": ""},
    "rule": {"value": "wide"},
    "account_login": {"password": "not it"},
    "mail-new": {"email": "nowhere"},
    "mfa_authenticate": {"code": "not it"},
    "passkey-new": {"credential": "{}"},
    "passkey-rename": {"name": " "},
    "way-back": {"password": "not it"},
    "wish": {"way-inspection": "by pigeon"},
    "withdraw": {"because": ""},
    "withdrawal-answer": {"says": " "},
    "work-rules": {"weeks": "many"},
}
"""What is wrong with each form that is sent: a field of it, and what is given there."""

TWICE = {"site-change"}
"""Nothing in it can be wrong; who comes second is refused, and finds it gone from the page."""
NEVER = {"locations", "office-first"}
"""A tick alone, which is kept whatever it is."""

SCRIPTED = {
    "draw-finish": "the drawing board keeps its draft in the browser",
    "draw-look": "the drawing board keeps its draft in the browser",
    "correct": "the card keeps what was typed in it",
    "walk-as-built": "the walk keeps what was typed in the phone's store",
    "walk-pulled": "the walk keeps what was tapped in the phone's store",
    "walk-fix": "the walk keeps what was typed in the phone's store",
    "walk-site-change": "the walk keeps what was typed in the phone's store",
    "walk-photograph": "the walk keeps what was typed in the phone's store",
    "walk-sync": "the walk keeps what was typed in the phone's store",
}
"""Addresses that scripts send to: what was typed stays on the page that sent it."""


def value_for(control: Control, number: int) -> Any:
    """What somebody types into a field: with all that has to be escaped."""
    if control.kind == "file":
        return picture()
    if is_secret(control):
        return f"kept to itself {number}"
    if control.kind == "select":
        return control.options[-1].value
    kinds = {"date": "2026-03-20", "time": "13:45", "number": str(number + 7)}
    kinds |= {"checkbox": control.value, "radio": control.value}
    kinds["textarea"] = f'\nline {number} <b>\n"second" & </textarea>'
    return kinds.get(control.kind, f"typed {number} <i> \"&amp;' é")


def filled_in(found: Found) -> dict[str, Any]:
    """A form as somebody fills it in, and spoils it."""
    hidden = {each.name: each.value for each in found.form.controls if each.kind == "hidden"}
    typed = {each.name: value_for(each, number) for number, each in enumerate(found.typed)}
    spoilt = {
        name: value() if callable(value) else value for name, value in SPOILT[found.name].items()
    }
    return hidden | typed | spoilt


def assert_all_is_back(found: Found, sent: dict[str, Any], page: str, forms: list[Form]) -> None:
    """Each value stands in its field of the form that was sent, or is told beside it."""
    own = found.to if f"{found.name} GET" in TABLE else ""
    again = [form for form in forms if form.goes_to(own) == found.to]
    assert bool(again) == (found.name not in TWICE), f"{found.name}: forms on the answer: {again}"
    back: dict[tuple[str, str], list[str]] = {}
    for form in again:
        for each in form.controls:
            back.setdefault((each.name, each.kind), []).extend(each.chosen)
    for field in found.typed:
        value, stands = sent[field.name], back.get((field.name, field.kind), [])
        if is_secret(field):
            assert value not in page, f"{found.name}: {field.name} is given back"
        elif field.kind == "file":
            assert "Choose the file again." in page
        elif value not in stands:
            told = f"{field.name.replace('_', ' ')}: {value}", f'<dd class="typed">{escape(value)}'
            assert any(each in page for each in told), f"{found.name}: {field.name} has {stands}"


def assert_it_says_what_is_wrong(found: Found, page: str, forms: list[Form]) -> None:
    """A fault at the form or its field, which has the focus, in folds that are open."""
    assert page.count(" autofocus") == 1, f"{found.name}: {page.count(' autofocus')} have the focus"
    assert 'class="fault"' in page
    for mark in re.findall(r'aria-describedby="(fault-[^"]*)"', page):
        assert f'id="{mark}"' in page
    focus = page.index(" autofocus")
    before = [form for form in forms if form.start < focus]
    folds = before[-1].folds if before else []
    assert all("open" in fold.attributes for fold in folds), f"{found.name}: is folded away"


def assert_other_forms_go_where_they_went(found: Found, page: str, forms: list[Form]) -> None:
    """The answer stands at another address than the page: nothing on it is relative to that."""
    if f"{found.name} GET" in TABLE:
        return
    loose = [form.attributes for form in forms if not form.attributes.get("action")]
    assert not loose, f"{found.name}: forms without an address: {loose}"
    assert 'href="?' not in page, f"{found.name}: a link that is relative"
    assert f'name="next" value="{found.to}"' not in page


def try_refused(found: Found) -> None:
    """Send a form that will not do, and look at what comes back."""
    assert found.name in SPOILT, f"say how a form to {found.name} is refused"
    sent = filled_in(found)
    with transaction.atomic():
        if found.name in TWICE:
            found.client.post(found.to, sent)
        answer = found.client.post(found.to, sent)
        transaction.set_rollback(True)
    assert answer.status_code in (400, 409, 422), f"{found.name}: {answer.status_code}"
    forms = forms_in(answer.text)
    assert_all_is_back(found, sent, answer.text, forms)
    assert_it_says_what_is_wrong(found, answer.text, forms)
    assert_other_forms_go_where_they_went(found, answer.text, forms)


def test_every_form_comes_back_as_it_was_typed(every_form) -> None:  # noqa: F811
    taking = {call.split()[0] for call in TABLE if call.endswith(" POST")}
    pages = {name for name in taking if not name.startswith("api-")}
    on_no_page = pages - {found.name for found in every_form.values()}
    assert on_no_page == set(SCRIPTED), "addresses that take forms, and on which page they stand"
    filled = [each for each in every_form.values() if each.typed and each.name not in NEVER]
    assert {each.name for each in filled} == set(SPOILT), "forms, and how each is refused"
    for found in filled:
        try_refused(found)
