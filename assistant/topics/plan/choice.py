"""A line that may mean two batches: the question, and the batch that each short reply makes."""

from __future__ import annotations

from msgspec import Struct

from assistant.language.sentence import Sentence
from assistant.topics.plan.request import Plan


class Option(Struct, frozen=True):
    """One thing that a line may have meant: words: what a reply would name it by."""

    label: str
    words: frozenset[str]
    plan: Plan


class Choice(Struct, frozen=True):
    """A question with the batches that its answers make."""

    question: str
    options: tuple[Option, ...]

    def chosen(self, sentence: Sentence) -> Plan | None:
        """The batch that a short reply chooses: by a word of it, or "the first", "the second"."""
        # a point inside a figure stays: "1.8%"
        said = {word.strip(",.;!?") for word in sentence.text.lower().split()}
        for place, word in enumerate(("first", "second", "third")):
            if word in said and place < len(self.options):
                return self.options[place].plan
        no = sentence.cue("not")
        if no is not None and no.text.lower().startswith("not") and len(self.options) == 2:
            # "not the salt" is the other one
            others = [option for option in self.options if not option.words & said]
            return others[0].plan if len(others) == 1 else None
        fitting = [option for option in self.options if option.words & said]
        best = max((len(option.words & said) for option in fitting), default=0)
        fitting = [option for option in fitting if len(option.words & said) == best]
        return fitting[0].plan if len(fitting) == 1 else None
