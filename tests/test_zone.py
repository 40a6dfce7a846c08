"""The zone of this machine: the same moments as the zone database gives, winter and summer, twice and never."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.zone import HERE, here_and_now

NAMES = ("Europe/London", "America/New_York", "Australia/Sydney", "UTC")


@contextmanager
def machine_in(name: str) -> Iterator[ZoneInfo]:
    """This machine, set to a zone for a while."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TZ", name)
        time.tzset()
        yield ZoneInfo(name)
    time.tzset()


@settings(max_examples=200)
@given(st.sampled_from(NAMES), st.datetimes(datetime(2020, 1, 1), datetime(2036, 12, 31)))
def test_moments_are_those_of_the_zone_database(name: str, moment: datetime) -> None:
    given_in_utc = moment.replace(tzinfo=UTC)
    with machine_in(name) as zone:
        here, there = given_in_utc.astimezone(HERE), given_in_utc.astimezone(zone)
        assert here.replace(tzinfo=None) == there.replace(tzinfo=None)
        assert here.utcoffset() == there.utcoffset()
        assert here.astimezone(UTC) == given_in_utc


def test_the_hour_that_comes_twice_is_told_apart() -> None:
    """London, 25 October 2026: the clocks go back at 2 am."""
    with machine_in("Europe/London"):
        first = datetime(2026, 10, 25, 0, 30, tzinfo=UTC).astimezone(HERE)
        second = datetime(2026, 10, 25, 1, 30, tzinfo=UTC).astimezone(HERE)
        assert first.replace(tzinfo=None, fold=0) == second.replace(tzinfo=None, fold=0)
        assert (first.fold, second.fold) == (0, 1)
        assert (first.utcoffset(), second.utcoffset()) == (timedelta(hours=1), timedelta(0))


def test_now_is_now() -> None:
    assert abs(here_and_now() - datetime.now(UTC)) < timedelta(minutes=1)
    assert here_and_now().tzinfo is HERE
