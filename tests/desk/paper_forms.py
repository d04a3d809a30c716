"""The forms of a page as a browser would send them back: every blank with what stands in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser


@dataclass
class PaperForm(HTMLParser):
    """Reads the one form of a page that has this id."""

    wanted: str = "enter"
    action: str = ""
    fields: list[tuple[str, str]] = field(default_factory=list)
    blanks: set[str] = field(default_factory=set)
    _inside: bool = False
    _select: str | None = None
    _options: list[tuple[str, bool]] = field(default_factory=list)
    _area: str | None = None
    _text: str = ""

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)

    def handle_starttag(self, tag, attrs):
        held = dict(attrs)
        if tag == "form":
            self._inside = held.get("id") == self.wanted
            if self._inside:
                self.action = held["action"]
        if not self._inside:
            return
        name = held.get("name")
        if tag == "input" and name:
            kind = held.get("type", "text")
            self.blanks.add(name)
            ticked = kind not in ("checkbox", "radio") or "checked" in held
            if ticked and kind != "file":
                self.fields.append((name, held.get("value") or ""))
        elif tag == "select":
            self.blanks.add(name)
            self._select, self._options = name, []
        elif tag == "option" and self._select:
            self._options.append((held.get("value", ""), "selected" in held))
        elif tag == "textarea":
            self.blanks.add(name)
            self._area, self._text = name, ""

    def handle_data(self, data):
        if self._area:
            self._text += data

    def handle_endtag(self, tag):
        if tag == "form":
            self._inside = False
        elif tag == "select" and self._select:
            chosen = [value for value, selected in self._options if selected]
            assert len(chosen) <= 1, self._select
            if self._options:
                self.fields.append((self._select, (chosen or [self._options[0][0]])[0]))
            self._select = None
        elif tag == "textarea" and self._area:
            # The line end right after the tag is not part of the text (HTML, "textarea").
            self.fields.append(
                (self._area, self._text.removeprefix("\n").replace("\n", "\r\n"))
            )
            self._area = None

    @classmethod
    def of(cls, page: str, wanted: str = "enter") -> PaperForm:
        form = cls(wanted)
        form.feed(page)
        assert form.action, f"no form {wanted} on the page"
        return form

    def sent(self, **typed: object) -> dict[str, list[str]]:
        """What the browser sends when these blanks were typed over ("notes__0__text")."""
        found: dict[str, list[str]] = {}
        for name, value in self.fields:
            found.setdefault(name, []).append(value)
        for name, value in typed.items():
            path = name.replace("__", ".")
            found[path] = (
                [str(each) for each in value]
                if isinstance(value, list | tuple)
                else [str(value)]
            )
        return found
