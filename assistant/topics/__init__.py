"""The kinds of request, one line each. Order settles ties: the earlier topic wins."""

from __future__ import annotations

from functools import cache

from assistant.topics.base import Topic


@cache
def topics() -> tuple[Topic, ...]:
    """Every topic. Imported late, so that a helper module never pulls in all of them."""
    from assistant.topics import plan, talk_topics

    return (*talk_topics.TOPICS, plan.TOPIC)
