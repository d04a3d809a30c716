"""Who made it, as LIDO's makings say: each maker an attribution, with its qualifier."""

from __future__ import annotations

from dataclasses import replace

from catalogue.exchange.lido.source import Piece, of_word
from catalogue.exchange.lido.taken import Somebody, Taking
from catalogue.exchange.lido.terms import said as our_word
from catalogue.measure import attribution_term, read_attribution
from catalogue.record import Attribution

_ARTIST = "capacity/artist"
_UNKNOWN = "qualifier/unknown"


def attribution(taking: Taking, piece: Piece, *, first: bool) -> Attribution | None:
    """Whoever this actor of a making is said to be; None for one who had another part in it.

    The `first` of a foreign record is the one to show. Who had another part stays unread, and is told.
    """
    shown, in_role = piece.one("displayActorInRole"), piece.one("actorInRole")
    words = shown.text() if shown else ""
    actor = in_role.one("actor") if in_role else None
    who = taking.somebody(actor) if actor else None
    if in_role and taking.role(in_role, _ARTIST) != _ARTIST:
        for untold in piece.element.iter():
            piece.read.discard(untold)
        return None
    if who is None and not words:
        return None
    qualifier = _qualifier(in_role, who.name if who else words, words)
    who = _by_name_alone(who or Somebody(words))
    ours = taking.ours and shown is not None
    nobody = qualifier == _UNKNOWN and (not ours or who.ours is None)
    return Attribution(
        id=taking.id_of(shown, "attribution", qualifier, who.name),
        qualifier=qualifier,
        artist=None if nobody else taking.party(who, needed=True),
        written=_written(shown, words, who, ours=ours),
        preferred=shown.analog()[0] == "Attribution.preferred" if ours and shown else first,
    )


def _by_name_alone(who: Somebody) -> Somebody:
    """Somebody without the words of attribution that stand in their name."""
    qualifier, name = read_attribution(who.name)
    return replace(who, name=name) if qualifier and name else who


def _written(shown: Piece | None, words: str, who: Somebody, *, ours: bool) -> str | None:
    """The wording that an attribution came in, where it says more than the name."""
    if ours:
        return words if shown and shown.attribute("label") == our_word("as_written") else None
    return words if words and words != who.name else None


def _qualifier(in_role: Piece | None, name: str, words: str) -> str:
    """In which sense: by the term or the words of a qualifier, else by what stands with the name."""
    for each in in_role.each("attributionQualifierActor") if in_role else ():
        if key := each.concept("qualifier"):
            return key
        if key := attribution_term(f"{each.words()} {name}"):
            return key
        each.read.discard(each.element)
    if of_word(name, "qualifier") == _UNKNOWN:
        return _UNKNOWN
    return attribution_term(name) or attribution_term(words) or "qualifier/by"
