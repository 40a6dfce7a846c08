"""A batch goes into the notebook and comes out as it was."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.topics.plan.keep import plan_from_text, plan_to_text
from assistant.topics.plan.request import Item, Plan

st.register_type_strategy(Fraction, st.fractions(max_denominator=1000))
PLANS = st.builds(
    Plan,
    items=st.lists(st.from_type(Item), max_size=3).map(tuple),
)


@settings(max_examples=60, deadline=None)
@given(st.one_of(PLANS, st.from_type(Plan)))
def test_a_plan_comes_back_as_it_was(plan: Plan) -> None:
    assert plan_from_text(plan_to_text(plan)) == plan


def test_fields_at_their_default_take_no_room() -> None:
    assert plan_to_text(Plan()) == "{}"


@pytest.mark.parametrize("text", ["[]", '{"wine": "red"}', '{"wish": 3}', '{"target": "x"}', "no json"])
def test_what_is_no_plan_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        plan_from_text(text)
