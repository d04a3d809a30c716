"""Reading a label: typed markup in, a `Reading` out, with its damage and its renderings."""

from __future__ import annotations

from catalogue.reading.comparing import Comparison, Difference, Line, Stretch, compare
from catalogue.reading.fault_examples import FaultExample, fault_examples
from catalogue.reading.faults import Fault
from catalogue.reading.form import Filling, Form
from catalogue.reading.habits import Suggestion
from catalogue.reading.letters import SeenLetter
from catalogue.reading.nodes import Drawn, Foreign, Hand, walk, write
from catalogue.reading.notes import without_notes
from catalogue.reading.reading import Passage, Reading, read
from catalogue.reading.signs import SIGNS, Sign, help_card
from catalogue.reading.snippets import SNIPPETS, Snippet
from catalogue.reading.tei_document import (
    Dated,
    Observed,
    Picture,
    TeiDocument,
    Term,
    tei_document,
)
from catalogue.reading.tei_markup import TeiRemark
from catalogue.reading.tei_reading import TeiReading, TeiText, TeiZone, read_tei
from catalogue.reading.voices import GAP, fold
from catalogue.reading.words import Word

__all__ = [
    "GAP",
    "SIGNS",
    "SNIPPETS",
    "Comparison",
    "Dated",
    "Difference",
    "Drawn",
    "Fault",
    "FaultExample",
    "Filling",
    "Foreign",
    "Form",
    "Hand",
    "Line",
    "Observed",
    "Passage",
    "Picture",
    "Reading",
    "SeenLetter",
    "Sign",
    "Snippet",
    "Stretch",
    "Suggestion",
    "TeiDocument",
    "TeiReading",
    "TeiRemark",
    "TeiText",
    "TeiZone",
    "Term",
    "Word",
    "compare",
    "fault_examples",
    "fold",
    "help_card",
    "read",
    "read_tei",
    "tei_document",
    "walk",
    "without_notes",
    "write",
]
