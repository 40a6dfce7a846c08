"""What to do with the cuts, in order, in the words of a kitchen. Figures here are from the safety table or custom."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from assistant.topics.plan.meat import Meat


def grinding(meats: Sequence[Meat], settings: Mapping[str, str]) -> tuple[str, ...]:
    """The steps from cuts to ground meat, for a grinder or a food processor.

    Cube size, chilling and plates: common practice, no source, except the 40 °F limit (USDA FSIS).
    """
    if all(meat.row is not None and meat.row.kind == "ground" for meat in meats):
        return ()
    machine = settings.get("machine", "grinder")
    steps = [
        _trim(meats),
        "Cut into 1 in (25 mm) cubes and spread them on a metal tray, with gaps.",
        "Freeze 20 to 40 min, until the cubes are firm at the edges but not hard; chill the grinder parts for an hour."
        if machine != "processor"
        else "Freeze 20 to 40 min, until the cubes are firm at the edges but not hard; chill the bowl and blade.",
    ]
    if machine == "processor":
        steps.append(
            "Work in loads of about 1/2 lb (225 g): 10 to 20 pulses of a second; stop before it turns to paste."
        )
    else:
        steps.append("Grind once through the coarse plate (3/8 in, 10 mm), chill, then once through 3/16 in (4.5 mm).")
    steps.append(
        "Keep the meat below 40 °F (4 °C). Do not salt the mix before grinding: salt the outside just before cooking."
    )
    return tuple(steps)


def _trim(meats: Sequence[Meat]) -> str:
    boned = [meat.name for meat in meats if meat.row is not None and meat.row.bone and "one" in meat.row.bone_what]
    skinned = [meat.name for meat in meats if "skin on" in meat.name]
    text = "Take out silver skin, glands and gristle; leave the fat on, it is counted."
    if any(meat.item.trimmed for meat in meats):
        text = "Take out silver skin, glands and gristle, and the outside fat where you said trimmed."
    if boned:
        text += f" Weigh the {boned[0]} without its bone."
    if skinned:
        text += " Grind the skin in only if you want its fat."
    return text
