"""What every room's tests share."""

from __future__ import annotations

import pytest
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.studio import Studio


def pytest_addoption(parser):
    parser.addoption(
        "--rewrite-golden",
        action="store_true",
        help="accept today's exports as the golden ones",
    )


@pytest.fixture
def empty_studio():
    with Studio.open("memory:") as studio:
        yield studio


@pytest.fixture
def studio(empty_studio):
    """A studio with one full work, its artist, a client and a commission."""
    work = full_work()
    for record in (ARTIST, CLIENT, work, full_job(work)):
        empty_studio.save(record, who=WHO)
    return empty_studio
