"""Words, all of them, as the answer for one reading."""

import re
from functools import cache

from assistant.language.breath import SOUND_ALIKE
from assistant.language.elapsed import minutes_ago
from assistant.language.meaning import AskFor, Command, Part, Question
from assistant.language.numbers import words as words_of
from assistant.language.phrasebook import tagged
from assistant.language.quantities import BETWEEN, NUMBER_KINDS, asked_back, reading
from assistant.language.vocabulary import Entry, vocabulary

SENTENCES = {
    "number": "Say the number.", "low_impedance": "Ghost voltage. Measure again on low impedance.",
    "between": BETWEEN, "inches": "How many inches?", 
    "over_140": "Over one forty. Say the number.",
    "over_ten": "Over ten. Say the number.", "count": "How many?", "pounds": "How many pounds?",
    "weigh": "Weigh it, then say the number.", "pairs": "Say all three pairs.",
    "contact_two": "Say contact two, or more than one.",
    "full_or_empty": "Full or empty?",
    "heater": "On, off or none?", "reset": "The button itself: intact, missing or broken?",
    "minutes": "How many minutes or hours ago?",
    "protection": "Which one: discharge, oil, high pressure, low pressure, motor or supply?",
    "yes_no": "Yes or no?", "not_good": "What is not good?",
    "rest": "And the rest of it?", "footing": "Stop. Get safe footing first. Then say ready.",
    "detector": "Stop. Stay out until the detector is quiet. Then say ready.",
}  # fmt: skip
"""What is said when an answer was understood but is none: the `ask-` tags of `choices.jsgf`."""

_WHICH_FIRST = re.compile(
    r"^(?:the )?(?:first|second|other|next|last|open)(?: one| contact)?(?: in line| up| in the string)?(?:'s| is)(?: the)? "
)
_WHICH_OPEN = re.compile(
    r"(?: contact)?(?:'s| is| that's| that is)(?: the)?(?: first| second| other| last| open)?(?: one)?"
    r"(?: that's)?(?: open)?$| open$"
)
_ALL_OF = re.compile(r"all (two|three|four|five|six|seven|eight|nine|ten)(?: of (?:them|the fans))?")
"""How many, where all of them are counted out."""
_SPELLING = {
    word: word[0]
    for word in words_of(
        "alpha alfa bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar"
        " papa quebec romeo sierra tango uniform victor whiskey x-ray yankee zulu"
    )
}


def part_of(question: Question, id: str, value: object, doubt: str = "") -> Part:
    """A value for an id, with its unit."""
    assert isinstance(value, float | str | bool)
    unit = vocabulary()[id].unit(question.units) if isinstance(value, float) else None
    return Part(id, value, unit, doubt=doubt)


def one(question: Question, id: str, text: str) -> Part | AskFor | Command | None:
    """These words, all of them, as the answer for one id; None when they are none."""
    entry = vocabulary()[id]
    if id == "chain_dead_check":
        text = _WHICH_OPEN.sub("", _WHICH_FIRST.sub("", text)) or text
        if _several_contacts(question, text):
            return part_of(question, id, "two")
        if text == "two" and "contact two" in question.local.get(id, {}):
            # Between "one" and "three" it means the second contact, alone it means two of them: neither is guessed.
            return AskFor(SENTENCES["contact_two"])
    if entry.kind == "count" and (match := _ALL_OF.fullmatch(text)):
        text = match[1]
    if text in question.local.get(id, {}):
        return part_of(question, id, question.local[id][text], _letter_doubt(text))
    spelled = " ".join(_SPELLING.get(token, token) for token in text.split())
    if spelled != text and spelled in question.local.get(id, {}):
        return part_of(question, id, question.local[id][spelled])
    for grammar, rule in tables(entry):
        if text in tagged(grammar, rule):
            return _tag(question, entry, tagged(grammar, rule)[text])
    if text in entry.choices:
        return Part(id, text)
    if entry.kind == "yes_no" and text in tagged("yes_no", "answer"):
        return _tag(question, entry, tagged("yes_no", "answer")[text])
    if id == "alarm_minutes_ago" and (ago := minutes_ago(id, text, question.now)):
        return ago
    if entry.kind in NUMBER_KINDS:
        return reading(question, entry, text)
    return None


def _several_contacts(question: Question, text: str) -> bool:
    """Whether two of them are named: "contacts two and four", "the oil and the motor"."""
    names = {*question.local.get("chain_dead_check", {}), *vocabulary()["chain_dead_check"].choices} - {"none"}
    plain = re.sub(r"\b(?:both|contacts?|number|the|are|open|they're|it's|one's)\b", " ", text)
    told = [" ".join(part.split()) for part in re.split(r" and | plus | as well as ", f" {plain} ")]
    return len(told) > 1 and all(part in names for part in told) and len(set(told)) > 1


@cache
def tables(entry: Entry) -> tuple[tuple[str, str], ...]:
    """Rules with words for this id, nearest first."""
    found = [("choices", entry.id.replace(".", "_")), ("choices", entry.id.split(".")[0])]
    if entry.kind == "yes_no":
        runs = entry.id.endswith("_running") or entry.id == "controller_calls"
        found += [("yes_no", entry.id)] + ([("yes_no", "runs")] if runs else [])
    elif entry.kind != "choice":
        found.append(("choices", entry.kind))
    if entry.kind in NUMBER_KINDS:
        found.append(("choices", "absent"))
    return tuple(found)


def _tag(question: Question, entry: Entry, tag: str) -> Part | AskFor | Command:
    verb, _, rest = tag.partition(" ")
    if verb == "ask":
        return AskFor(SENTENCES[rest], pending="{} inches" if rest == "inches" else "")
    if verb == "command":
        name, _, about = rest.partition(" ")
        return Command(name, about)
    if verb == "other":
        id, _, value = rest.partition(" ")
        return Part(id, value)
    if verb in ("value", "doubt"):
        doubt = asked_back(entry, question.units, float(rest)) if verb == "doubt" else ""
        return part_of(question, entry.id, float(rest), doubt)
    if tag == "over_range" and entry.kind == "amps":
        return Part(entry.id, tag, doubt="Locked rotor, over range?")
    return Part(entry.id, True if tag == "done" and entry.kind == "acknowledge" else tag)


def _letter_doubt(text: str) -> str:
    """B, C, D, E, G sound alike in any noise: always read back."""
    return f"{text.capitalize()}?" if any(token in SOUND_ALIKE for token in text.split()) else ""
