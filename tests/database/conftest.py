"""Sessions that several tests of the store share."""

import pytest

from tests.database.whole_record import full, put


@pytest.fixture
def session(database):
    with database.transaction() as opened:
        yield opened


@pytest.fixture
def with_tile(session):
    put(session, full())
    return session
