"""What was typed, put back into a form as it is drawn: any text, any field, nothing else."""

from html import escape

import pytest
from django.db import IntegrityError
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from inspections.checker.rulebook import LimitFault, RulebookFault
from inspections.checker.rulebook_messages import NOT_CHOSEN
from pages.forms_in import Form, forms_in
from pages.jobs import covers, permits
from pages.refill import RefillWords, RefusedForm, refilled

WORDS = RefillWords("Choose the file again.", "You also gave:")
PAGE = """<!doctype html>
<p>before é</p>
<details class="a"><summary>s</summary>
<form method="post" action="/here/"><input type="hidden" name="which" value="b">
<input name="note"></form>
<form method="post" action="/here/"><input type="hidden" name="which" value="a">
<label>note <input name="note" value="as it was" maxlength=60 required></label>
<textarea name="long" rows="2" aria-label="long"></textarea>
<select name="kind"><option value="">none</option><option>plain <i>words</i></option></select>
<input type="checkbox" name="also" checked><input name="many"><input name="many">
<input type="password" name="secret"><input type="file" name="picture">
<button name="pressed" value="one">go</button>
</form></details>
<svg viewBox="0 0 1 1"><path d="M0 0"/></svg><script>if (1 < 2) "<form>";</script>
"""
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00\r"), max_size=40)


def fill(typed: dict[str, list[str]], faults: dict[str, list[str]] | None = None, files=()) -> str:
    sent = RefusedForm(
        "/here/", {"which": ["a"]} | typed, frozenset(files), faults or {"": ["No."]}
    )
    return refilled(PAGE, sent, WORDS, "/elsewhere/").page


def second(page: str) -> Form:
    return forms_in(page)[1]


def chosen(form: Form, name: str) -> list[str]:
    return [text for each in form.controls if each.name == name for text in each.chosen]


@given(TEXT, TEXT, TEXT)
def test_any_text_comes_back_in_the_field_it_was_typed_in(note, long, other) -> None:
    page = fill({"note": [note], "long": [long], "many": [other, note], "kind": ["plain words"]})
    form = second(page)
    assert chosen(form, "note") == [note]
    assert chosen(form, "long") == [long]
    assert chosen(form, "many") == [other, note]
    assert chosen(form, "kind") == ["plain words"]
    assert chosen(form, "also") == []
    assert len(forms_in(page)) == 2


def test_nothing_outside_the_form_changes_but_the_fold_around_it() -> None:
    before, _, after = PAGE.partition('<label>note <input name="note" value="as it was"')
    page = fill({"note": ["x"]})
    said = '<p class="fault" role="alert" tabindex="-1" autofocus><span>No.</span></p>'
    start = page.replace(said, "").replace('<details class="a" open>', '<details class="a">')
    assert start.startswith(before)
    assert page.endswith(after.partition("</form>")[2])
    assert chosen(forms_in(page)[0], "note") == [""]


def test_a_fault_stands_after_the_field_and_its_label_and_the_field_names_it() -> None:
    page = fill({"note": ["x"]}, {"note": ["Too <short>."], "kind": ["Choose."]})
    after = page.split("</label>")[1]
    assert after.startswith(
        '<span class="fault" id="fault-note"><span>Too &lt;short&gt;.</span></span>'
    )
    (note,) = (each for each in second(page).controls if each.name == "note")
    assert note.attributes["aria-describedby"] == "fault-note"
    assert note.attributes["aria-invalid"] == "true"
    assert "autofocus" in note.attributes
    assert page.count("autofocus") == 1


def test_a_secret_is_never_given_back_and_a_file_is_asked_for_again() -> None:
    page = fill({"secret": ["rough-in"]}, files=["picture"])
    assert "rough-in" not in page
    assert "Choose the file again." in page
    assert "Choose the file again." not in fill({})


def test_what_has_no_field_any_more_is_told_and_a_button_is_not() -> None:
    page = fill({"kind": ["a <crew> that is gone"], "pressed": ["one"], "gone": ["words"]})
    assert "You also gave:" in page
    assert f"kind: {escape('a <crew> that is gone')}" in page
    assert "gone: words" in page
    assert "pressed: one" not in page


def test_a_form_that_goes_elsewhere_is_left_alone() -> None:
    sent = RefusedForm("/there/", {"note": ["x"]}, frozenset(), {"": ["No."]})
    assert refilled(PAGE, sent, WORDS, "/elsewhere/").page == PAGE


@pytest.fixture
def garage(shop, house_bytes):
    return shop.roughed_in(house_bytes).areas.get(code="garage")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        (IntegrityError('constraint "one_live_cover_release"'), 409, "at the same moment"),
        (RulebookFault(LimitFault("rulebook", NOT_CHOSEN())), 422, "rulebook: is missing"),
    ],
)
def test_what_a_service_raises_is_told_and_never_by_the_databases_name(
    client, shop, garage, monkeypatch, error, status, words
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise error

    client.force_login(shop.office)
    monkeypatch.setattr(covers, "cover_release_withdraw", refuse)
    answer = client.post(reverse("withdraw", args=[garage.id]), {"because": "a stud was drilled"})
    assert answer.status_code == status
    assert words in answer.text
    assert "one_live_cover_release" not in answer.text
    assert "a stud was drilled" in answer.text


@pytest.mark.django_db
def test_who_may_not_is_told_so_with_what_was_typed(client, shop, garage) -> None:
    client.force_login(shop.member)
    given = {"number": "FH-77", "issued_on": "2026-03-02"}
    answer = client.post(reverse("permit", args=[garage.job_id]), given)
    assert answer.status_code == 403
    assert "can do this" in answer.text
    assert '<dd class="typed">FH-77' in answer.text


@pytest.mark.django_db
def test_of_two_services_of_one_form_neither_or_both_write(client, shop, monkeypatch) -> None:
    job = shop.job()
    client.force_login(shop.office)
    given = {"applied_on": "2026-01-05", "number": "FH-77", "issued_on": "2026-01-12"}

    def refuse(*_: object, **__: object) -> None:
        raise IntegrityError

    monkeypatch.setattr(permits, "permit_issue", refuse)
    assert client.post(reverse("permit", args=[job.id]), given).status_code == 409
    job.refresh_from_db()
    assert not hasattr(job, "permit")
