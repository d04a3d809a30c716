"""What the codes of a safety data sheet say, in our own words: the rows of vocab/hazard_codes.toml.

Somebody typed the code from the sheet; nothing here works one out.
"""

from __future__ import annotations

import re

from catalogue.errors import BadSetting
from catalogue.places import table

_PLAIN = re.compile(r"[A-Z]+[0-9]+")


def hazard_says(code: str) -> str:
    """What a code means, "" where the file has no words for it; a letter behind a code is left out.

    >>> hazard_says("H360Df"), hazard_says("H999")
    ('may harm fertility or the unborn', '')
    """
    said = _words("hazards")
    plain = _PLAIN.match(code)
    return said.get(code) or (said.get(plain[0], "") if plain else "")


def precaution_says(code: str) -> str:
    """What a precaution means, each of several at once in turn; "" where nothing is known of any.

    >>> precaution_says("P301+P310")
    'if swallowed: call a poison centre or doctor at once'
    """
    said = _words("precautions")
    found = [said[each] for each in code.split("+") if each in said]
    return ": ".join((found[0], ", ".join(found[1:]))) if len(found) > 1 else "".join(found)


def _words(kind: str) -> dict[str, str]:
    try:
        found: dict[str, str] = table("hazard_codes.toml")[kind]
    except KeyError:
        raise BadSetting(f"vocab/hazard_codes.toml has no [{kind}]") from None
    return found
