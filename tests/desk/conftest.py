"""A desk over a passing studio."""

from __future__ import annotations

import pytest
from desk_studio import Desk, filled

from catalogue.desk import create_app
from catalogue.studio import Studio


@pytest.fixture
def desk():
    with Studio.open("memory:") as studio:
        ids = filled(studio)
        app = create_app(studio)
        yield Desk(studio=studio, app=app, client=app.test_client(), **ids)
