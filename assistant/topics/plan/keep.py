"""A batch as text for the notebook, and back, exactly: fractions stay fractions, and fields left at their default
are left out, so that a batch saved today still opens when a field is added tomorrow."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import MsgspecError, json

from assistant.topics.plan.request import Plan


def plan_to_text(plan: Plan) -> str:
    """The plan as JSON text."""
    return json.encode(plan, enc_hook=str, order="deterministic").decode()


def plan_from_text(text: str) -> Plan:
    """The plan of plan_to_text. Raises ValueError where the text is none, or has a field that is not known here."""
    try:
        return json.decode(text, type=Plan, dec_hook=_exact)
    except MsgspecError as fault:
        raise ValueError(str(fault)) from fault


def _exact(kind: type[Any], text: Any) -> Fraction:
    """The one kind of value that JSON does not have: an exact fraction, kept as text."""
    assert kind is Fraction
    if not isinstance(text, str):
        raise ValueError(f"{text!r} is no fraction in words")
    return Fraction(text)
