"""Names and addresses of whole labels, as their lines stand; common practice, no source."""

from __future__ import annotations

import pytest

from catalogue.measure import find_addresses, find_names

LABELS = [
    (
        "J. & R. TREWIN\nCARVERS, GILDERS & PICTURE FRAME MAKERS\n17, QUILL STREET, EDINBURGH.\nEstablished 1847.",
        ["J. & R. TREWIN", "17, QUILL STREET, EDINBURGH"],
    ),
    (
        "From WM. PENHALE & SON,\nPrintsellers & Publishers,\n84, Hart Street, Liverpool.\nOld Frames Re-Gilt",
        ["WM. PENHALE & SON", "84, Hart Street, Liverpool"],
    ),
    (
        "Kunsthandlung\nLudwig Trewin Nachf.\nMünchen, Lindenstr. 12\nFernruf 5 12 34\nNr. 4711",
        ["Ludwig Trewin Nachf.", "München, Lindenstr. 12", "5 12 34"],
    ),
    (
        "GALERIE MORVANE\n12, Rue des Lilas - PARIS (8e)\nTél. ÉLY. 12-34\nN° 4217",
        ["GALERIE MORVANE", "12, Rue des Lilas - PARIS (8e)", "8e", "ÉLY. 12-34"],
    ),
    (
        "THE PENHALE GALLERY LTD\n14 Old Quill Street London W1X 4JL\nTelephone 01-629 1234/5\nArtist: J. Quill Title: Low Tide",
        ["THE PENHALE GALLERY LTD", "14 Old Quill Street London W1X 4JL", "W1X 4JL", "01-629 1234/5", "J. Quill"],
    ),
    (
        "Lent by\nThe Hon. Mrs. Penhale\n3 Hart Square, S.W.\nLow Tide, 1887",
        ["The Hon. Mrs. Penhale", "3 Hart Square, S.W.", "S.W."],
    ),
    (
        "J. van der Quill\nLijstenmaker - Vergulder\nKeizersgracht 123 Amsterdam-C.\nTelef. 34567",
        ["J. van der Quill", "Keizersgracht 123 Amsterdam", "34567"],
    ),
    (
        "Trewin & Penhale Inc.\n680 Fifth Avenue, New York 19, N.Y.\nPLaza 7-1234",
        ["Trewin & Penhale Inc.", "680 Fifth Avenue, New York 19, N.Y.", "19, N.Y.", "PLaza 7-1234"],
    ),
    (
        "Collezione Avv. G. Quillano\nVia Manzoni 12\nMILANO",
        ["Avv. G. Quillano", "Via Manzoni 12\nMILANO"],
    ),
    # the same with parts lost: what is left says less, and nothing wrong
    (
        "J. & R. TRE…\nCARVERS, GILDERS & PIC…\n1… QUILL STREET, EDINBURGH.",
        ["QUILL STREET, EDINBURGH"],
    ),
    (
        "GALERIE MOR…\n12, Rue des Li… - PARIS (8…\nTél. ÉLY. 12-3…",
        ["PARIS"],
    ),
    ("Low Tide\nAda Penhale\nNewlyn 1887", ["Newlyn"]),
    ("London Bridge\nAda Penhale", []),
]  # fmt: skip


@pytest.mark.parametrize(("label", "found"), LABELS)
def test_names_and_addresses_of_a_label(label, found):
    finds = sorted(
        [*find_names(label), *find_addresses(label)], key=lambda it: (it.start, -it.end)
    )
    assert [each.written for each in finds] == found
