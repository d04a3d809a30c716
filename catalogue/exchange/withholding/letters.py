"""Letters of a reading that stay home: an address or a telephone number of the living, a late price.

The letters go, and in their place stands a gap that says what was withheld (`[--- :address withheld]`),
so that nobody takes it for damage. What the editor restored or completed beside them goes with them: it
would tell the same. The rules are in vocab/withholding.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from catalogue.exchange.withholding.lives import Lives, rules, years
from catalogue.measure import Day, find_addresses, read_edtf, read_money
from catalogue.reading import read, without_notes
from catalogue.reading.nodes import (
    Added,
    Branch,
    Break,
    Doubtful,
    Escaped,
    Foreign,
    Full,
    Hand,
    Leaf,
    Meant,
    Node,
    Note,
    Over,
    Point,
    Raised,
    Space,
    Struck,
    Text,
    Turned,
    Underlined,
)
from catalogue.record import Inscription, Statement, Transcript, Work

ADDRESS, TELEPHONE, PRICE = "address", "telephone", "price"
_STATED = {
    "statement/address": ADDRESS, "statement/telephone": TELEPHONE, "statement/money": PRICE,
}  # fmt: skip
# What can lose some of its letters and still be what it was; of every other sign none is left.
_CAN_BE_CUT = (Added, Foreign, Over, Raised, Struck, Underlined)
_NO_LETTERS = (Break, Hand, Turned, Note)

Cut = tuple[int, int, str]
"""From where to where letters go, in code points of the markup, and what they are (`ADDRESS` ...)."""


@dataclass(frozen=True, slots=True)
class Letters:
    """What decides about the letters of one work: whether a maker of it may be living.

    `shown` is the last day of the exhibition that a label was stuck on for, by the label's id.
    """

    lives: Lives
    maker_may_live: bool
    shown: dict[str, Day | None]

    @classmethod
    def of(cls, work: Work, lives: Lives) -> Letters:
        """The letters of a work; where no maker is known, one may be living."""
        if work.made and lives.is_past(work.made.latest, years("living")):
            return cls(lives, False, _shown(work))
        makers = {each.artist for each in work.attributions if each.artist}
        may_live = not makers or any(lives.may_live(lives.of(each)) for each in makers)
        return cls(lives, may_live, _shown(work))

    def withheld(self, inscription: Inscription, transcript: Transcript) -> tuple[Cut, ...]:
        """What of a reading stays home, in the order of the label; of an address the town may leave."""
        old = self.shown.get(inscription.id) or _last_day(inscription)
        told = rules()
        reads = {
            ADDRESS: self._of_the_living(inscription, old),
            PRICE: not self.lives.is_past(old, years("price")),
        }
        reads[TELEPHONE] = reads[ADDRESS]
        if not any(reads.values()):
            return ()
        for kind, key in ((ADDRESS, "addresses"), (PRICE, "prices")):
            if reads[kind] and inscription.kind in told[key]["whole"]:
                if kind == PRICE and self._is_old_money(transcript.reading().plain()):
                    continue
                return ((0, len(transcript.markup), kind),)
        if not any(letter.isdigit() for letter in transcript.markup):
            return ()
        decided = [each for each in inscription.statements if each.transcript == transcript.id]
        return tuple(
            sorted(each for each in self._found(transcript, decided) if reads[each[2]])
        )

    def _of_the_living(self, inscription: Inscription, old: Day | None) -> bool:
        told = rules()["addresses"]
        if inscription.kind in told["of_a_firm"] or self.lives.is_past(old, years("living")):
            return False
        return inscription.kind in told["of_others"] or self.maker_may_live

    def _found(self, transcript: Transcript, decided: list[Statement]) -> Iterator[Cut]:
        """What was found and nobody rejected, and what somebody said it is."""
        letters = tuple(_letters(transcript.reading().tree))
        text = "".join(each[0] for each in letters)
        rejected = [
            (each.start, each.end)
            for each in decided
            if each.kind in _STATED and not each.stands
        ]
        for start, end, kind in (*_addresses(text), *self._prices(text)):
            place = letters[start][1], letters[end - 1][2]
            if place not in rejected:
                yield (*place, kind)
        for each in decided:
            said = _STATED.get(each.kind) if each.stands else None
            if said and not (said == PRICE and self._is_old_money(each.written)):
                yield each.start, each.end, said

    def _prices(self, text: str) -> Iterator[Cut]:
        for each in read_money(text):
            last = [reading.use.not_after for reading in each.readings]
            ends = [Day(day.year, day.month, day.day) if day else None for day in last]
            if not all(self.lives.is_past(day, years("price")) for day in ends):
                yield each.start, each.end, PRICE

    def _is_old_money(self, text: str) -> bool:
        """Whether there are sums, and only such as have not been written for so many years."""
        return bool(read_money(text)) and not any(self._prices(text))


def _addresses(text: str) -> Iterator[Cut]:
    """Addresses without their town, and telephone numbers."""
    for each in find_addresses(text):
        if each.kind == TELEPHONE:
            yield each.start, each.end, TELEPHONE
        if each.kind != ADDRESS:
            continue
        town = each.value.get("town")
        at = each.written.rfind(town) if town else -1
        if at < 0 or not town:
            yield each.start, each.end, ADDRESS
            continue
        behind = at + len(town)
        if each.written[:at].strip(" ,"):
            yield each.start, each.start + len(each.written[:at].rstrip(" ,")), ADDRESS
        if rest := each.written[behind:].lstrip(" ,"):
            yield each.end - len(rest), each.end, ADDRESS


def _letters(tree: tuple[Node, ...]) -> Iterator[tuple[str, int, int]]:
    """Every letter as it would be read with all that the editor supplied, and where it was typed.

    Gaps are closed: half an address is found as well.
    """
    for node in tree:
        if isinstance(node, Text):
            for at, letter in enumerate(node.typed, node.start):
                yield letter, at, at + 1
        elif isinstance(node, Escaped | Doubtful):
            yield node.letter, node.start, node.end
        elif isinstance(node, Break):
            if not node.runs_on:
                yield "\n", node.start, node.end
        elif isinstance(node, Space):
            yield " ", node.start, node.end
        elif isinstance(node, Branch) and not isinstance(node, Meant | Full | Point):
            yield from _letters(node.children)


@dataclass(frozen=True, slots=True)
class Shortened:
    """A markup without what stays home; `edits` are what went: from, to, and the sign in its place."""

    markup: str
    edits: tuple[tuple[int, int, str], ...]

    def place(self, start: int, end: int) -> tuple[int, int] | None:
        """Where letters stand now, None if some of them went."""
        if any(start < to and from_ < end for from_, to, _ in self.edits):
            return None
        by = sum(len(sign) - (to - from_) for from_, to, sign in self.edits if to <= start)
        return start + by, end + by


def shortened(markup: str, cuts: tuple[Cut, ...]) -> Shortened:
    """The markup with a sign in the place of each cut.

    >>> shortened("A. Penhale|[6] Ch_andler's Row, Bath", ((11, 30, "address"),)).markup
    'A. Penhale|[--- :address withheld], Bath'
    """
    if not cuts:
        return Shortened(markup, ())
    tree = read(markup).tree
    edits: list[tuple[int, int, str]] = []
    for start, end, kind in cuts:
        sign = f"[--- :{rules()['marks'][kind]}]"
        for from_, to in _joined(sorted(_going(tree, *_widened(tree, start, end)))):
            if edits and from_ < edits[-1][1]:
                continue
            edits.append((from_, to, sign))
            sign = ""
    made = _applied(markup, edits)
    lost = {at for from_, to, _ in edits for at in range(from_, to)}
    wanted = [letter for letter, at, _ in _letters(tree) if at not in lost]
    if [letter for letter, _, _ in _letters(read(made).tree)] == wanted:
        return Shortened(made, tuple(edits))
    # what is left would read otherwise than before: then nothing of it leaves
    whole = f"[--- :{rules()['marks'][cuts[0][2]]}]"
    return Shortened(whole, ((0, len(markup), whole),))


def _applied(markup: str, edits: list[tuple[int, int, str]]) -> str:
    kept: list[str] = []
    at = 0
    for from_, to, sign in edits:
        kept += [markup[at:from_], sign]
        at = to
    return "".join([*kept, markup[at:]])


def _widened(tree: tuple[Node, ...], start: int, end: int) -> tuple[int, int]:
    """The cut with what the editor supplied directly beside it."""
    for node in tree:
        whole = isinstance(node, Branch) and not isinstance(node, _CAN_BE_CUT)
        if whole and node.start < end + 2 and start - 2 < node.end:
            start, end = min(start, node.start), max(end, node.end)
    return start, end


def _going(tree: tuple[Node, ...], start: int, end: int) -> Iterator[tuple[int, int]]:
    """The stretches of markup that go: whole signs, letters of a text."""
    for node in tree:
        if node.end <= start or end <= node.start or isinstance(node, _NO_LETTERS):
            continue
        if isinstance(node, Text):
            yield max(node.start, start), min(node.end, end)
        elif (
            isinstance(node, Leaf)
            or not isinstance(node, _CAN_BE_CUT)
            or (start <= node.start and node.end <= end)
        ):
            yield node.start, node.end
        else:
            yield from _going(node.children, start, end)


def _joined(stretches: list[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    at: tuple[int, int] | None = None
    for start, end in stretches:
        if at and start <= at[1]:
            at = at[0], max(end, at[1])
            continue
        if at:
            yield at
        at = start, end
    if at:
        yield at


def where_it_stands(statement: Statement, cut: Shortened) -> Statement | None:
    """The statement where its letters stand once notes and more are out, None if they went too."""
    place = cut.place(statement.start, statement.end)
    if place is None:
        return None
    start = len(without_notes(cut.markup[: place[0]]))
    letters = without_notes(cut.markup[place[0] : place[1]])
    end = start + len(letters)
    if not letters or without_notes(cut.markup)[start:end] != letters:
        return None
    return replace(statement, start=start, end=end)


def _shown(work: Work) -> dict[str, Day | None]:
    return {
        each.source: showing.when.latest
        for showing in work.exhibitions
        if showing.when
        for each in showing.evidence
        if each.source
    }


def _last_day(inscription: Inscription) -> Day | None:
    """The last day on which it may have been written, by the dates on it that somebody accepted."""
    days: list[Day] = []
    for each in inscription.statements:
        if each.kind == "statement/date" and each.stands and each.value:
            span = read_edtf(each.value)
            if span is None or span.latest is None:
                return None
            days.append(span.latest)
    return max(days, default=None)
