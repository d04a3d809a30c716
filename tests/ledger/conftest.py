from __future__ import annotations

import pytest

from catalogue.ledger import Ledger


@pytest.fixture
def ledger():
    with Ledger.create(None, zone="Europe/Vienna") as passing:
        yield passing


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "studio"
