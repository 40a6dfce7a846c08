"""Rules without a number to judge: what a line must name, what is said, and which reminders go with it."""

from __future__ import annotations

from msgspec import Struct


class Ruling(Struct, frozen=True):
    """One rule. needs: every group must have one of its cues in the line. says: the headline ({mark}: the temperature
    of the meat; {whose}: the meat). because: the reason. touches: topics of the reminders. heat: the cooking
    temperature is among the figures. book: keys of figures and temperatures of the safety file that it states."""

    key: str
    needs: tuple[tuple[str, ...], ...]
    says: str
    because: str
    touches: tuple[str, ...]
    heat: bool = False
    book: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    source: str = "USDA FSIS"


FROZEN_WORM = "freezing against the worm of pork"

RULINGS = (
    Ruling(
        "a steak and a burger",
        (("why",), ("rare", "pink"), ("whole beside ground",)),
        "A steak has its germs on the outside, where the heat is; grinding carries them all through. A burger needs {mark}.",
        "The inside of a whole piece was never touched. Minced, every crumb has been an outside.",
        ("cook_temperature",),
        heat=True,
    ),
    Ruling(
        "part-cooking",
        (("part_cook",),),
        "No: never part-cook ground meat for later. Cook it without a break, at once, to {mark}.",
        "Half-cooked meat stays warm for hours without being hot enough, and germs grow in it.",
        ("part_cook", "cook_temperature"),
        heat=True,
        source="USDA; NDSU Extension",
    ),
    Ruling(
        "children at the grinder",
        (("at risk", "child"), ("in_grinder",)),
        "No, not alone: children at the grinder only with an adult beside them, and the adult does the feeding.",
        "The worm and the knife do not stop for a hand.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "a cut hand",
        (("cut_myself",),),
        "No, not the meat that blood or a lost plaster may have got on: throw it away, and wash and sanitise what it touched.",
        "Clean the cut and cover it, with a glove over the dressing, before you touch food again. A deep cut: see a doctor.",
        ("cross_contamination",),
        source="FDA Food Code 3-701.11 and 2-401.13 (from memory)",
    ),
    Ruling(
        "fingers in the grinder",
        (("fingers", "feed"),),
        "No: never fingers or a spoon in the feed tube. Use the pusher, and switch off and unplug before you clear it.",
        "The worm pulls in whatever touches it. Colder, smaller cubes feed without force.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "hands in the grinder",
        (("hands",), ("in_grinder", "jam")),
        "No: never hands or a spoon in the feed tube. Use the pusher, and switch off and unplug before you clear it.",
        "The worm pulls in whatever touches it. Colder, smaller cubes feed without force.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "a jam",
        (("jam",),),
        "Switch off and unplug it first. Try reverse, then open it; lift the knife by its hub.",
        "Sinew round the knife and warm fat are the usual causes: trim, chill, and start again.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "what not to grind",
        (("not_for_grinder",),),
        "No, unless the machine is built for it: keep bone, skin, sinew and frozen-solid meat out. Half-frozen cubes are right.",
        "They blunt the knife, stall the motor and leave splinters; take a knife to the sinew first.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "metal in the meat",
        (("metal",), ("mix", "in_grinder", "raw", "fat")),
        "No: stop and unplug, and throw away the meat that may have metal in it. Never pick it out and go on.",
        "Look at knife and plate: they rub when the ring is loose or they do not belong together.",
        ("grinder_hands",),
        source="common practice, no source",
    ),
    Ruling(
        "washing meat",
        (("wash_meat",),),
        "No: do not wash or rinse raw meat. Only cooking it to {mark} makes it safe.",
        "The splash spreads what is on it over sink, taps and tools.",
        ("cross_contamination", "cook_temperature"),
        heat=True,
        source="USDA (from memory)",
    ),
    Ruling(
        "mixing bleach",
        (("bad mix",),),
        "No: never mix bleach with an acid such as vinegar or lemon, or with ammonia. It gives off a poisonous gas.",
        "Soap and hot water first, rinse, then plain bleach in water alone: 1 tablespoon to a US gallon.",
        ("clean_grinder",),
        source="household chemistry (from memory)",
    ),
    Ruling(
        "a dirty grinder",
        (("leave_dirty",),),
        "No: clean the grinder at once. Take it apart and wash it, then sanitise and air dry it.",
        "Meat left in the head is out in the warm: past 2 hours it can spoil the next batch.",
        ("clean_grinder",),
        book=("out_of_fridge",),
    ),
    Ruling(
        "the dishwasher",
        (("dishwasher",),),
        "No, not most metal grinder heads: wash them by hand in hot soapy water, dry at once and oil lightly.",
        "Bare metal rusts and dulls there; plastic parts only where the maker says so.",
        ("clean_grinder",),
        source="common practice, no source",
    ),
    Ruling(
        "one meat after another",
        (("between_meats",),),
        "Grind red meat first and poultry last, or wash and sanitise the grinder between them.",
        "What stays in the head goes into the next batch, which is then cooked as poultry.",
        ("clean_grinder", "cross_contamination"),
        source="common practice, no source",
    ),
    Ruling(
        "washing hands",
        (("wash_hands",),),
        "Wash hands with soap for 20 seconds before and after raw meat, gloves or no gloves.",
        "Hands carry it to taps, handles and food.",
        ("cross_contamination",),
        book=("handwash",),
    ),
    Ruling(
        "canning",
        (("canning",),),
        "No canning times from here: meat needs a pressure canner and a tested guide.",
        "Guessed times can leave the germ of botulism alive.",
        ("canning",),
        source="rule of this assistant",
    ),
    Ruling(
        "shelves",
        (("shelf",),),
        "Keep raw meat on the lowest shelf, in a dish that holds its juice, below food that is ready to eat.",
        "What drips lands on what is never cooked again. Throw away ready food that it dripped on.",
        ("cross_contamination",),
        source="USDA",
    ),
    Ruling(
        "plates and boards",
        (("same_plate",),),
        "No shared plates, boards or tongs: cooked patties never go back where raw meat was. Use clean ones.",
        "Raw juice on a cooked burger undoes the cooking.",
        ("cross_contamination",),
        source="USDA",
    ),
    Ruling(
        "cleaning the grinder",
        (("clean",),),
        "Take the grinder apart at once, wash it in hot soapy water, sanitise, rinse and air dry.",
        "Sanitiser: 1 tablespoon of plain bleach in a US gallon of water; never mix it with an acid or with ammonia.",
        ("clean_grinder",),
        steps=(
            "Unplug it and take it apart.",
            "Rinse, brush in hot soapy water, rinse again.",
            "Flood with sanitiser, wait a few minutes, rinse.",
            "Let it air dry; oil bare metal lightly.",
        ),
    ),
    Ruling(
        "ill after a meal",
        (("ill_now",),),
        "Ask a doctor or your health line now, and say what was eaten and when. Keep what is left of it, cold and apart.",
        "At once for blood in the stool, high fever, a small child, pregnancy, age or a weak immune system.",
        ("at_risk",),
        source="general medical advice (from memory)",
    ),
    Ruling(
        "eaten already",
        (("swallowed",), ("raw", "raw_eating", "pink", "rare", "mix")),
        "Most people stay well, but watch for fever, cramps, vomiting and above all bloody diarrhoea over the next 10 days.",
        "Ask a doctor or health line at the first sign, and right away for a small child, in pregnancy or in illness.",
        ("at_risk", "raw_service"),
        source="general medical advice (from memory)",
    ),
    Ruling(
        "curing, drying and fermenting",
        (("drying",),),
        "I give no procedure for dried, cured or fermented meat: take a tested recipe and weigh it, or leave it to a "
        "licensed maker. {Whose} has to reach {mark} before it dries.",
        "Drying, smoke and salt alone leave germs alive, and a guessed dose of nitrite is poison.",
        ("curing_salt", "cook_temperature"),
        heat=True,
        source="USDA FSIS on jerky (from memory); rule of this assistant",
    ),
    Ruling(
        "frozen in the slow cooker",
        (("slow_cooker",), ("starts frozen",)),
        "No: never start frozen meat in a slow cooker. Thaw it first, then it is done at {mark}.",
        "Frozen meat warms too slowly there.",
        ("cook_temperature", "keep_cold"),
        heat=True,
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "the slow cooker",
        (("slow_cooker",),),
        "Only thawed meat goes in the slow cooker, and it is done at {mark}. Never start it from frozen.",
        "Frozen meat warms too slowly there.",
        ("cook_temperature", "keep_cold"),
        heat=True,
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "raw meat to eat",
        (("raw_eating",),),
        "No: {whose} is not safe to eat or taste raw. Cook it to {mark}; fry a pinch to taste the seasoning.",
        "Grinding carries what was on the surface all through it; no cut, butcher or freezer changes that.",
        ("raw_service", "cook_temperature"),
        heat=True,
    ),
    Ruling(
        "marinades",
        (("marinade",),),
        "Marinate in the fridge at {fridge} or colder, never on the counter, and throw away what raw meat lay in.",
        "Acid and salt kill too little to count on; the meat still needs {mark}.",
        ("keep_cold", "cook_temperature"),
        heat=True,
        book=("fridge_max",),
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "holding hot",
        (("hold_hot",),),
        "Hold cooked patties at {hold} or hotter. If you cannot, chill them within 2 hours, 1 hour above 90 °F (32 °C).",
        "Below that germs grow again, also in meat that was done.",
        ("hold_hot", "cook_temperature"),
        book=("hot_hold", "out_of_fridge", "out_of_fridge_hot_day"),
    ),
    Ruling(
        FROZEN_WORM,
        (("worm",), ("freezer",)),
        "Cook it to {mark}: that kills the worm (Trichinella) in any meat. Freezing kills it in farmed pork only, never in game.",
        "For pork the US rule once asked {frozen}; it was dropped, so it is a record and no leave to cook less.",
        ("cook_temperature",),
        heat=True,
        source="9 CFR 318.10 (2000 text, since dropped); USDA FSIS",
    ),
    Ruling(
        "freezing against germs",
        (("germs",), ("freezer",)),
        "No: freezing does not make meat safe. It stops germs growing and kills few; cook it to {mark}.",
        "Wild game can carry a worm that lives through the freezer.",
        ("cook_temperature", "raw_pork_game"),
        heat=True,
    ),
    Ruling(
        "germs",
        (("germs",),),
        "Cooking to {mark} kills them; look, smell and freezing tell or change nothing.",
        "Keep raw meat cold and apart until then.",
        ("cook_temperature", "keep_cold", "cross_contamination"),
        heat=True,
    ),
    Ruling(
        "rare or pink",
        (("rare",),),
        "No: {whose} is never safe rare or pink. Cook it to {mark}.",
        "Grinding carries what was on the surface into the middle. A steak differs; a burger made from it does not.",
        ("cook_temperature", "raw_service", "at_risk"),
        heat=True,
    ),
    Ruling(
        "pink",
        (("pink",),),
        "No, not by colour: pink or not, {whose} is done only at {mark} by thermometer.",
        "It can turn brown before it is safe and stay pink after; bacon, smoke and freezing change it too.",
        ("cook_temperature", "colour", "thermometer"),
        heat=True,
    ),
    Ruling(
        "colour of raw meat",
        (("brown",), ("fridge", "freezer", "raw", "pack", "smell", "raw look")),
        "Colour does not decide: raw meat can turn brown or grey within its days. Go by 1 to 2 days at {fridge} or colder.",
        "Air does that to it. Slimy, sour or older than its days: throw it away.",
        ("storage", "smell"),
        book=("fridge_max",),
        source="FoodSafety.gov Cold Food Storage Chart; on colour USDA (from memory)",
    ),
    Ruling(
        "brown",
        (("brown",),),
        "No: colour, juices and feel do not show it: {whose} is done only at {mark} by thermometer.",
        "About 1 burger in 4 turns brown before it is safe.",
        ("cook_temperature", "colour", "thermometer"),
        heat=True,
        source="USDA FSIS; Clemson Extension",
    ),
    Ruling(
        "meat that came warm",
        (("arrived_warm",),),
        "No: do not use it if it is warmer than {fridge}, as nobody knows for how long. Tell the seller and throw it away.",
        "Past 2 hours above that, cooking does not undo it.",
        ("keep_cold",),
        book=("fridge_max", "out_of_fridge"),
    ),
    Ruling(
        "sanitising with vinegar",
        (("sour sanitiser",),),
        "No: vinegar and lemon do not sanitise well enough for raw meat. Use 1 tablespoon of plain bleach in a US gallon of water.",
        "Never mix the two: bleach with an acid gives off a poisonous gas.",
        ("clean_grinder",),
        source="USDA FSIS; on vinegar from memory",
    ),
    Ruling(
        "a swollen pack",
        (("swollen",),),
        "No: throw it away unopened. Gas in a pack comes from germs, and no cooking mends that.",
        "Wash what it touched.",
        ("smell", "cross_contamination"),
        source="general food-safety advice (from memory)",
    ),
    Ruling(
        "freezer burn",
        (("freezer_burn",),),
        "Yes: freezer burn is dry, not unsafe. Cut the grey edges away; the taste suffers, the safety does not.",
        "That holds for meat that stayed frozen hard. It still needs {mark}.",
        ("storage", "cook_temperature"),
        heat=True,
        source="USDA FSIS (from memory)",
    ),
    Ruling(
        "a bad smell",
        (("bad smell",),),
        "No: throw it away. Sour, slimy or off is past saving, and cooking does not undo it.",
        "The other way round counts too: meat that smells fine may still be unsafe.",
        ("smell", "storage"),
    ),
    Ruling(
        "smell",
        (("smell",),),
        "No: smell and look do not show that it is safe. Go by 1 to 2 days at {fridge} or colder and 2 hours out in all.",
        "The germs that make people ill have no smell. If it does smell off, throw it away.",
        ("smell", "storage", "keep_cold"),
        book=("fridge_max", "out_of_fridge"),
    ),
    Ruling(
        "the danger zone",
        (("danger_zone",),),
        "Between {low} and {high} germs double in about 20 minutes: 2 hours out in all, 1 hour above 90 °F (32 °C).",
        "The hours add up over shopping, cutting, grinding and forming.",
        ("keep_cold",),
        book=("danger_low", "danger_high", "out_of_fridge", "out_of_fridge_hot_day"),
    ),
    Ruling(
        "ground at home",
        (("home_ground",),),
        "No exception: meat you grind yourself, from any farm or butcher, needs {mark} too.",
        "A clean-looking piece can carry germs on its surface, and grinding spreads them.",
        ("cook_temperature", "raw_service"),
        heat=True,
    ),
    Ruling(
        "selling",
        (("selling",),),
        "Ask your health department: for selling or serving the public a licensed kitchen's local rules decide.",
        "At home {whose} needs {mark}.",
        ("local_rules", "cook_temperature"),
        heat=True,
        source="FDA Food Code",
    ),
    Ruling(
        "guests at risk",
        (("at risk",),),
        "Yes, if it is cooked to {mark} and never pink: {whose} has no gentler figure for anyone.",
        "Small children, pregnancy, age and illness make an infection far worse, so measure every patty.",
        ("at_risk", "cook_temperature", "thermometer"),
        heat=True,
        source="FoodSafety.gov; FDA",
    ),
    Ruling(
        "the rules",
        (("pressure",),),
        "The safe figures stay as they are: {mark}, and 2 hours out of the fridge in all.",
        "They do not depend on who asks.",
        ("cook_temperature", "keep_cold"),
        heat=True,
        book=("out_of_fridge",),
    ),
)
WITHOUT_A_QUESTION = frozenset(
    (
        "part-cooking",
        "fingers in the grinder",
        "hands in the grinder",
        "a jam",
        "washing meat",
        "a dirty grinder",
        "a bad smell",
        "metal in the meat",
        "a swollen pack",
        "meat that came warm",
        "sanitising with vinegar",
        "what not to grind",
        "ill after a meal",
        "one meat after another",
    )
    + ("raw meat to eat", "rare or pink", "pink", "the rules", "plates and boards", "canning", "washing hands")
)
"""Rulings that a line calls for by naming the thing, question or not."""
HAZARDS = frozenset(
    ("part-cooking", "fingers in the grinder", "hands in the grinder", "mixing bleach", "a dirty grinder")
    + ("metal in the meat", "ill after a meal", "raw meat to eat", "frozen in the slow cooker", "meat that came warm")
)
"""Rulings that come before whatever else a line may be about."""


BROAD = frozenset({"the rules", "guests at risk", "ground at home", "selling"})
"""Rulings for what a line says in passing: only where it asks something and nothing else in it decides."""
