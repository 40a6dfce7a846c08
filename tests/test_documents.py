"""README.md says what the program says, and names every kind of request."""

from __future__ import annotations

import doctest
import re

import assistant
from assistant import Conversation, session
from assistant.topics import topics
from tests.documents import README, written


def test_readme_parts_are_what_the_program_says() -> None:
    text = README.read_text(encoding="utf-8")
    assert written(text) == text, "run: python -m tests.documents --update"


def test_readme_opens_with_one_paragraph_that_states_the_job() -> None:
    title, paragraph, rest = README.read_text(encoding="utf-8").split("\n\n", 2)
    assert title.startswith("# ")
    assert "grind their own meat" in paragraph
    assert rest.startswith("## Two commands")


def test_ci_calls_the_test_command_of_the_readme() -> None:
    text = README.read_text(encoding="utf-8")
    command = next(line for line in text.splitlines() if "tests.check" in line and "pip" in line)
    assert command in (README.parent / ".ci" / "run").read_text(encoding="utf-8")


def test_every_topic_has_examples_that_it_answers_or_asks_back() -> None:
    for topic in topics():
        assert topic.examples, topic.name
        for example in topic.examples:
            answer = Conversation().ask(example)
            assert answer.status.value != "not_understood", (topic.name, example, answer.message)


def test_python_sample_of_the_readme_runs() -> None:
    text = README.read_text(encoding="utf-8")
    code = re.search(r"```python\n(.*?)```", text, re.DOTALL)
    assert code is not None
    said: list[object] = []
    names: dict[str, object] = {"print": said.append}
    exec(compile(code.group(1), "README.md", "exec"), names)
    assert said[0] == "10 patties of 4 oz (113 g)."
    assert isinstance(said[1], dict)
    assert said[1]["role"] == "component"


def test_docstring_examples_run() -> None:
    for module in (assistant, session):
        assert doctest.testmod(module).failed == 0, module.__name__
