"""Kitchen timers and the warm clock: plain data, with the time always handed in.

Nothing here reads a clock or writes a file: whoever holds a Clocks asks it what is due at a moment and keeps
what it gives back. Moments must be aware and are kept in UTC: a change to summer time never stretches a timer.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from assistant.errors import BadInput

WARM_LIMIT = timedelta(minutes=120)
"""Meat between 40 and 140 F: two hours in all (USDA FSIS, Danger Zone)."""
HOT_LIMIT = timedelta(minutes=60)
"""The same above 90 F (USDA FSIS, Danger Zone)."""
NEAR_END = timedelta(minutes=10)
"""Before the end of the warm clock: time to get a batch into the fridge (our choice, no source)."""
BETWEEN = " | "
"""Between two clocks in the toolbar."""
LONGEST = timedelta(days=7)
MOST_TIMERS = 50


class Event(StrEnum):
    """What a clock has to say."""

    TIMER_DONE = "timer_done"
    WARM_HALF = "warm_half"
    WARM_NEAR_END = "warm_near_end"
    WARM_OVER = "warm_over"


class Due(Struct, frozen=True):
    """One thing to announce, once. left: time left at that moment (zero or less when over)."""

    event: Event
    name: str
    left: timedelta


class Timer(Struct, frozen=True):
    """A timer. due: when it rings; started: when it was set; paused: since when it stands still; rung: already told."""

    name: str
    started: datetime
    due: datetime
    paused: datetime | None = None
    rung: bool = False

    def left(self, now: datetime) -> timedelta:
        """Time until it rings; below zero when it should have rung already."""
        return self.due - (self.paused or now)


class WarmClock(Struct, frozen=True):
    """Meat out of the fridge since `since`. hot: it is above 90 F around it. told: the warnings already given.

    before: time that it was out earlier, for warm time adds up and cooling does not undo it.
    """

    name: str
    since: datetime
    hot: bool = False
    before: timedelta = timedelta(0)
    told: frozenset[Event] = frozenset()

    @property
    def limit(self) -> timedelta:
        """How long the meat may be out in all."""
        return HOT_LIMIT if self.hot else WARM_LIMIT

    def out(self, now: datetime) -> timedelta:
        """How long the meat has been out in all."""
        return self.before + (now - self.since)

    def left(self, now: datetime) -> timedelta:
        """Time until the limit; below zero when it is over."""
        return self.limit - self.out(now)

    def due(self, now: datetime) -> tuple[Event, ...]:
        """The warnings whose moment has come and that were not given; only the gravest of them.

        The half and the near-end warning of a clock that is already over would say less than the truth.
        """
        left = self.left(now)
        if left < timedelta(0):
            event = Event.WARM_OVER
        elif left <= NEAR_END:
            event = Event.WARM_NEAR_END
        elif left <= self.limit / 2:
            event = Event.WARM_HALF
        else:
            return ()
        return () if event in self.told else (event,)


class Clocks(Struct, frozen=True):
    """All timers and warm clocks of a kitchen, in the order they were set. Every change gives a new Clocks."""

    timers: tuple[Timer, ...] = ()
    warm: tuple[WarmClock, ...] = ()

    # ---- timers

    def start(self, name: str, length: timedelta, now: datetime) -> Clocks:
        """With one more timer.

        Raises BadInput for no name or a name in use, no length or over seven days, and over fifty timers.
        """
        if not timedelta(0) < length <= LONGEST:
            raise BadInput("length", length, "more than nothing and at most seven days")
        if not _key(name):
            raise BadInput("name", name, "a name")
        if self._at(name) is not None:
            raise BadInput("name", name, "a name that no other timer has")
        if len(self.timers) >= MOST_TIMERS:
            raise BadInput("name", name, f"at most {MOST_TIMERS} timers at once")
        return replace(self, timers=(*self.timers, Timer(name, _aware(now), _aware(now) + length)))

    def timer(self, name: str) -> Timer:
        """The timer of this name, whatever its case and blanks. Raises BadInput where there is none."""
        return self.timers[self._found(name)]

    def pause(self, name: str, now: datetime) -> Clocks:
        """With the timer standing still; one that stands still already stays as it is."""
        timer = self.timer(name)
        return self if timer.paused else self._with(name, replace(timer, paused=_aware(now)))

    def resume(self, name: str, now: datetime) -> Clocks:
        """With the timer running again, its end put off by the time that it stood still."""
        timer = self.timer(name)
        if timer.paused is None:
            return self
        return self._with(name, replace(timer, due=timer.due + (_aware(now) - timer.paused), paused=None))

    def lengthen(self, name: str, more: timedelta, now: datetime) -> Clocks:
        """With more time on a timer; one that is done already rings again that long from now.

        Raises BadInput where there is none of that name, and where it would run for more than seven days.
        """
        timer = self.timer(name)
        due = max(timer.due, timer.paused or _aware(now)) + more
        if not timedelta(0) < more <= LONGEST or due - _aware(now) > LONGEST:
            raise BadInput("length", more, "more than nothing, and no timer longer than seven days")
        return self._with(name, replace(timer, due=due, rung=False))

    def cancel(self, name: str) -> Clocks:
        """Without the timer. Raises BadInput where there is none."""
        place = self._found(name)
        return replace(self, timers=self.timers[:place] + self.timers[place + 1 :])

    def free_name(self, wanted: str = "timer") -> str:
        """The name itself, or with the first number that makes it unlike all others."""
        name, number = wanted, 1
        while self._at(name) is not None:
            number += 1
            name = f"{wanted} {number}"
        return name

    # ---- the warm clock

    def take_out(self, name: str, now: datetime, hot: bool = False, before: timedelta = timedelta(0)) -> Clocks:
        """With the warm clock running for this meat; one that runs under this name already is replaced."""
        if before < timedelta(0):
            raise BadInput("before", before, "no less than nothing")
        return replace(self, warm=(*self._other_warm(name), WarmClock(name, _aware(now), hot, before)))

    def put_back(self, name: str) -> Clocks:
        """Without the warm clock of this name. Raises BadInput where there is none."""
        others = self._other_warm(name)
        if len(others) == len(self.warm):
            raise BadInput("name", name, _one_of([clock.name for clock in self.warm]))
        return replace(self, warm=others)

    # ---- what is due

    def due(self, now: datetime) -> tuple[Clocks, tuple[Due, ...]]:
        """What to announce now, timers first, and the clocks as they stand once it has been said."""
        said = [Due(Event.TIMER_DONE, timer.name, timer.left(now)) for timer in self.timers if _rings(timer, now)]
        said += [Due(event, clock.name, clock.left(now)) for clock in self.warm for event in clock.due(now)]
        timers = tuple(replace(timer, rung=True) if _rings(timer, now) else timer for timer in self.timers)
        warm = tuple(replace(clock, told=clock.told | set(clock.due(now))) for clock in self.warm)
        return Clocks(timers, warm), tuple(said)

    def told_as(self, before: Clocks) -> Clocks:
        """These clocks, knowing of what was announced already by the same ones (same name, same times) of before."""
        rung = {(timer.name, timer.due) for timer in before.timers if timer.rung}
        told = {(clock.name, clock.since - clock.before): clock.told for clock in before.warm}
        return Clocks(
            tuple(replace(timer, rung=(timer.name, timer.due) in rung) for timer in self.timers),
            tuple(
                replace(clock, told=told.get((clock.name, clock.since - clock.before), clock.told))
                for clock in self.warm
            ),
        )

    def _at(self, name: str) -> int | None:
        return next((place for place, timer in enumerate(self.timers) if _key(timer.name) == _key(name)), None)

    def _found(self, name: str) -> int:
        place = self._at(name)
        if place is None:
            raise BadInput("name", name, _one_of([timer.name for timer in self.timers]))
        return place

    def _with(self, name: str, timer: Timer) -> Clocks:
        place = self._found(name)
        return replace(self, timers=(*self.timers[:place], timer, *self.timers[place + 1 :]))

    def _other_warm(self, name: str) -> tuple[WarmClock, ...]:
        return tuple(clock for clock in self.warm if _key(clock.name) != _key(name))


def toolbar(clocks: Clocks, now: datetime) -> str:
    """All clocks on one line, the most pressing first, such as "rest 4:59 | meat out 35 min, 85 left"."""
    timers = sorted(clocks.timers, key=lambda timer: timer.left(now))
    warm = sorted(clocks.warm, key=lambda clock: clock.left(now))
    return BETWEEN.join([*(_timer_line(timer, now) for timer in timers), *(_warm_line(clock, now) for clock in warm)])


def announcement(due: Due) -> str:
    """What is due, in a sentence that begins with a word that says what it is."""
    minutes = max(round(due.left / timedelta(minutes=1)), 0)
    ago = int(-due.left / timedelta(minutes=1))
    since = f", {ago // 60} h {ago % 60} min ago" if ago >= 60 else f", {ago} min ago" if ago else ""
    return {
        Event.TIMER_DONE: f"Timer: {due.name} done{since}.",
        Event.WARM_HALF: f"Safety: {due.name}, half of its time out of the fridge is gone; {minutes} minutes are left.",
        Event.WARM_NEAR_END: f"Safety: {due.name}, {minutes} minutes left; back into the fridge now.",
        Event.WARM_OVER: f"Safety: {due.name}, out too long. Do not eat it; throw it away.",
    }[due.event]


def countdown(left: timedelta) -> str:
    """Time left as 1:05:09 or 4:59; 0:00 when it is over. Part of a second counts as a whole one."""
    seconds = max(-(-left // timedelta(seconds=1)), 0)
    hours, minutes = seconds // 3600, seconds // 60 % 60
    return f"{hours}:{minutes:02}:{seconds % 60:02}" if hours else f"{minutes}:{seconds % 60:02}"


def _timer_line(timer: Timer, now: datetime) -> str:
    if timer.paused:
        return f"{timer.name} {countdown(timer.left(now))} (paused)"
    return f"{timer.name} {countdown(timer.left(now))}" if timer.left(now) > timedelta(0) else f"{timer.name} done"


def _warm_line(clock: WarmClock, now: datetime) -> str:
    out, left = (int(span / timedelta(minutes=1)) for span in (clock.out(now), clock.left(now)))
    return f"{clock.name} out {out} min, " + (f"{left} left" if clock.left(now) >= timedelta(0) else "TOO LONG")


def _rings(timer: Timer, now: datetime) -> bool:
    return not timer.rung and timer.paused is None and timer.left(now) <= timedelta(0)


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def _one_of(names: list[str]) -> str:
    return f"one of {', '.join(names)}" if names else "a clock that is running; none is"


def _aware(now: datetime) -> datetime:
    if now.utcoffset() is None:
        raise BadInput("now", now, "a moment with its time zone")
    return now.astimezone(UTC)
