"""The name a file comes with: kept as text, so it must be one that every machine can hold."""

from __future__ import annotations

import unicodedata

from catalogue.errors import BadPicture

LONGEST_BYTES = (
    255  # one name in ext4, APFS and NTFS; counted in UTF-8, the strictest of the three
)

# Windows keeps these for devices, with any ending, and forbids these signs.
# Source: Microsoft, "Naming Files, Paths, and Namespaces".
RESERVED = frozenset(
    ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"]
    + [f"{port}{number}" for port in ("COM", "LPT") for number in "0123456789¹²³"]
)
FORBIDDEN_SIGNS = frozenset('<>:"|?*')

# Signs that turn the reading direction, so that "gpj.exe" can look like "exe.jpg".
# Source: Unicode Standard Annex #9, table of explicit directional formatting characters.
TURNING_SIGNS = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)

_REMEDY = "rename the file with letters, figures, spaces, - _ and one dot, then add it again"


def clean_name(name: str) -> str:
    """`name` as it came, when it is a plain file name; refused, never rewritten, otherwise.

    >>> clean_name("back, raking light (2).jpg")
    'back, raking light (2).jpg'
    >>> clean_name("../back.jpg")
    Traceback (most recent call last):
    catalogue.errors.BadPicture: the name '../back.jpg' carries a path
      rename the file with letters, figures, spaces, - _ and one dot, then add it again
    """
    fault = _fault(name)
    if fault:
        # ascii() shows a sign that cannot be seen, or turns the line, by its number
        raise BadPicture(f"the name {_shown(name)} {fault}", remedy=_REMEDY)
    return name


def _shown(name: str) -> str:
    readable = name.isprintable() and len(name) <= 80
    return repr(name) if readable else f"{name[:80]!a}{'...' if len(name) > 80 else ''}"


def _fault(name: str) -> str:
    """What is wrong with `name`; "" when nothing is."""
    if not name.strip(" ."):
        return "is empty" if not name else "is made of dots and spaces only"
    if "/" in name or "\\" in name or (name[1:2] == ":" and name[0].isalpha()):
        return "carries a path"
    for sign in name:
        if sign in TURNING_SIGNS:
            return f"carries a sign that turns the reading direction (U+{ord(sign):04X})"
        if unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp"):
            return f"carries a control sign (U+{ord(sign):04X})"
        if sign in FORBIDDEN_SIGNS:
            return f"carries {sign!r}, which some machines cannot store"
    if name[-1] in " .":
        return "ends in a dot or a space, which some machines drop"
    if name.split(".")[0].rstrip().upper() in RESERVED:
        return "is reserved for a device on some machines"
    if len(name.encode()) > LONGEST_BYTES:
        return f"is longer than {LONGEST_BYTES} bytes"
    return ""
