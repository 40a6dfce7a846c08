"""Mincewise: a kitchen assistant for people who grind their own meat.

>>> from assistant import Conversation
>>> talk = Conversation()
>>> talk.ask("2½ lb of chuck into 4 oz patties").status.value
'answered'
"""

from __future__ import annotations

from typing import Any

__version__ = "0.1.0"
__all__ = ["Answer", "Conversation", "Role", "Status", "__version__", "ask"]


def __getattr__(name: str) -> Any:
    """Public names, loaded when first used: `mincewise --version` must not load the language."""
    if name in ("Conversation", "ask"):
        from assistant import session

        return getattr(session, name)
    if name in ("Answer", "Role", "Status", "Figure", "Caution"):
        from assistant import answer

        return getattr(answer, name)
    raise AttributeError(name)
