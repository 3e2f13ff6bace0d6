"""Cautions and groups of steps that every welded repair shares."""

from __future__ import annotations

from fractions import Fraction

from core.checklists.model import PRACTICE, Caution, Group, Hold, Step, Timer

MEMORY = "from memory"
HOT_WORK = "OSHA 1910.252"
LENS = "OSHA 1910.133"
WELD_RULES = "AC 43.13-1B 4-77 to 4-82 (from memory)"

STANDS = Caution("A jack does not hold a car. Use stands rated for its weight.", MEMORY)
FUEL = Caution("Fuel vapour runs along the floor to the arc. Take the fuel out of the pit.", MEMORY)
BATTERY = Caution("Weld current through a connected battery or box ruins it and can start a fire.", MEMORY)
BLANKET = Caution("Cover what cannot be moved with welding blankets. Look on the far side of panels too.", HOT_WORK)
AIR = Caution("Argon pushes the air out of low and closed places. No smell warns you.", MEMORY)
FIRE_WATCH = Caution(
    "OSHA 1910.252: watch 30 minutes or more after the last arc. NFPA 51B has asked 60 since 2019 (from memory).",
    f"{HOT_WORK}; NFPA 51B (from memory)",
)
PLATING = Caution("Zinc, cadmium, chrome plating and chromate paint give poison fume. Strip them before heat.", MEMORY)
CHLORINATED = Caution("Chlorinated brake cleaner near an arc makes phosgene. It can kill. Keep it out.", MEMORY)
CLOSED_TUBE = Caution("Never weld a closed tube without a vent: it can burst or blow the weld out.", MEMORY)
NO_OIL = Caution("Oil inside burns and spoils the weld. Oil goes in after welding.", MEMORY)
CLAMP = Caution("Never let weld current run through a bearing, joint or cable.", MEMORY)
SHADE = Caution(
    "Lowest shade: TIG under 150 A 8, to 500 A 10. MIG under 60 A 7, to 250 A 10. Stick 60 to 160 A 8, to 250 A 10.",
    LENS,
)
THORIATED = Caution("Do not breathe dust from grinding thoriated tungsten. Use another tungsten or a filter.", MEMORY)
BODY = Caution("Arc burns skin and eyes. Gloves, sleeves, boots. Helpers look away or wear a shade.", MEMORY)
GRINDING = Caution("Eye and ear protection. Keep the sparks off the car and off you.", PRACTICE)
CHROMOLY = Caution("4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.", MEMORY)
HOT_METAL = Caution("It looks cold long before it is. Back of the hand near it first.", PRACTICE)

FIRE_WATCH_SECONDS = 1800
# Nobody publishes a cooling time for this; the touch test decides, the count only reminds.
COOL_SECONDS = 900

PREPARE_CAR = Group(
    "prepare-car",
    "Prepare the car",
    (
        Step("stands", "Set the car on rated stands, on hard level ground.", cautions=(STANDS,), skippable=False),
        Step("fuel-out", "Take the fuel out and carry it at least 35 ft away.", cautions=(FUEL,), skippable=False,
             basis=f"{HOT_WORK} (35 ft)"),
        Step("battery-off", "Unplug the battery.", cautions=(BATTERY,), skippable=False, basis=MEMORY),
        Step("electronics-off", "Unplug the engine computer, ignition, logger and every other box.",
             skippable=False, basis=MEMORY),
        Step("clear-area", "Move what burns 35 ft away, or cover it with welding blankets.", cautions=(BLANKET,),
             basis=HOT_WORK),
        Step("move-lines", "Take away or shield fuel, brake and oil lines, wires and belts near the weld."),
        Step("fresh-air", "Open the doors. Fresh air for you, still air at the weld.", cautions=(AIR,), basis=MEMORY),
        Step("name-watch", "Name the fire watch. Hand over the extinguisher.",
             why="The watch does nothing else until it ends.", cautions=(FIRE_WATCH,), skippable=False,
             basis=HOT_WORK),
    ),
    any_order=True,
)  # fmt: skip

ASK_RULES = Step("ask-rules", "Ask the inspector if the rule book allows this repair here.",
                 why="Rule book, chassis builder and inspector outrank this list.")  # fmt: skip
LOOK_AWAY = Step("look-away", "Look along the tube and at the next joints for bends and cracks.",
                 why="Damage travels.", basis="AC 43.13-1B 4-91 (from memory)")  # fmt: skip
NOT_TREATED = Step("not-treated", "Check that this member is not heat-treated. If it is, stop and replace it.",
                   skippable=False, basis="AC 43.13-1B 4-86 (from memory)")  # fmt: skip
NO_OLD_WELD = Step("no-old-weld", "Check for brazing or old weld where the new weld goes. If found, stop.",
                   why="Never weld over brazing or an old weld.", skippable=False, basis=WELD_RULES)  # fmt: skip
MATERIAL = Step("material", "Find the tube's mark or certificate. Plan: {material}.",
                why="The new metal must be the same material.")  # fmt: skip
LINE_BEFORE = Step("line-before", "Pick two fixed points across the damage. Measure between them.",
                   why="The same two points show if the weld pulled the frame.",
                   hold=Hold("in", "record", None, "Length between the two points"))  # fmt: skip
LINE_FIT = Step("line-fit", "Measure between the two fixed points again. Set the frame back if it moved.",
                hold=Hold("in", "record", None, "Length between the two points"),
                basis="AC 43.13-1B 4-91 (from memory)")  # fmt: skip
STRIP = Step("strip", "Strip plating, paint and primer well past every weld line.",
             cautions=(PLATING, GRINDING), basis=MEMORY)  # fmt: skip
BRIGHT = Step("bright", "Clean to bright metal. Wipe dry. Carry the rag and cleaner away.", cautions=(CHLORINATED,),
              basis=WELD_RULES)  # fmt: skip
VENT = Step("vent", "Find the vent. If the tube is closed, open one where the builder allows.",
            cautions=(CLOSED_TUBE, NO_OIL), skippable=False, basis=MEMORY)  # fmt: skip

GEAR = Step("gear", "Helmet, gloves, sleeves on. Lens: {shade}.", cautions=(SHADE, BODY), basis=LENS)
TUNGSTEN = Step("filler", "Check filler, gas and a clean tungsten or wire against the qualified procedure.",
                cautions=(THORIATED,))  # fmt: skip
GROUND = Step("ground", "Clamp the ground on bright metal close to the weld.", cautions=(CLAMP,), skippable=False,
              basis=MEMORY)  # fmt: skip
TEMPERATURE = Step("temperature", "{preheat}", cautions=(CHROMOLY,), basis="sources differ; from memory")


def get_ready(tack: str, basis: str = PRACTICE) -> Group:
    """Return the group from the helmet to the tacks.

    Parameters
    ----------
    tack : str
        The step that says where the tacks go.
    basis : str
        Source of that step.

    Returns
    -------
    Group

    Source: each step names its own in ``basis``.

    >>> [step.key for step in get_ready("Tack each sleeve in two places.").steps]
    ['gear', 'filler', 'ground', 'temperature', 'tack', 'tack-look']
    """
    return Group("tack", "Get ready and tack", (
        GEAR,
        TUNGSTEN,
        GROUND,
        TEMPERATURE,
        Step("tack", tack, basis=basis),
        Step("tack-look", "Check the line again. Cut out any cracked tack and tack again."),
    ))  # fmt: skip


CRACKS = Step("cracks", "Look at every weld and the metal beside it for cracks. Strong light.",
              why="A crack grows on the track.", skippable=False)  # fmt: skip
INSPECT = Group(
    "inspect",
    "Cool and inspect",
    (
        Step("watch-start", "Start the fire watch at the last arc.", cautions=(FIRE_WATCH,),
             timer=Timer(FIRE_WATCH_SECONDS, "Fire watch from the last arc"), skippable=False, basis=HOT_WORK),
        Step("slow-cool", "Let it cool slowly in still air. No fan, no water, no wet rag.",
             cautions=(HOT_METAL, CHROMOLY), timer=Timer(COOL_SECONDS, "Reminder; the touch test decides"),
             skippable=False, basis="from memory; the time is common practice, no source"),
        CRACKS,
        Step("weld-look", "Look for undercut, holes, cold laps, open craters and undersized weld.",
             skippable=False),
        Step("no-grind", "Leave the welds as they are. Do not grind them smooth for looks.",
             why="Grinding takes the strength off and hides cracks.", basis=WELD_RULES),
        Step("line-after", "Measure between the two fixed points again.",
             why="Compare with the first reading.",
             hold=Hold("in", "record", None, "Length between the two points"),
             basis="AC 43.13-1B 4-91 (from memory)"),
        Step("look-round", "Look at the next joints again for new cracks or bends."),
        Step("watch-end", "End the fire watch. Look behind panels and under the car.", cautions=(FIRE_WATCH,),
             hold=Hold("s", "at least", Fraction(FIRE_WATCH_SECONDS), "Time watched since the last arc"),
             skippable=False, basis=HOT_WORK),
    ),
)  # fmt: skip


FINISH = Group(
    "finish",
    "Finish and tag",
    (
        Step("show-inspector", "Show the bare welds to the inspector before any paint."),
        Step("oil-inside", "If the builder wants oil inside, put it in now. Then close the vent.",
             cautions=(HOT_METAL,), basis=MEMORY),
        Step("paint", "Paint the bare metal after the inspector has seen it."),
        Step("keep-offcut", "Keep the offcut. Mark it with the heat number and this record's number."),
        Step("fix-tag", "Fix the tag beside the repair, not on the weld."),
        Step("plug-in", "Plug electronics back in, battery last. Check lines and fuel for leaks."),
        Step("read-record", "Read the record through with the crew chief."),
        Step("look-later", "Look for cracks again after the first run."),
    ),
)  # fmt: skip
