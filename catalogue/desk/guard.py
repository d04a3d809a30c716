"""What keeps strangers out: the key, the hosts that are answered, the headers, the limits."""

from __future__ import annotations

import hashlib
import ipaddress
import os
import secrets
from collections.abc import Iterable
from datetime import timedelta
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

from flask import Flask, Response, request
from flask_wtf.csrf import CSRFProtect
from werkzeug.exceptions import SecurityError

from catalogue.errors import CannotSave

KEY_FILE = "desk.key"
THIS_MACHINE = frozenset({"127.0.0.1", "localhost", "::1"})
FORWARDED = (
    "Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "X-Real-Ip", "Via",
)  # fmt: skip
"""What proxies add to a request that they pass on."""
LARGEST_REQUEST = 300 * 1024 * 1024
LARGEST_FORM = 8 * 1024 * 1024
"""A label has at most 1 MB, which a form may write as three times that, and a page holds two."""

POLICY = "; ".join(
    (
        "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self'",
        "connect-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'",
    )
)  # fmt: skip


def protect(app: Flask, folder: Path, hosts: Iterable[str]) -> None:
    """Set the desk's limits, its cookie and its headers."""
    key = secret(folder)
    app.config.update(
        SECRET_KEY=key,
        MAX_CONTENT_LENGTH=LARGEST_REQUEST,
        MAX_FORM_MEMORY_SIZE=LARGEST_FORM,
        # Cookies know no ports: two studios on one machine must not log each other out.
        SESSION_COOKIE_NAME=f"dorse-{hashlib.sha256(key.encode()).hexdigest()[:8]}",
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_HTTPONLY=True,
        PERMANENT_SESSION_LIFETIME=timedelta(days=365),
        # A page left open over a long lunch must still save.
        WTF_CSRF_TIME_LIMIT=None,
    )
    app.before_request(partial(_refuse_strangers, frozenset(hosts)))
    app.after_request(_headers)


def demand_tokens(app: Flask) -> None:
    """Have every form carry the token of its page; called after whatever must be asked before that."""
    CSRFProtect(app)


def is_of_this_machine() -> bool:
    """Whether a request was made on this machine itself, and passed on by nobody.

    What a proxy says of where a request came from is never believed; it can only make one strange.
    """
    try:
        near = ipaddress.ip_address(request.remote_addr or "").is_loopback
    except ValueError:
        near = False
    return near and not any(request.headers.get(name) for name in FORWARDED)


def secret(folder: Path) -> str:
    """The key that signs this studio's cookies, made at the first start; only its owner may read it."""
    path = folder / KEY_FILE
    try:
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            file.write(secrets.token_hex(32))
    except FileExistsError:
        pass
    except OSError as refused:
        raise CannotSave(
            f"{path}: {refused.strerror}", remedy="check who may write to the studio's folder"
        ) from refused
    return path.read_text("ascii").strip()


def _refuse_strangers(hosts: frozenset[str]) -> None:
    """Raise `SecurityError` for a request under a name that is not this desk's.

    Else a page from elsewhere, whose name was made to lead to this machine, could ask the desk. From
    another machine only the addresses that were printed count, not this machine's names for itself.
    Flask's own setting for this cuts `[::1]` off at its first colon.
    """
    try:
        name = urlsplit(f"//{request.headers.get('Host', '')}").hostname
    except ValueError:
        name = None
    if name not in (hosts | THIS_MACHINE if is_of_this_machine() else hosts - THIS_MACHINE):
        raise SecurityError


def _headers(response: Response) -> Response:
    response.headers.setdefault("Content-Security-Policy", POLICY)
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "same-origin"
    if is_of_this_machine():
        # Over a line that is not encrypted browsers don't heed it, and complain.
        response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    # Pages hold what is confidential: nothing of them stays in a cache on the way.
    response.headers.setdefault("Cache-Control", "private, no-cache")
    if not is_of_this_machine() and _is_a_photograph(response):
        # A tablet keeps none of them after it left the studio; this machine may, they never change.
        response.headers["Cache-Control"] = "private, no-store"
    return response


def _is_a_photograph(response: Response) -> bool:
    """Whether an answer is a picture of the studio's own, and none that pages are drawn with."""
    return (response.mimetype or "").startswith("image/") and request.endpoint != "static"
