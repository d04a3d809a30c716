"""What LIDO keeps beside the thing: what it belongs with, the rights, the record itself, its pictures."""

from __future__ import annotations

from catalogue.exchange.digest_addresses import address_of_picture
from catalogue.exchange.lido.object import ABOUT_RIGHTS
from catalogue.exchange.lido.pen import element, having, text
from catalogue.exchange.lido.terms import (
    LANGUAGE,
    address,
    analog,
    dated,
    iri_of,
    iso,
    named,
    numbered,
    on_day,
    said,
    term,
)
from catalogue.exchange.outgoing import Sender
from catalogue.linked.addresses import address_of
from catalogue.record import Citation, Paper, Photo, Relation, Work
from catalogue.record.rules import is_address
from catalogue.terms import label


def related(work: Work, sender: Sender) -> str:
    """The works it belongs with, the books that speak of it, the papers that are kept with it."""
    return element(
        "objectRelationWrap",
        element(
            "relatedWorksWrap",
            *(_other(each, sender) for each in work.relations),
            *map(_cited, work.citations),
            *map(_paper, work.papers),
        ),
    )


def _other(relation: Relation, sender: Sender) -> str:
    outside = is_address(relation.to)
    name = None if outside else sender.labels(relation.to)[1]
    where = relation.to if outside else address_of(relation.to, relation.to, sender.base)
    return element(
        "relatedWorkSet",
        text(
            "displayRelatedWork",
            f"{label(relation.kind)} {name or where}",
            having(lang=LANGUAGE, encodinganalog=analog("Relation", relation.id)),
        ),
        element(
            "relatedWork",
            element(
                "object",
                address("objectID", where),
                named("objectName", name) if name else "",
                *(
                    text(
                        "objectNote",
                        each.text,
                        having(lang=each.language, encodinganalog=analog("Note.text", each.id)),
                    )
                    for each in relation.notes
                ),
            ),
        ),
        term("relatedWorkRelType", relation.kind),
    )


def _cited(citation: Citation) -> str:
    pages = citation.pages and said("pages").format(pages=citation.pages)
    pictured = said("illustrated") if citation.illustrated else None
    words = ", ".join(filter(None, (citation.text, pages, pictured)))
    details = (("text", citation.text), ("pages", citation.pages))
    return element(
        "relatedWorkSet",
        text(
            "displayRelatedWork", words, having(encodinganalog=analog("Citation", citation.id))
        ),
        element(
            "relatedWork",
            element(
                "object",
                *(
                    text("objectNote", held, having(encodinganalog=f"Citation.{field}"))
                    for field, held in details
                ),
            ),
        ),
        term("relatedWorkRelType", citation.kind),
    )


def _paper(paper: Paper) -> str:
    words = ", ".join(filter(None, (paper.title, iso(paper.on))))
    return element(
        "relatedWorkSet",
        text("displayRelatedWork", words, having(encodinganalog=analog("Paper", paper.id))),
        term("relatedWorkRelType", paper.kind),
    )


def rights(work: Work) -> str:
    """What the notes about rights say, and the line of credit."""
    return element(
        "rightsWorkWrap",
        *(
            element(
                "rightsWorkSet",
                text(
                    "creditLine",
                    each.text,
                    having(lang=each.language, encodinganalog=analog("Note.text", each.id)),
                ),
            )
            for each in work.notes
            if each.kind in ABOUT_RIGHTS
        ),
    )


def the_record(work: Work, sender: Sender) -> str:
    """The record as such: its number with us, that it is of one thing, whose it is, where it stands."""
    single = element(
        "recordType",
        address("conceptID", numbered("single_object")),
        text("term", said("record_type"), having(lang=LANGUAGE)),
    )
    where = address_of(work.document, work.document, sender.base)
    return element(
        "recordWrap",
        text("recordID", work.number or work.id, having(type=numbered("local"))),
        single,
        element("recordSource", named("legalBodyName", sender.studio or said("record_source"))),
        element(
            "recordInfoSet",
            address("recordInfoID", f"urn:uuid:{work.id}"),
            text("recordInfoLink", where),
        ),
    )


def pictures(work: Work) -> str:
    """Its photographs, by digest: a file name may say more than it should."""
    return element("resourceWrap", *map(_picture, work.photos))


def _picture(photo: Photo) -> str:
    number = having(type=numbered("local"), encodinganalog=analog("Photo", photo.id))
    kind = having(formatResource=photo.media_type)
    words = ", ".join(
        label(key) for key in (photo.view, photo.face, photo.light, photo.stage) if key
    )
    return element(
        "resourceSet",
        text("resourceID", photo.number or photo.id, number),
        element(
            "resourceRepresentation",
            text("linkResource", address_of_picture(photo), kind),
            *(
                element(
                    "resourceMeasurementsSet",
                    term("measurementType", f"dimension/{name}"),
                    term("measurementUnit", "unit/pixel"),
                    text("measurementValue", str(size)),
                )
                for name, size in (("width", photo.width), ("height", photo.height))
                if size
            ),
        ),
        term("resourceType", "object/digital-image"),
        term("resourcePerspective", photo.view),
        text("resourceDescription", words, having(lang=LANGUAGE, type=iri_of(photo.view))),
        dated("resourceDateTaken", on_day(photo.taken) if photo.taken else None),
    )
