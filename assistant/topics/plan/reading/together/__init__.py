"""Phrases that say one thing between them: a pound for three people, adults 55, a crew of 8, "25 brisket" after "40% chuck".

Each join looks at the phrases of a line, and puts one in the place of several where it finds its own; the readers after
them never see that it was said in two.
"""

from __future__ import annotations

from msgspec.structs import replace

from assistant.language.sentence import Sentence
from assistant.topics.plan.reading.together import (
    crowds,
    days,
    fats,
    figures,
    heaps,
    larder,
    mix,
    people,
    rest,
    sizes,
    spices,
)

_JOINS = (
    figures.asked_and_denied,
    sizes.rounded_up,
    people.shared,
    people.crew,
    crowds.by_age,
    crowds.by_share,
    crowds.as_many_as,
    crowds.listed_in_order,
    crowds.only_so_many_eat,
    crowds.single,
    people.counted_in_brackets,
    people.counted_after,
    people.others,
    people.we_are,
    days.day_by_day,
    days.so_many_a_day,
    people.by_day,
    people.by_meat,
    people.so_many_of_the_guests,
    rest.some_and_the_rest,
    people.none_for_some,
    people.each_by_sort,
    heaps.from_labels,
    heaps.as_many_as_buns,
    heaps.pieces_of_one_weight,
    heaps.the_other_to_get,
    heaps.so_many_wanted,
    heaps.so_many_a_pound,
    heaps.how_many_of_a_size,
    heaps.what_is_left_of_it,
    figures.bare_length,
    figures.bare_loss,
    figures.served,
    figures.pieces,
    figures.same_amount_of,
    figures.so_many,
    figures.equal_patties,
    figures.to_the_pound,
    figures.batches,
    figures.went_away,
    figures.trimming,
    figures.at_the_next_size,
    figures.after_a_loss,
    figures.clean_weight,
    figures.held_at_once,
    figures.spoken_price,
    figures.in_the_unit_before,
    figures.of_each_size,
    sizes.wanted_at,
    sizes.came_off_at,
    sizes.casings_left_out,
    sizes.size_by_its_part,
    figures.one_of_them_scaled,
    fats.kind_before_its_cuts,
    mix.colons,
    figures.taken_from,
    mix.raised,
    mix.listed_without_commas,
    mix.mix_of_a_kind,
    mix.mix_of_two,
    mix.against_a_label,
    mix.share_of_the_batch,
    mix.so_many_of_each,
    fats.from_one_to_another,
    fats.one_part_in_four,
    fats.name_after_both,
    fats.came_out_at,
    fats.an_hour_that_is_a_fat,
    fats.by_its_last_word,
    fats.heaps_mixed,
    fats.split_in_shares,
    fats.so_many_times_another,
    fats.way_fat,
    fats.how_it_came,
    fats.finished,
    figures.wished_after,
    fats.packs_counted,
    fats.asked_in_percent,
    fats.part_of_the_weight,
    larder.shop_is_out,
    larder.went_for_something_else,
    larder.where_it_was,
    larder.out_of_a_pack,
    larder.left_alone,
    larder.all_that_is_wanted,
    larder.kept_at_its_weight,
    mix.whole_piece,
    mix.mostly,
    mix.fat_after_the_price,
    spices.meat_is_a_hundred,
    spices.down_to_a_part,
    spices.a_part_of_another,
    spices.makes_so_much,
    spices.at_the_rate_before,
    spices.parts_of_the_finished,
    spices.level_spoons,
    spices.a_spoon,
)
"""In the order in which they are tried: people first, for a weight for each of them is no batch's."""


def said_together(sentence: Sentence) -> Sentence:
    """The sentence with such phrases made one."""
    phrases = list(sentence.phrases)
    for join in _JOINS:
        join(phrases, sentence)
    joined = tuple(phrases)
    return sentence if joined == sentence.phrases else replace(sentence, phrases=joined)
