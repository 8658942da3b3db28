"""How people say that a thing is done and how it looks, in the words that `language` puts together.

For what the ear is taught, not for what counts.
"""

import tomllib
from collections.abc import Iterable
from pathlib import Path
from random import Random
from typing import Any

import assistant.language

DEEDS, LOOKS, LONGEST = 45, 2, 11
FRONTS = (
    "", "", "", "", "", "", "yeah", "okay", "yep", "yes", "right", "so", "well", "uh", "all right", "alright", "no",
    "looks like", "i think", "i'd say", "i see", "seems like",
)  # fmt: skip
TAILS = (
    "", "", "", "", "", "", "", "now", "sir", "mate", "boss", "again", "here", "too", "already", "i think", "for sure",
    "as far as i can see", "and tight", "all good", "go on", "thanks",
)  # fmt: skip
DONE = (
    "{thing} {state}", "the {thing} is {state}", "{thing} is {state}", "the {thing} {state} now", "my {thing} is {state}",
    "i {deed} the {thing} {state}", "i've {deed} the {thing}", "i {deed} it {state}", "{deed} the {thing} {state}", "{deed} it",
    "got the {thing} {state}", "got it {state}", "it's {state}", "they're {state}", "all {state}", "everything's {state}",
    "{state}", "the {thing} is {state} and {deed}", "i have {deed} the {thing}", "both {state}", "all of them {state}",
    "{thing} and {place} {state}", "the {thing} is {deed}", "{deed} and {state}", "the {thing} has been {deed}", "it's {deed}",
    "they're all {deed}", "{thing}'s not {state}", "the {thing} isn't {state} yet", "i couldn't get the {thing} {state}",
    "hasn't been {deed}",
)  # fmt: skip
LOOKED = (
    "{look}", "{look}", "it's {look}", "it's {look}", "they're {look}", "looks {look}", "the {thing} is {look}",
    "the {thing}'s {look}", "{thing} {look}", "it is {look}", "they're all {look}", "kinda {look}", "pretty {look}",
    "a bit {look}", "that's {look}", "it feels {look}", "the {thing} looks {look}", "not {look}", "it isn't {look}",
    "all {look}", "this one's {look}", "the other one's {look}",
)  # fmt: skip
GLUED = ("{} that's done", "it's done {}", "{} it's good", "that's {} all of it")
THINGS = (
    "glass|coil|valve|probe|fan|motor|belt|wire|terminal|contact|fuse|lamp|module|light|line|drier|strainer|screen|condenser|filter|"
    "oil|float|heater|shell|head|body|stem|cover|door|switch|button|reset|compressor|machine|pump|case|coils|fins|dial|needle|"
    "separator|reservoir|regulator|crankcase|winding|plug|joint|tube|capillary|starter|contactor|relay|breaker"
).split("|")  # fmt: skip


def ways(draw: Random) -> Iterable[str]:
    """Sentences of things done, by chance from each frame, and of looks, every look and every small word in some of them."""
    home = Path(assistant.language.__file__).parent
    deeds_table, classes = (_table(home / name) for name in ("deeds.toml", "classes.toml"))
    states = deeds_table["state"]
    glue = [word for word in deeds_table["glue"] if " " not in word]
    for frame in deeds_table["done"]:
        state, things = states[frame["state"]], [thing.removesuffix("'s") for thing in frame["things"]]
        deeds = [*state["reached"], *state["towards"]] or state["stands"]
        stands, places = [*state["stands"], *state["reached"]], frame.get("places") or things
        for _ in range(DEEDS):
            said = draw.choice(DONE).format(
                thing=draw.choice(things), deed=draw.choice(deeds), state=draw.choice(stands), place=draw.choice(places)
            )
            yield from _whole(draw, said)
    for looks in classes["class"].values():
        for look in looks:
            for _ in range(LOOKS):
                yield from _whole(draw, draw.choice(LOOKED).format(look=look, thing=draw.choice(THINGS)))
    for word in glue:
        yield from _whole(draw, draw.choice(GLUED).format(word))


def _table(file: Path) -> dict[str, Any]:
    return tomllib.loads(file.read_text(encoding="utf-8"))


def _whole(draw: Random, said: str) -> Iterable[str]:
    """With something before and behind it, if it is then no longer than an answer is."""
    words = f"{draw.choice(FRONTS)} {said} {draw.choice(TAILS)}".split()
    if len(words) <= LONGEST:
        yield " ".join(words)
