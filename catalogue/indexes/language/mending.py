"""A question with its misspelt names of fields and values put right, to be asked with one click."""

from __future__ import annotations

from catalogue.indexes.language.fields import FactField, field_called, signs
from catalogue.indexes.language.pieces import cleaned, pieces
from catalogue.indexes.language.values import field_near, values_of


def mended(typed: str) -> str:
    """The question as it was probably meant; as it was typed where nothing is misspelt.

    >>> mended("gallery colr:green kind:lable")
    'gallery colour:green kind:label'
    >>> mended('Ref:12 "colr:green"')
    'Ref:12 "colr:green"'
    """
    text = cleaned(typed)
    cut = pieces(text)
    told: list[tuple[int, int, str]] = []
    for at, piece in enumerate(cut):
        if piece.what != "field" or piece.text.lower() in signs("sort"):
            continue
        meant = field_called(piece.text)
        if meant is None and not piece.alone and (near := field_near(piece.text)):
            told.append((piece.start, piece.end, f"{near[0][0]}:"))
            meant = field_called(near[0][0])
        behind = cut[at + 1] if at + 1 < len(cut) else None
        if (
            isinstance(meant, FactField)
            and not meant.names
            and behind
            and behind.what == "word"
        ):
            chosen = values_of(meant, behind.text)
            if chosen.taken_for:
                value = chosen.taken_for
                told.append((behind.start, behind.end, f'"{value}"' if " " in value else value))
    for start, end, instead in reversed(told):
        text = text[:start] + instead + text[end:]
    return text
