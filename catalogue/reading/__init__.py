"""Reading a label: typed markup in, a `Reading` out, with its damage and its renderings."""

from __future__ import annotations

from catalogue.reading.comparing import Comparison, Difference, Line, Stretch, compare
from catalogue.reading.fault_examples import FaultExample, fault_examples
from catalogue.reading.faults import Fault
from catalogue.reading.form import Filling, Form
from catalogue.reading.nodes import write
from catalogue.reading.notes import without_notes
from catalogue.reading.reading import Passage, Reading, read
from catalogue.reading.signs import SIGNS, Sign, help_card
from catalogue.reading.snippets import SNIPPETS, Snippet
from catalogue.reading.voices import fold
from catalogue.reading.words import Word

__all__ = [
    "SIGNS",
    "SNIPPETS",
    "Comparison",
    "Difference",
    "Fault",
    "FaultExample",
    "Filling",
    "Form",
    "Line",
    "Passage",
    "Reading",
    "Sign",
    "Snippet",
    "Stretch",
    "Word",
    "compare",
    "fault_examples",
    "fold",
    "help_card",
    "read",
    "without_notes",
    "write",
]
