"""A batch as text for the notebook, and back, exactly: fractions stay fractions, and fields left at their default
are left out, so that a batch saved today still opens when a field is added tomorrow."""

from __future__ import annotations

import json
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from assistant.topics.plan import request as records
from assistant.topics.plan.request import Plan


def plan_to_text(plan: Plan) -> str:
    """The plan as JSON text."""
    return json.dumps(_plain(plan), ensure_ascii=False, sort_keys=True)


def plan_from_text(text: str) -> Plan:
    """The plan of plan_to_text. Raises ValueError where the text is none, or has a field that is not known here."""
    plan = _made(Plan, json.loads(text))
    assert isinstance(plan, Plan)
    return plan


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    if is_dataclass(value):
        defaults = _defaults(type(value)) if not isinstance(value, type) else {}
        said = {field.name: getattr(value, field.name) for field in fields(value)}
        return {name: _plain(part) for name, part in said.items() if part != defaults.get(name, MISSING)}
    return value


@cache
def _defaults(record: type[Any]) -> dict[str, Any]:
    found = {}
    for field in fields(record):
        if field.default is not MISSING:
            found[field.name] = field.default
        elif field.default_factory is not MISSING:
            found[field.name] = field.default_factory()
    return found


@cache
def _types(record: type[Any]) -> dict[str, Any]:
    return get_type_hints(record, vars(records))


def _made(wanted: Any, data: Any) -> Any:
    """The value of a type from its plain form."""
    if get_origin(wanted) in (Union, UnionType):
        (inner,) = (kind for kind in get_args(wanted) if kind is not NoneType)
        return None if data is None else _made(inner, data)
    if get_origin(wanted) is tuple:
        first, second = get_args(wanted)
        kinds = [first] * len(data) if second is ... else [first, second]
        return tuple(_made(kind, part) for kind, part in zip(kinds, data, strict=True))
    if get_origin(wanted) is frozenset:
        return frozenset(data)
    if is_dataclass(wanted):
        types = _types(wanted)  # type: ignore[arg-type]
        if not isinstance(data, dict) or not set(data) <= set(types):
            raise ValueError(f"{wanted} has no {set(data) - set(types)}")
        return wanted(**{name: _made(types[name], part) for name, part in data.items()})  # type: ignore[operator]
    if isinstance(wanted, type) and issubclass(wanted, Fraction | Enum):
        return wanted(data)
    if not isinstance(data, wanted):
        raise ValueError(f"{data!r} is no {wanted.__name__}")
    return data
