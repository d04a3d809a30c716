"""Addresses of files by their digest (RFC 6920, "ni"): a file name may say more than it should."""

from __future__ import annotations

import base64

from catalogue.record import Photo


def address_of_picture(photo: Photo) -> str:
    """A picture by the digest of its untouched original, by its name where there is none.

    >>> address_of_picture(Photo(sha256="ab" * 32, file_name="back.jpg"))
    'ni:///sha-256;q6urq6urq6urq6urq6urq6urq6urq6urq6urq6urq6s'
    """
    if photo.sha256 is None:
        return photo.file_name or ""
    return address_of_digest(photo.sha256)


def address_of_digest(sha256: str) -> str:
    """The address of whatever has these bytes, by their digest in hexadecimal figures."""
    digest = base64.urlsafe_b64encode(bytes.fromhex(sha256)).decode().rstrip("=")
    return f"ni:///sha-256;{digest}"
