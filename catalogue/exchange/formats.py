"""Every format that records leave in. A new one is a module and one line here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from catalogue.errors import BadSetting
from catalogue.exchange import full_graph, linked_art, linked_art_whole, nquads, turtle
from catalogue.exchange.iiif import annotations as web_annotation
from catalogue.exchange.iiif import manifest as iiif
from catalogue.exchange.lido import writing as lido
from catalogue.exchange.outgoing import Sender, Writing, by_itself
from catalogue.exchange.parcels import parcel
from catalogue.exchange.schema_org import writing as schema_org
from catalogue.exchange.tables import in_csv as csv_tables
from catalogue.exchange.tables import in_xlsx as xlsx_tables
from catalogue.exchange.tei import writing as tei


@dataclass(frozen=True, slots=True)
class Format:
    """One format: the sentence shown beside it, and what begins to write an export in it.

    `pictures` is whether copies of photographs leave with it.
    """

    says: str
    begin: Callable[[Sender], Writing]
    pictures: bool = False


FORMATS: dict[str, Format] = {
    "linked-art": Format(linked_art.SAYS, by_itself(linked_art.write)),
    "linked-art-whole": Format(linked_art_whole.SAYS, linked_art_whole.begin),
    "full-graph": Format(full_graph.SAYS, by_itself(full_graph.write)),
    "turtle": Format(turtle.SAYS, turtle.begin),
    "nquads": Format(nquads.SAYS, nquads.begin),
    "schema-org": Format(schema_org.SAYS, by_itself(schema_org.write)),
    "lido": Format(lido.SAYS, by_itself(lido.write)),
    "tei": Format(tei.SAYS, by_itself(tei.write)),
    "iiif": Format(iiif.SAYS, by_itself(iiif.write), pictures=True),
    "web-annotation": Format(web_annotation.SAYS, by_itself(web_annotation.write)),
    "csv": Format(csv_tables.SAYS, csv_tables.begin),
    "xlsx": Format(xlsx_tables.SAYS, xlsx_tables.begin),
}


def _begin_parcel(sender: Sender) -> Writing:
    return parcel.begin(sender, {name: each.begin for name, each in FORMATS.items()})


FORMATS["parcel"] = Format(parcel.SAYS, _begin_parcel, pictures=True)


def format_named(name: str) -> Format:
    """The format of that name. Raises `BadSetting` naming those there are."""
    if name not in FORMATS:
        raise BadSetting(
            f"there is no format {name!r}",
            remedy=f"choose one of: {', '.join(sorted(FORMATS))}",
        )
    return FORMATS[name]
