"""The forms of a page that was drawn: their fields and where in its text each stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html import escape
from html.parser import HTMLParser
from urllib.parse import urlsplit

Attributes = dict[str, str | None]


@dataclass(eq=False)
class Element:
    """A tag, from `start` to `end` in the text of the page."""

    tag: str
    attributes: Attributes
    start: int
    end: int

    def tag_with(self, more: Mapping[str, str | None], leave: Sequence[str] = ()) -> str:
        """The tag with further attributes, those that it has already set anew, some left out."""
        kept = {}
        for name, value in self.attributes.items():
            if name not in leave:
                kept[name] = value
        parts = [self.tag]
        for name, value in (kept | dict(more)).items():
            parts.append(name if value is None else f'{name}="{escape(value)}"')
        return f"<{' '.join(parts)}>"


@dataclass(eq=False)
class SelectOption(Element):
    """One choice of a list."""

    text: str = ""

    @property
    def value(self) -> str:
        """What is sent when it is chosen."""
        given = self.attributes.get("value")
        if given is None:
            return " ".join(self.text.split())
        return given


@dataclass(eq=False)
class Control(Element):
    """A field or a button of a form."""

    after: int = 0
    """Where the field and the label around it end."""
    inner: tuple[int, int] | None = None
    """What is between the tags of a text of several lines."""
    text: str = ""
    options: list[SelectOption] = field(default_factory=list)

    @property
    def name(self) -> str:
        """The name that its value is sent under."""
        return self.attributes.get("name") or ""

    @property
    def kind(self) -> str:
        """The type of an input; `select`, `textarea`, or `submit` for every button."""
        if self.tag == "button":
            return "submit"
        if self.tag != "input":
            return self.tag
        return (self.attributes.get("type") or "text").lower()

    @property
    def value(self) -> str:
        """What the page has in it."""
        if self.tag == "textarea":
            return self.text.removeprefix("\r\n").removeprefix("\n")
        missing = ""
        if self.kind in ("checkbox", "radio"):
            missing = "on"
        given = self.attributes.get("value")
        if given is None:
            return missing
        return given

    @property
    def chosen(self) -> list[str]:
        """What would be sent of it."""
        if self.tag == "select":
            values: list[str] = []
            for each in self.options:
                if "selected" in each.attributes:
                    values.append(each.value)
            return values
        if self.kind in ("checkbox", "radio"):
            if "checked" in self.attributes:
                return [self.value]
            return []
        return [self.value]


@dataclass(eq=False)
class Form(Element):
    """A form with its fields in order, and the folds that it or its fields lie in."""

    controls: list[Control] = field(default_factory=list)
    folds: list[Element] = field(default_factory=list)

    @property
    def method(self) -> str:
        """post or get."""
        return (self.attributes.get("method") or "get").lower()

    def goes_to(self, own: str) -> str:
        """The path that it is sent to, on a page of that path."""
        return urlsplit(self.attributes.get("action") or own).path


def forms_in(page: str) -> list[Form]:
    """Every form of a page."""
    reading = _Reading(page)
    reading.feed(page)
    reading.close()
    return reading.forms


class _Reading(HTMLParser):
    """Reads a page as our templates draw it: forms are closed, and none lies in another."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.page = page
        self.lines = [0]
        for line in page.split("\n"):  # as the parser counts lines
            self.lines.append(self.lines[-1] + len(line) + 1)
        self.forms: list[Form] = []
        self.form: Form | None = None
        self.open_folds: list[Element] = []
        self.control: Control | None = None
        self.option: SelectOption | None = None
        self.in_label: list[Control] | None = None

    def _at(self) -> int:
        line, column = self.getpos()
        return self.lines[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note forms, fields, choices, labels and folds."""
        start = self._at()
        place = (tag, dict(attrs), start, start + len(self.get_starttag_text() or ""))
        if tag == "details":
            self._fold(Element(*place))
        elif tag == "form":
            self.form = Form(*place, folds=list(self.open_folds))
            self.forms.append(self.form)
        elif tag == "label":
            self.in_label = []
        elif tag in ("input", "select", "textarea", "button") and self.form is not None:
            self._begin(self.form, Control(*place))
        elif tag == "option" and self.control is not None:
            self.option = SelectOption(*place)
            self.control.options.append(self.option)

    def _fold(self, fold: Element) -> None:
        self.open_folds.append(fold)
        if self.form is not None:
            self.form.folds.append(fold)

    def _begin(self, form: Form, control: Control) -> None:
        control.after = control.end
        form.controls.append(control)
        if self.in_label is not None:
            self.in_label.append(control)
        if control.tag != "input":
            self.control = control

    def handle_endtag(self, tag: str) -> None:
        """Note where they end."""
        start = self._at()
        end = self.page.index(">", start) + 1
        if tag == "details" and self.open_folds:
            self.open_folds.pop()
        elif tag == "form":
            self.form = None
        elif tag == "label":
            for control in self.in_label or ():
                control.after = end
            self.in_label = None
        elif tag == "option":
            self.option = None
        elif self.control is not None and tag == self.control.tag:
            self.control.inner = (self.control.end, start)
            self.control.after = end
            self.control = self.option = None

    def handle_data(self, data: str) -> None:
        """Note the words of a choice and what stands in a text of several lines."""
        if self.option is not None:
            self.option.text += data
        elif self.control is not None:
            self.control.text += data
