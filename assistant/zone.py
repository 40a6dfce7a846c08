"""The time zone of this machine, with its clock changes, for a conversation to whom nobody handed a clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo


class SystemZone(tzinfo):
    """The zone that the system keeps, for every date: the system itself is asked, so winter and summer differ.

    `datetime.now().astimezone()` would give today's offset for ever: a meal after the clocks change came out an hour
    wrong.
    """

    def utcoffset(self, moment: datetime | None) -> timedelta | None:
        """The offset at a wall-clock moment; of one that comes twice, the one that its fold names."""
        return None if moment is None else moment.replace(tzinfo=None).astimezone().utcoffset()

    def dst(self, moment: datetime | None) -> timedelta | None:
        """Not told: the system only says the whole offset."""
        return None

    def tzname(self, moment: datetime | None) -> str | None:
        """The system's short name, such as "GMT" or "CET"."""
        return None if moment is None else moment.replace(tzinfo=None).astimezone().tzname()

    def fromutc(self, moment: datetime) -> datetime:
        """The wall-clock moment of a moment given in UTC."""
        local = moment.replace(tzinfo=UTC).astimezone()
        wall = local.replace(tzinfo=self)
        return wall if wall.utcoffset() == local.utcoffset() else wall.replace(fold=1)


HERE = SystemZone()


def here_and_now() -> datetime:
    """The present moment in the zone of this machine."""
    return datetime.now(HERE)
