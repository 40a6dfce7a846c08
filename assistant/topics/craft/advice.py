"""What cooks ask about the handiwork, and what is said: rules of the trade without a figure to work out.

None of it has a published source; every row is common practice and says so when it is told.
"""

from __future__ import annotations

from msgspec import Struct

from assistant.pattern import Pattern

SOURCE = "common practice, no source"
DRIPS = "Why thawed meat drips"
LABEL = "What goes on a label"
"""With a batch on the table, its own labels are meant."""
_PATTIES = r"(?:burgers?|patt(?:y|ies)|hamburgers?|meatballs?|mix(?:ture)?|meat|mince|they|them|it|these|those)"
_GRILL = r"(?:grill|grate|pan|skillet|griddle|bbq|barbecue|barbie|hot ?plate|flat ?top|bars)"


class Advice(Struct, frozen=True):
    """One piece of it. about: what was understood. asks: the words that ask for it. says: the headline. because: the
    reason. touches: topics of the reminders that go with it."""

    about: str
    asks: Pattern
    says: str
    because: str
    touches: tuple[str, ...]


ADVICE = (
    Advice(
        "Whether paper goes between patties",
        Pattern(
            r"\b(?:paper|parchment|waxed|greaseproof|cling ?film|plastic wrap|baking sheets?)\b.*\b(?:between|patt(?:y|ies)|burgers?)\b"
            r"|\b(?:between|stack\w*)\b.*\b(?:paper|parchment|greaseproof|cling ?film|plastic wrap)\b"
            r"|\bkeep (?:the |my )?(?:patties|burgers) from (?:sticking|freezing) (?:to each other|together)\b"
        ),
        "Yes: a square of baking paper between any two, two where they go to the freezer, so they come apart with one hand.",
        "Freeze them in one layer first, then stack and wrap them: flat patties freeze faster and keep their shape.",
        ("keep_cold", "storage"),
    ),
    Advice(
        LABEL,
        Pattern(
            r"\b(?:how|what) (?:do|should|to|shall|must|goes|would|can|is|belongs)\b.*\b(?:label\w*|write on|(?:put|goes|go|belongs) on (?:the |a |my |each )?(?:labels?|bags?|packs?))\b"
            r"|\b(?:do|should|must) (?:i|we) label\b"
        ),
        "On each pack: what meat it is, lean to fat, the weight, the day it was ground and the day to use it by.",
        "Add what is mixed in (salt, cheese, nuts) for guests with allergies. For a batch on the table, ask for its labels.",
        ("storage", "allergen"),
    ),
    Advice(
        "Why patties fall apart",
        Pattern(
            rf"\b(?:fall(?:s|ing)?|fell|break(?:s|ing)?|broke|com(?:e|es|ing)) (?:apart|up|to bits|to pieces)\b.*"
            rf"|\b(?:crumbl\w+)\b(?=.*\b{_GRILL}\b)|\b(?:{_PATTIES}|keeps?|why|so|too|all) (?:is |are |keeps? |just |always )?crumb(?:ly|l\w+)\b"
            r"|\b(?:wont|won't|dont|don't|doesnt|doesn't|not|never|will not|do not) (?:hold|stick|stay|bind) (?:together|its shape|their shape)\b"
            r"|\b(?:hold|stay|bind|stick) (?:\w+ )?together better\b|\bhow do \w+ (?:get|make) (?:\w+ )*(?:hold|stay|stick) together\b"
        ),
        "Press them together a little more, chill them 20 to 30 min before cooking, and turn them once, when they let go.",
        "Very lean meat, one coarse pass and warm meat hold least: try 80/20 and a second pass through a finer plate.",
        ("cook_temperature",),
    ),
    Advice(
        "Why patties puff up in the middle",
        Pattern(
            r"\b(?:puff\w*|dom(?:e|es|ed|ing)|bulg\w+|swell\w*|ball(?:s|ing)? up|turn(?:s|ing)? into (?:meat)?balls?|curl\w*|cup(?:s|ping)? up)\b"
            r"|\b(?:dimple|dent|thumb ?print|well|indent\w*) in (?:the |my |each |every |a )?(?:middle|cent(?:re|er)|patt(?:y|ies)|burgers?|them)\b"
            r"|\bdimples?\b"
        ),
        "Press a shallow dimple into the middle of each raw patty, about as wide as a third of it, and make it wider than the bun.",
        "The rim firms and draws in before the middle, which pushes the middle up. Fat, heat and thickness add to it.",
        ("cook_temperature",),
    ),
    Advice(
        "Why burgers turn out tough or rubbery",
        Pattern(
            rf"\b(?:{_PATTIES}|why|so|too|bit|came out|come out|turn out|turned out|kinda|really) (?:\w+ ){{0,3}}(?:tough|rubbery|chewy|springy|dense|bouncy|like rubber|hard)\b"
            r"|\b(?:rubbery|springy|bouncy|chewy) (?:burgers?|patt(?:y|ies)|texture)\b"
        ),
        "Salt only the outside, just before cooking; mix by hand as little as it takes, cold, and press no harder than it needs.",
        "Salt inside and long mixing draw out the protein that binds sausage. Sinew left in makes it chewy too: trim it.",
        ("cook_temperature",),
    ),
    Advice(
        "Why burgers turn out dry",
        Pattern(
            rf"\b(?:{_PATTIES}|why|so|too|bit|came out|come out|turn out|turned out|kinda|really) (?:\w+ ){{0,3}}dry\b|\bdry (?:burgers?|patt(?:y|ies))\b"
            r"|\bdried out\b|\bkeep (?:them|burgers|patties|it) (?:juicy|moist)\b|\bhow do \w+ (?:get|make) (?:\w+ ){0,3}juicy\b|\b(?:more juicy|juicier)\b"
        ),
        "Use fatter meat (80/20 rather than 90/10), never press them, and take them off as the thermometer reads done.",
        "Lean meat has little to lose; past the safe reading every degree drives out more juice.",
        ("cook_temperature", "thermometer"),
    ),
    Advice(
        "Whether to press burgers while they cook",
        Pattern(
            r"\b(?:press|squash|squish|flatten|smash|push)\w*\b.*\b(?:spatula|turner|fish slice|while (?:they|it) cooks?|(?:on|in) the (?:grill|pan|griddle|bbq|barbie))\b"
            r"|\b(?:should|do|can) (?:i|we|you) (?:press|squash|squish) (?:down )?(?:on )?(?:the |my )?(?:burgers?|patt(?:y|ies)|them)\b(?! (?:by|between|with|in))"
        ),
        "No: leave them alone once they sizzle. Pressing squeezes out fat and juice, and makes the flames jump.",
        "A thin burger is pressed once, raw, in the first half minute on a hot plate, and not again.",
        ("cook_temperature",),
    ),
    Advice(
        "Why patties stick",
        Pattern(
            rf"\b(?:stick\w*|stuck|sticks) (?:\w+ ){{0,2}}(?:to|on|onto) (?:\w+ ){{0,2}}{_GRILL}\b"
            rf"|\boil (?:the |my )?(?:{_GRILL}|burgers?|patt(?:y|ies))\b(?:.*\bor\b.*)?"
        ),
        "Heat the bare metal well, brush it clean, oil the patty or wipe the bars thinly, and wait: it lets go when it is browned.",
        "A patty that is moved early tears; a cold or dirty bar holds it.",
        ("cook_temperature", "cross_contamination"),
    ),
    Advice(
        "How often to turn burgers",
        Pattern(
            r"\b(?:how often|how many times|when) (?:do|should|can|must|to)\b.*\b(?:flip|turn)(?: (?:the |my )?(?:burgers?|patt(?:y|ies)|them|it|over))*\b"
            r"|\b(?:flip|turn) (?:the |my )?(?:burgers?|patt(?:y|ies)|them|it) (?:just |only )?(?:once|twice|more than once|often|a lot|constantly)\b"
        ),
        "Once it lets go of the metal. Once is enough; turning every minute or so is as good and cooks a little faster.",
        "How often it is turned says nothing of when it is done: only the thermometer does.",
        ("cook_temperature", "thermometer"),
    ),
    Advice(
        "Whether burgers need egg or crumbs",
        Pattern(
            r"\b(?:need|needs|add|use|put|want|include)\b.*\b(?:eggs?|bread ?crumbs?|crumbs|binders?|fillers?|panko|oats)\b.*\b(?:in|to|for|with|into|as)\b.*\b(?:burgers?|patt(?:y|ies)|mix|meat|mince|beef)\b"
            r"|\b(?:burgers?|patt(?:y|ies))\b.*\b(?:need|needs)\b.*\b(?:eggs?|bread ?crumbs?|crumbs|binders?|fillers?)\b"
        ),
        "No: fresh ground meat at 15 to 30% fat holds by itself. Egg and crumbs belong in meatballs and meatloaf.",
        "If you add them, tell guests with allergies: egg, wheat.",
        ("cook_temperature", "allergen"),
    ),
    Advice(
        "How to shape patties",
        Pattern(
            r"\bhow (?:do|should|would|can|to)\b.*\b(?:shape|form|mould|mold) (?:the |my |a |some |up )?(?:burgers?|patt(?:y|ies)|them|it)\b"
            r"|\bbest way to (?:shape|form) (?:burgers?|patt(?:y|ies))\b"
        ),
        "Weigh equal balls, press them flat with cold wet hands, wider than the bun, dimple the middle, and chill them.",
        "Just tight enough to hold: what is worked hard turns dense. A lid lined with film makes them all alike.",
        ("keep_cold", "cross_contamination"),
    ),
    Advice(
        "How big to cut the cubes",
        Pattern(
            r"\b(?:how (?:big|small|large)|what size)\b.*\b(?:cubes?|chunks?|dice|pieces?|strips?)\b(?!.*\b(?:freez\w*|firm|chill)\b)(?!.*\bpatt)"
            r"|\bcut (?:it|the meat|meat|them) (?:up )?(?:how (?:big|small)|into what size)\b"
        ),
        "About 1 in (25 mm), and in any case smaller than the throat of the grinder, so that they drop without being pushed.",
        "Small even cubes firm up evenly and feed cold; big ones need force, and force smears.",
        ("grinder_hands", "keep_cold"),
    ),
    Advice(
        "What to trim and what to leave",
        Pattern(
            r"\b(?:trim|cut|remove|take|leave|get rid of|have to|need to|should i|do i)\b.*\b(?:silver ?skin|silver skin|sinews?|gristle|tendons?|glands?|membrane)\b"
            r"|\b(?:leave|keep|trim|take|cut)\b.*\bfat ?cap\b.*\b(?:on|off|before)\b"
        ),
        "Cut out silver skin, sinew, glands and blood clots. Leave clean hard fat on and count it: it is part of the blend.",
        "Sinew winds round the knife and makes it mash. Say 'trimmed' or 'without the fat cap' and the figures follow.",
        ("keep_cold",),
    ),
    Advice(
        "How the knife goes in, and when to sharpen it",
        Pattern(
            r"\b(?:which|what) way (?:round |around |up )?(?:does|do|should|is)\b.*\b(?:knife|blade|cutter)\b"
            r"|\b(?:knife|blade|cutter)\b.*\b(?:backwards?|wrong way|right way|which way|flat side)\b"
            r"|\b(?:sharpen|hone)\w*\b.*\b(?:knife|blade|plates?|grinder|mincer)\b|\b(?:knife|blade|plates?)\b.*\b(?:dull|blunt|sharp)\b"
        ),
        "The flat, sharp side of the knife lies against the plate. Tighten the ring, and sharpen or change the pair when it mashes.",
        "A knife the wrong way round, or a loose ring, squeezes the meat instead of cutting it.",
        ("grinder_hands", "clean_grinder"),
    ),
    Advice(
        "How to get the last meat out of the grinder",
        Pattern(
            r"\b(?:last|rest|remaining|leftover|end)\b.*\b(?:in|of|out of|inside|from|through) (?:the |my )?(?:grinder|mincer|head|tube|auger|worm)\b"
            r"|\bbread\b.*\b(?:through|in) (?:the |my )?(?:grinder|mincer)\b"
        ),
        "Unplug it, take the head apart and scrape it out; or send a slice of bread after the meat and stop when bread appears.",
        "What stays in the head has been out the longest: mix it in and cook it with the rest, at once.",
        ("grinder_hands", "clean_grinder"),
    ),
    Advice(
        "Whether ice goes in with the meat",
        Pattern(
            r"\b(?:add|put|use|throw|mix|grind)\w*\b.*\b(?:ice|ice cubes?|iced? water|cold water)\b.*\b(?:meat|grinder|mincer|grinding|mincing|mix|it)\b"
        ),
        "Not for burgers: it only waters them. A little iced water is mixed into sausage, after grinding.",
        "Cold comes from firm cubes and chilled metal parts, not from ice in the meat.",
        ("keep_cold",),
    ),
    Advice(
        "How long to mix",
        Pattern(
            r"\bhow (?:long|much|do|should|to)\b.*\bmix(?:ed|ing)? (?:the |my |it|in|up|together|by hand|seasonings?|spices?|salt|meat|mince|everything|evenly|fat|blend)\b"
            r"|\bover ?mix\w*\b|\bmix(?:ing)? (?:it )?too much\b"
        ),
        "For burgers barely: toss it with cold open hands till lean and fat look even. Sausage: 1 to 2 min, till it is sticky.",
        "Toss seasoning with the cubes before grinding, or sprinkle it over meat spread flat: so it is even without kneading.",
        ("keep_cold", "cross_contamination"),
    ),
    Advice(
        "How to pack and wrap",
        Pattern(
            r"\b(?:vacuum|vac|vac ?pac\w*|vacuum ?seal\w*|wrap\w*|zip ?bags?|freezer bags?|cling ?film|foil)\b.*\bor\b.*\b(?:wrap\w*|bags?|vacuum\w*|foil|paper|film|not|seal\w*)\b"
            r"|\b(?:best|right) way to (?:wrap|pack|freeze|store)\b|\bhow (?:do|should|to|would) (?:\w+ ){0,2}(?:pack|wrap|package|vacuum seal)\b"
            r"|\b(?:freeze|pack|press) (?:\w+ ){0,2}flat\b(?!.*\bhow long\b)"
        ),
        "Pack it flat and thin, about 1 in (25 mm), with the air pressed or drawn out, closed tight, dated, and freeze it at once.",
        "Air dries the surface: that is freezer burn. Flat packs freeze and thaw fastest. No air keeps it good, not safe for longer.",
        ("storage", "keep_cold"),
    ),
    Advice(
        DRIPS,
        Pattern(
            r"\b(?:water|liquid|juice|juices|blood|wet|watery|soggy|puddle)\b.*\b(?:thaw\w*|defrost\w*|frozen)\b"
            r"|\b(?:thaw\w*|defrost\w*|frozen)\b.*\b(?:watery|wet|soggy|drip\w*|puddle|leak\w*)\b"
        ),
        "Ice crystals cut the fibres, and their juice runs out as it thaws. Pour it away, pat the meat dry, and cook it.",
        "Frozen fast and flat, and thawed slowly in the fridge, it drips least. What was salted before drips more.",
        ("cross_contamination", "cook_temperature"),
    ),
    Advice(
        "How to avoid freezer burn",
        Pattern(r"\b(?:stop|avoid|prevent|no|against|keep from getting|without getting)\b.*\bfreezer ?burn\w*\b"),
        "Press or draw out all the air, wrap it twice or seal it, freeze it fast and flat, and use it within its months.",
        "The dry spots are safe: cut them off, they taste of cardboard.",
        ("storage",),
    ),
    Advice(
        "Whether burgers can be shaped the day before",
        Pattern(
            r"\b(?:make|made|shape|form|prep\w*)\b.*\b(?:burgers?|patt(?:y|ies)|them)\b.*\b(?:the )?(?:day|night|evening) (?:before|ahead)\b"
            r"|\b(?:make|shape|form|prep\w*)\b.*\b(?:burgers?|patt(?:y|ies))\b.*\b(?:ahead|in advance|beforehand)\b"
        ),
        "Yes, raw: shaped, unsalted, covered and in the fridge at once, they keep 1 to 2 days in all from the grinding.",
        "Salt them just before they are cooked. For longer, freeze them. Never half-cook them for later.",
        ("storage", "keep_cold", "cook_temperature"),
    ),
    Advice(
        "How to taste for seasoning",
        Pattern(
            r"\b(?:check|test|taste|try|adjust|know)\b.*\b(?:season\w*|salt\w*|spic\w*|flavou?r)\b.*\b(?:before|raw|mix|cook\w*|enough|right)\b"
            r"|\b(?:season\w*|salt|spices?)\b.*\b(?:check|test|taste)\b"
        ),
        "Fry a spoonful through to 160 °F (71 °C) and taste that; never taste it raw. Then mix in more, a little at a time.",
        "What is cooked tastes as the batch will; cold food tastes milder than hot.",
        ("cook_temperature", "cross_contamination"),
    ),
    Advice(
        "When to season",
        Pattern(
            r"\bseason\w*\b.*\b(?:before or after|after or before|before i (?:grind|mince)|before grinding|before mincing|after grinding|after mincing|the cubes)\b"
            r"|\bwhen (?:do|should|to)\b.*\b(?:season|add (?:the )?(?:season\w*|spices?|pepper|garlic|herbs?))\b"
        ),
        "Spices: toss them with the cubes before grinding. Salt for burgers: on the outside, just before cooking; for sausage: in.",
        "Ground in, spices spread evenly without mixing. Salt that waits in the meat makes a burger springy.",
        ("cook_temperature", "keep_cold"),
    ),
    Advice(
        "Whether it is left to stand after seasoning",
        Pattern(
            r"\b(?:rest|sit|stand|chill|leave)\b(?=.*\b(?:overnight|help|better|need\w*|worth)\b).*\b(?:after|once|before|seasoned|mixed)\b"
            r"|\b(?:overnight|help|better|need\w*|worth)\b.*\b(?:rest|sit|stand|chill|leave)\b.*\b(?:after|once|before|seasoned|mixed)\b"
        ),
        "In the fridge, yes: spices for sausage improve overnight. Burgers want only 15 to 30 min of chilling before the heat.",
        "Its days in the fridge count from the grinding, whatever is mixed in.",
        ("storage", "keep_cold"),
    ),
    Advice(
        "How thick a patty should be",
        Pattern(r"\bhow (?:thick|fat|tall)\b.*\b(?:patt(?:y|ies)|burgers?)\b(?!.*\d)"),
        "For the grill 1/2 in to 3/4 in (13 mm to 19 mm), a little thinner in the middle. Say a weight and the bun for the exact one.",
        "Thin ones brown before the middle dries; thick ones need longer to reach the safe reading.",
        ("cook_temperature", "thermometer"),
    ),
)
"""The first whose words are in the line is told."""
