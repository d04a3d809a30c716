"""Every paper that the studio prints. A new one is a function and one line here, its words in vocab."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeVar

from catalogue.documents.aftercare import aftercare
from catalogue.documents.comparison import comparison
from catalogue.documents.condition import condition_report
from catalogue.documents.given import Given
from catalogue.documents.html import as_html
from catalogue.documents.labels import bag_labels, slip
from catalogue.documents.loan import loan_check
from catalogue.documents.model import Document
from catalogue.documents.object_id import object_id
from catalogue.documents.pdf import as_pdf
from catalogue.documents.provenance import provenance, provenance_internal
from catalogue.documents.receipts import entry_receipt, exit_receipt
from catalogue.documents.sale import sale_sheet
from catalogue.documents.statement import condition_statement
from catalogue.documents.treatment import treatment_report
from catalogue.documents.words import words
from catalogue.errors import BadSetting

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Paper:
    """One kind of paper: whether it is about a whole job, one work, or either; and what makes it.

    `profile` is the list of vocab/profiles.toml of what its readers may know. `deal` is the field of a
    commission that a paper about a work rests on, "" where it rests on none.
    """

    of: Literal["job", "work", "work or job"]
    make: Callable[[Given], Document]
    profile: str = "client"
    deal: Literal["", "loans", "offers"] = ""


PAPERS: dict[str, Paper] = {
    "entry-receipt": Paper("job", entry_receipt),
    "exit-receipt": Paper("job", exit_receipt),
    "condition": Paper("work", condition_report),
    "comparison": Paper("work", comparison),
    "treatment": Paper("work", treatment_report),
    "bag-labels": Paper("job", bag_labels),
    "aftercare": Paper("work", aftercare),
    "slip": Paper("work or job", slip),
    "loan-check": Paper("work", loan_check, "loan-papers", "loans"),
    "object-id": Paper("work", object_id),
    "sale": Paper("work", sale_sheet, "sale-papers", "offers"),
    "condition-statement": Paper("work", condition_statement, "sale"),
    "provenance": Paper("work", provenance, "sale"),
    "provenance-internal": Paper("work", provenance_internal, "full"),
}

WRITERS: dict[str, Callable[[Document], bytes]] = {"pdf": as_pdf, "html": as_html}
"""What a paper can be written as."""


def paper_named(name: str) -> Paper:
    """The paper of that name. Raises `BadSetting` naming those there are."""
    return _chosen(PAPERS, name, "paper")


def writer_named(name: str) -> Callable[[Document], bytes]:
    """What writes that format. Raises `BadSetting` naming those there are."""
    return _chosen(WRITERS, name, "format of a paper")


def says(name: str) -> str:
    """For whom a paper is, and when it is printed."""
    said: str = words("papers")[name]["says"]
    return said


def _chosen(of: dict[str, T], name: str, what: str) -> T:
    if name not in of:
        raise BadSetting(
            f"there is no {what} {name!r}", remedy=f"choose one of: {', '.join(of)}"
        )
    return of[name]
