"""What somebody typed, put back into the form of a page, with each fault beside its field.

Works on the page as it is drawn, so that every form has it, whoever writes its template. Of the
forms that go to the address one is chosen by what it carries hidden; nothing outside it changes
but the folds that it lies in, which are opened.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from html import escape

from pages.forms_in import Control, Element, Form, SelectOption, forms_in

Typed = Mapping[str, Sequence[str]]
UNTYPED = {"hidden", "submit", "button", "image", "reset"}
"""Kinds of field that nobody types in: they stay as the page has them now."""
SECRET = {"current-password", "new-password", "one-time-code"}
"""What a field that is never given back says of itself to browsers."""


@dataclass(frozen=True, slots=True)
class RefusedForm:
    """What was sent to an address and not taken."""

    to: str
    """The path that the form goes to."""
    typed: Typed
    files: frozenset[str]
    """Names of the fields that a file was chosen for."""
    faults: Mapping[str, Sequence[str]]
    """Sentences by name of the field; those of the form as a whole under an empty name."""


@dataclass(frozen=True, slots=True)
class RefillWords:
    """The sentences that this module adds, in the reader's language."""

    choose_again: str
    also_sent: str


@dataclass
class Refilled:
    """A page, and whether its form was there to be filled."""

    page: str
    found: bool


@dataclass
class _Edits:
    """Pieces of the page to be put in place of what stands from one place to another."""

    made: list[tuple[int, int, str]] = field(default_factory=list)

    def put(self, start: int, end: int, text: str) -> None:
        self.made.append((start, end, text))

    def done(self, page: str) -> str:
        parts, at = [], 0
        for start, end, text in sorted(self.made, key=lambda edit: edit[:2]):
            parts += [page[at:start], text]
            at = end
        return "".join([*parts, page[at:]])


def refilled(page: str, sent: RefusedForm, words: RefillWords, own: str) -> Refilled:
    """The page with what was sent in its form; `own` is the path of the page itself."""
    form = _form_of(forms_in(page), sent, own)
    if form is None:
        return Refilled(page, False)
    edits = _Edits()
    for fold in form.folds:
        edits.put(fold.start, fold.end, fold.tag_with({"open": None}))
    filling = _Filling(form, sent, words, edits)
    filling.fill()
    return Refilled(edits.done(page), True)


def _form_of(forms: Sequence[Form], sent: RefusedForm, own: str) -> Form | None:
    """The form that was sent: to that address, and with the same hidden in it."""
    to = []
    for form in forms:
        if form.method == "post" and form.goes_to(own) == sent.to:
            to.append(form)
    return min(to, key=lambda form: _otherwise(form, sent.typed), default=None)


def _otherwise(form: Form, typed: Typed) -> tuple[int, int]:
    """How much of what a form carries hidden was sent otherwise; then how little was sent alike."""
    hidden = []
    for each in form.controls:
        if each.kind == "hidden":
            hidden.append(each)
    alike = sum(each.value in typed.get(each.name, ()) for each in hidden)
    return len(hidden) - alike, -alike


def typed_by_hand(control: Control) -> bool:
    """Whether a field is one that somebody types or chooses in."""
    return bool(control.name) and control.kind not in UNTYPED and "hidden" not in control.attributes


def is_secret(control: Control) -> bool:
    """Whether what is typed there is given back to nobody."""
    told = (control.attributes.get("autocomplete") or "").split()
    return control.kind == "password" or bool(SECRET & set(told))


class _Filling:
    """One form being filled."""

    def __init__(self, form: Form, sent: RefusedForm, words: RefillWords, edits: _Edits) -> None:
        self.form, self.sent, self.words, self.edits = form, sent, words, edits
        self.fields = [each for each in form.controls if typed_by_hand(each)]
        self.last = {each.name: each for each in self.fields}
        self.placed: dict[str, set[str]] = {}
        self.focused = False

    def fill(self) -> None:
        for control in self.fields:
            self._fill(control)
        self._head()

    def _fill(self, control: Control) -> None:
        faults = self._faults(control)
        notes: dict[str, str | None] = {}
        if faults:
            notes["aria-invalid"] = "true"
            notes["aria-describedby"] = self._mark(control)
            if not self.focused:
                notes["autofocus"] = None
                self.focused = True
        if control.kind == "file" or is_secret(control):
            self._retag(control, notes)
        else:
            self._value(control, notes)
        if faults and self.last[control.name] is control:
            parts = []
            for fault in faults:
                parts.append(f"<span>{escape(fault)}</span>")
            told = "".join(parts)
            span = f'<span class="fault" id="{self._mark(control)}">{told}</span>'
            self.edits.put(control.after, control.after, span)

    def _faults(self, control: Control) -> list[str]:
        """What is wrong with a field, and that its file has to be chosen again."""
        faults = list(self.sent.faults.get(control.name, ()))
        if control.kind == "file" and control.name in self.sent.files:
            faults.append(self.words.choose_again)
        return faults

    def _mark(self, control: Control) -> str:
        return f"fault-{escape(control.name)}"

    def _value(self, control: Control, notes: dict[str, str | None]) -> None:
        values = self.sent.typed.get(control.name)
        if values is None and control.kind not in ("checkbox", "radio"):
            self._retag(control, notes)
            return
        given = list(values or ())
        if control.kind in ("checkbox", "radio"):
            self._tick(control, given, notes)
        elif control.kind == "select":
            self._retag(control, notes)
            for option in control.options:
                self._choose(control, option, given)
        else:
            self._write(control, given, notes)

    def _tick(self, control: Control, given: list[str], notes: dict[str, str | None]) -> None:
        ticked = control.value in given
        if ticked:
            self._place(control, control.value)
        self._retag(control, notes | ({"checked": None} if ticked else {}), leave=("checked",))

    def _choose(self, control: Control, option: SelectOption, given: list[str]) -> None:
        chosen = option.value in given
        if chosen:
            self._place(control, option.value)
        tag = option.tag_with({"selected": None} if chosen else {}, leave=("selected",))
        self.edits.put(option.start, option.end, tag)

    def _write(self, control: Control, given: list[str], notes: dict[str, str | None]) -> None:
        """The next of the values that came under a name, into the next field of that name."""
        alike = []
        for each in self.fields:
            if each.name == control.name:
                alike.append(each)
        number = alike.index(control)
        if number >= len(given):
            self._retag(control, notes)
            return
        text = given[number]
        self._place(control, text)
        if control.kind == "textarea":
            self._retag(control, notes)
            assert control.inner is not None
            # The first line break within a textarea is not part of what is in it.
            self.edits.put(*control.inner, "\n" + escape(text))
        else:
            self._retag(control, notes | {"value": text})

    def _retag(
        self, control: Element, more: dict[str, str | None], leave: Sequence[str] = ()
    ) -> None:
        if "autofocus" in control.attributes:
            leave = (*leave, "autofocus")  # the fault has it now
        if more or leave:
            self.edits.put(control.start, control.end, control.tag_with(more, leave))

    def _place(self, control: Control, text: str) -> None:
        self.placed.setdefault(control.name, set()).add(text)

    def _faults_of_none(self) -> Iterator[str]:
        """Each fault of the form as a whole, and of what has no field on the page."""
        named = set()
        for each in self.fields:
            named.add(each.name)
        for name, faults in self.sent.faults.items():
            if name in named:
                continue
            before = ""
            if name:
                before = f"{name.replace('_', ' ')}: "
            for fault in faults:
                yield escape(before + fault)

    def _head(self) -> None:
        """What is wrong with the form as a whole, and what it has no place for any more."""
        lines = list(self._faults_of_none())
        if left := list(self._left()):
            lines.append(escape(self.words.also_sent))
            for name, text in left:
                lines.append(f"{escape(name)}: {escape(text)}")
        if not lines:
            return
        focus = ' tabindex="-1" autofocus'
        if self.focused:
            focus = ""
        parts = []
        for line in lines:
            parts.append(f"<span>{line}</span>")
        said = "".join(parts)
        head = f'<p class="fault" role="alert"{focus}>{said}</p>'
        self.edits.put(self.form.end, self.form.end, head)

    def _left(self) -> Iterator[tuple[str, str]]:
        """What was sent and stands in no field: a choice that is gone meanwhile."""
        known = set()
        for each in self.form.controls:
            if each not in self.fields:
                known.add(each.name)
        secret = set()
        for each in self.fields:
            if is_secret(each):
                secret.add(each.name)
        for name, values in self.sent.typed.items():
            if name in known or name in secret:
                continue
            for text in values:
                if text and text not in self.placed.get(name, ()):
                    yield name.replace("_", " "), text
