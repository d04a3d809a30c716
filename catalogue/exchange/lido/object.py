"""What LIDO says of the thing itself: titles, numbers, notes, sizes and materials.

The order of these is the schema's; each function gives one of its wraps, "" where there is nothing.
"""

from __future__ import annotations

from catalogue.exchange.lido.pen import element, having, text
from catalogue.exchange.lido.terms import LANGUAGE, analog, iri_of, numbered, said, term
from catalogue.record import Layer, Note, Part, Size, Work
from catalogue.record.common import SIZE_MEASURES
from catalogue.terms import label

ABOUT_RIGHTS = ("note/rights", "note/credit-line")
"""Kinds of note that LIDO keeps with the rights."""


def classified() -> str:
    """What kind of thing it is: a painting, as everything that the studio keeps a record of."""
    return element(
        "objectClassificationWrap",
        element("objectWorkTypeWrap", term("objectWorkType", "object/painting")),
    )


def titles(work: Work) -> str:
    """The titles, the one to show first; LIDO asks for one, so a work without is called untitled."""
    sets = [
        element(
            "titleSet",
            text(
                "appellationValue",
                each.text,
                having(
                    pref="preferred" if each.preferred else None,
                    lang=each.language,
                    encodinganalog=analog("Title.text", each.id),
                ),
            ),
            attributes=having(type=iri_of(each.kind), sortorder=place),
        )
        for place, each in enumerate(work.titles, 1)
    ]
    if not sets:
        words = text("appellationValue", said("no_title"), having(lang=LANGUAGE, label="none"))
        sets = [element("titleSet", words)]
    return element("titleWrap", *sets)


def numbers(work: Work) -> str:
    """The studio's own number and all others, each with its kind."""
    own = having(type=iri_of("number/studio"), encodinganalog="Work.number")
    return element(
        "repositoryWrap",
        element(
            "repositorySet",
            text("workID", work.number, own),
            *(
                text(
                    "workID",
                    each.text,
                    having(
                        type=iri_of(each.kind), encodinganalog=analog("Number.text", each.id)
                    ),
                )
                for each in work.numbers
            ),
        ),
    )


def descriptions(work: Work) -> str:
    """The notes about the whole, but for those about rights, which have a place of their own."""
    return element(
        "objectDescriptionWrap",
        *(
            element(
                "objectDescriptionSet",
                note_value(each),
                attributes=having(type=iri_of(each.kind)),
            )
            for each in work.notes
            if each.kind not in ABOUT_RIGHTS
        ),
    )


def note_value(note: Note) -> str:
    """The text of a note, with its language and id."""
    return text(
        "descriptiveNoteValue",
        note.text,
        having(lang=note.language, encodinganalog=analog("Note.text", note.id)),
    )


def sizes(work: Work) -> str:
    """Every set of measures, in words and in millimetres."""
    return element("objectMeasurementsWrap", *map(_size, work.sizes))


def _size(size: Size) -> str:
    measures = [
        (name.removesuffix("_mm"), getattr(size, name))
        for name in SIZE_MEASURES
        if getattr(size, name) is not None
    ]
    words = f"{label(size.what)}: {' x '.join(_figure(value) for _, value in measures)} mm"
    day = f" ({size.on.iso})" if size.on else ""
    shown = having(lang=LANGUAGE, encodinganalog=analog("Size", size.id))
    return element(
        "objectMeasurementsSet",
        text("displayObjectMeasurements", words + day, shown),
        element(
            "objectMeasurements",
            *(
                element(
                    "measurementsSet",
                    term("measurementType", f"dimension/{name}"),
                    term("measurementUnit", "unit/millimetre"),
                    text("measurementValue", _figure(value)),
                )
                for name, value in measures
            ),
            term("extentMeasurements", size.what),
        ),
    )


def _figure(value: float) -> str:
    """The shortest decimal: 610, 45.25.

    >>> _figure(610.0), _figure(45.25)
    ('610', '45.25')
    """
    return str(int(value)) if value == int(value) else repr(value)


def materials(work: Work) -> str:
    """What the whole is made of, then what its parts and layers are made of."""
    kinds = having(lang=LANGUAGE, encodinganalog="Work.medium")
    whole = element(
        "objectMaterialsTechSet",
        text("displayMaterialsTech", work.medium, kinds),
        element("materialsTech", *map(_material, work.materials)),
    )
    pieces: list[Part | Layer] = [*work.parts, *work.layers]
    return element("objectMaterialsTechWrap", whole, *map(_piece, pieces))


def _material(key: str) -> str:
    return term("termMaterialsTech", key, type=numbered("material"))


def _piece(piece: Part | Layer) -> str:
    kind = type(piece).__name__
    ours = {True: said("original"), False: said("not_original"), None: None}[piece.original]
    words = [label(piece.kind), *map(label, piece.materials), ours]
    if isinstance(piece, Layer):
        words[1:1] = [piece.colour]
        if piece.position:
            # counted from the back
            words[0] = f"{piece.position}. {words[0]}"
    shown = having(lang=LANGUAGE, encodinganalog=analog(kind, piece.id))
    return element(
        "objectMaterialsTechSet",
        text("displayMaterialsTech", ", ".join(filter(None, words)), shown),
        element(
            "materialsTech",
            *map(_material, piece.materials),
            term("extentMaterialsTech", piece.kind),
            *(
                text(
                    "sourceMaterialsTech",
                    each.text,
                    having(lang=each.language, encodinganalog=analog("Note.text", each.id)),
                )
                for each in piece.notes
            ),
        ),
    )
