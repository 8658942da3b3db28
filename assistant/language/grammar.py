"""What an utterance means to the question that was asked."""

import re
from dataclasses import replace
from functools import cache

from assistant.language.breath import SOUND_ALIKE, in_one_breath
from assistant.language.elapsed import minutes_ago
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
)
from assistant.language.numbers import words as words_of
from assistant.language.phrasebook import automaton, tagged
from assistant.language.quantities import NUMBER_KINDS, asked_back, reading
from assistant.language.remarks import is_emergency, remark
from assistant.language.vocabulary import Entry, vocabulary

UNKNOWN_WORD = "[unk]"
SENTENCES = {
    "number": "Say the number.", "low_impedance": "Ghost voltage. Measure again on low impedance.",
    "between": "Between what and what?", "inches": "How many inches?", 
    "over_140": "Over one forty. Say the number.",
    "over_ten": "Over ten. Say the number.", "count": "How many?", "pounds": "How many pounds?",
    "weigh": "Weigh it, then say the number.", "pairs": "Say all three pairs.",
    "full_or_empty": "Full or empty?",
    "yes_no": "Yes or no?", "not_good": "What is not good?", "footing": "Stop. Get safe footing first. Then say ready.",
    "detector": "Stop. Stay out until the detector is quiet. Then say ready.",
}  # fmt: skip
"""What is said when an answer was understood but is none: the `ask-` tags of `choices.jsgf`."""

_FILLERS = words_of(
    "a an i it up uh um er the about around roughly its it's that's is are reads reading got have we i've say"
    " like so well okay please now still just me there"
)
_SPELLING = {
    word: word[0]
    for word in words_of(
        "alpha alfa bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar"
        " papa quebec romeo sierra tango uniform victor whiskey x-ray yankee zulu"
    )
}
_PUNCTUATION = re.compile(r"[,!?;:]|\.(?!\d)")


def normalise(words: str) -> str:
    """Lower case, without punctuation; figures keep their sign and point.

    >>> normalise("No, twenty-five. It’s -3.5")
    "no twenty five it's -3.5"
    """
    text = _PUNCTUATION.sub(" ", words.lower().replace("’", "'"))
    return " ".join(re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text).split())


def understand(question: Question, words: str) -> Meaning:
    """What these words mean as an answer to this question; nothing is guessed.

    The question's own answers go before the words that steer a call ("quiet" may be both). An unknown word
    heard at an edge is dropped from words, never from a number: half of it is another number.

    Args:
        question: what was asked.
        words: as heard or typed.
    """
    text = normalise(words)
    tokens = [token for token in text.split() if token != UNKNOWN_WORD]
    whole = len(tokens) == len(text.split())
    inside = UNKNOWN_WORD in text.removeprefix(UNKNOWN_WORD).removesuffix(UNKNOWN_WORD)
    if whole and is_emergency(text):
        return Command("emergency")
    if not tokens or inside:
        return NotUnderstood()
    said = _understood(question, text, tokens, whole)
    free = isinstance(said, Answer) and any(isinstance(p.value, str) and vocabulary()[p.id].kind == "free" for p in said.parts)
    asked_for_help = isinstance(said, Command) and said.name == "help"  # "help me" is no question of what may be said
    if isinstance(said, NotUnderstood | AskFor) or free or asked_for_help:
        return (remark(text) if whole else None) or said
    return said


def _understood(question: Question, text: str, tokens: list[str], whole: bool) -> Meaning:
    """What the words are to this question and to the commands."""
    if question.asking != "confirm" and vocabulary().get(question.asking, _NONE).kind == "free":
        return _note(question, " ".join(tokens))
    for form in trimmed(text):
        meaning = _understand(question, form)
        if not isinstance(meaning, NotUnderstood):
            return meaning if whole or not _has_number(meaning) else NotUnderstood()
    return NotUnderstood()


def understand_in_pieces(question: Question, words: str) -> Meaning:
    """What typed words mean; commas part the readings of one breath."""
    pieces = [p.strip() for p in words.split(",") if p.strip()]
    ids = (question.asking, *question.also)
    whole_refused = bool(question.all_good) and pieces[:1] in (["no"], ["nope"])
    if 1 < len(pieces) <= len(ids) and not whole_refused:
        parts: list[Part] = []
        for id_, piece in zip(ids, pieces, strict=False):
            alone = understand(replace(question, asking=id_, also=(), all_good={}), piece)
            parts += alone.parts if isinstance(alone, Answer) else ()
        if len(parts) == len(pieces):
            return Answer(tuple(parts))
    return understand(question, " ".join(pieces))


_NONE = Entry("", "", "", "", "", None, None, (), False, "", "")


def _has_number(meaning: Meaning) -> bool:
    match meaning:
        case Answer(parts):
            return any(isinstance(part.value, float) for part in parts)
        case Confirmed(instead=Part(value=float())):
            return True
        case AskFor(pending=pending):
            return bool(pending) and not pending.startswith("{}")
    return False


def trimmed(text: str) -> list[str]:
    """The words without unknown ones, then without what people hang on both ends of an answer."""
    tokens = [token for token in text.split() if token != UNKNOWN_WORD]
    start, end = 0, len(tokens)
    forms = [" ".join(tokens)]
    while start < end - 1 and tokens[start] in _FILLERS:
        start += 1
        forms.append(" ".join(tokens[start:end]))
    while start < end - 1 and tokens[end - 1] in _FILLERS:
        end -= 1
        forms.append(" ".join(tokens[start:end]))
    return forms


def _understand(question: Question, text: str) -> Meaning:
    if question.asking == "confirm":
        return _confirm(question, text)
    if question.asking == "command":
        if text in question.go_ahead:
            return Command("continue")
        warned = _answer(replace(question, asking=question.also[0], also=question.also[1:]), text) if question.also else None
        return warned or _steering(question, text)
    if question.pending.startswith("{}"):
        meaning = _answer(question, question.pending.format(text))
        if isinstance(meaning, Answer):
            return meaning
    meaning = _answer(question, text) or _correcting(question, text) or _steering(question, text)
    if question.pending and isinstance(meaning, NotUnderstood):
        return _answer(question, question.pending.format(text)) or meaning
    return meaning


def _note(question: Question, text: str) -> Meaning:
    """Free speech: every word counts, except a command said alone and the words that end a note."""
    if text in tagged("commands", "command"):
        return _steering(question, text)
    said = text.removesuffix("end note").strip()
    return Answer((Part(question.asking, said),)) if said else Command("cancel")


# ---- answers


def _answer(question: Question, text: str) -> Meaning | None:
    ids = (question.asking, *question.also)
    if len(ids) > 1:
        good = {id: value for id, value in question.all_good.items() if id in ids}
        if good and text in tagged("choices", "all_good"):
            return Answer(tuple(_part(question, id, value) for id, value in good.items()))
        if good and text in tagged("yes_no", "refused"):
            return AskFor(SENTENCES["not_good"])
        # "No, the valve is closed": the no is about the whole, not about the first thing named.
        rest = text.removeprefix("no ") if good else text
        several = in_one_breath(question, ids, rest, one) or in_one_breath(question, ids, text, one)
        if several:
            return Answer(several)
    elif question.all_good and text in tagged("choices", "all_good") and question.asking in question.all_good:
        return Answer((_part(question, question.asking, question.all_good[question.asking]),))
    for id in ids:
        meaning = one(question, id, text)
        if isinstance(meaning, Part):
            return Answer((meaning,))
        if meaning is not None:
            return meaning
    return None


def _part(question: Question, id: str, value: object, doubt: str = "") -> Part:
    assert isinstance(value, float | str | bool)
    unit = vocabulary()[id].unit(question.units) if isinstance(value, float) else None
    return Part(id, value, unit, doubt=doubt)


def one(question: Question, id: str, text: str) -> Part | AskFor | Command | None:
    """These words, all of them, as the answer for one id; None when they are none."""
    entry = vocabulary()[id]
    if id == "chain_dead_check":
        text = text.removesuffix(" is open") or text
        if text == "two" and "contact two" in question.local.get(id, {}):
            # Between "one" and "three" it means the second contact, alone it means two of them: neither is guessed.
            return _part(question, id, "two", "More than one open?")
    if text in question.local.get(id, {}):
        return _part(question, id, question.local[id][text], _letter_doubt(text))
    spelled = " ".join(_SPELLING.get(token, token) for token in text.split())
    if spelled != text and spelled in question.local.get(id, {}):
        return _part(question, id, question.local[id][spelled])
    for grammar, rule in _tables(entry):
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


def _tables(entry: Entry) -> list[tuple[str, str]]:
    """Rules with words for this id, nearest first."""
    tables = [("choices", entry.id.replace(".", "_")), ("choices", entry.id.split(".")[0])]
    if entry.kind == "yes_no":
        runs = entry.id.endswith("_running") or entry.id == "controller_calls"
        tables += [("yes_no", entry.id)] + ([("yes_no", "runs")] if runs else [])
    elif entry.kind != "choice":
        tables.append(("choices", entry.kind))
    if entry.kind in NUMBER_KINDS:
        tables.append(("choices", "absent"))
    return tables


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
        return _part(question, entry.id, float(rest), doubt)
    if tag == "over_range" and entry.kind == "amps":
        return Part(entry.id, tag, doubt="Locked rotor, over range?")
    return Part(entry.id, True if tag == "done" and entry.kind == "acknowledge" else tag)


def _letter_doubt(text: str) -> str:
    """B, C, D, E, G sound alike in any noise: always read back."""
    return f"{text.capitalize()}?" if any(token in SOUND_ALIKE for token in text.split()) else ""


# ---- values asked back


def _confirm(question: Question, text: str) -> Meaning:
    """Yes, no, the value again, or another one: "no, twelve"."""
    if text in tagged("yes_no", "agreed"):
        return Confirmed(True)
    if text in tagged("yes_no", "refused"):
        return Confirmed(False)
    if text in tagged("yes_no", "neither") or text in ("correct", "correction"):
        # "Correct" is a yes to most and the command to change it to others.
        return AskFor(SENTENCES["yes_no"])
    if question.of not in vocabulary():  # a command is confirmed
        return _steering(question, text)
    said = _value_of(question, text)
    if isinstance(said, Part):
        return Confirmed(True) if said.value == question.value else Confirmed(False, said)
    instead = _correcting(question, text)
    if instead:
        return instead
    steering = _steering(question, text)
    return said if isinstance(said, AskFor) and isinstance(steering, NotUnderstood) else steering


def _value_of(question: Question, text: str) -> Part | AskFor | None:
    """These words as a value of the id that was read back."""
    said = one(question, question.of, text)
    return said if isinstance(said, Part | AskFor) else None


_NO = re.compile(r"(?:no|nope|wrong)(?: it's| it is| that's| i said| make it)? (.+)")


def _correcting(question: Question, text: str) -> Meaning | None:
    """ "No, twelve", "wrong": about the value read back last, where no is no answer to the question."""
    match = _NO.fullmatch(text)
    if match and question.of:
        for form in trimmed(match[1]):
            said = _value_of(question, form)
            if said:
                return Confirmed(False, said) if isinstance(said, Part) else said
    if question.asking == "confirm":
        return None
    kind = vocabulary()[question.asking].kind
    refused = text in ("no", "wrong", "nope", "that's wrong") and (kind in NUMBER_KINDS or (question.of and kind == "choice"))
    if refused or (kind in NUMBER_KINDS and match and _is_number(question, match[1])):
        return Command("correct", question.of)
    return None


def _is_number(question: Question, text: str) -> bool:
    return isinstance(one(question, question.asking, text), Part | AskFor)


# ---- commands


def _steering(question: Question, text: str) -> Meaning:
    commands = tagged("commands", "command")
    if text in commands:
        name, _, about = commands[text].partition(" ")
        return Command(name, about)
    for lead in sorted(tagged("commands", "correction_of"), key=len, reverse=True):
        if text.startswith(lead + " "):
            name = text.removeprefix(lead + " ").removeprefix("the ")
            if id := _named(question, name):
                return Command("correct", id)
    return NotUnderstood()


def _named(question: Question, name: str) -> str:
    """The id with this spoken name, one of the question's own group first; empty when there is none."""
    ids = [entry.id for entry in vocabulary().values() if normalise(entry.say).removeprefix("the ") == name]
    group = vocabulary()[question.asking].group if question.asking in vocabulary() else ""
    ids.sort(key=lambda id: vocabulary()[id].group != group)
    return ids[0] if ids else ""


# ---- what may be said


def choices(question: Question) -> list[str]:
    """The words that answer this question, the canonical ones first; empty where a number answers it."""
    if question.asking == "confirm":
        return ["yes", "no"]
    if question.asking == "command":
        return list(question.go_ahead)
    entry = vocabulary()[question.asking]
    local = list(question.local.get(entry.id, ()))
    if entry.kind == "yes_no":
        return ["yes", "no", *local]
    own = [p for grammar, rule in _tables(entry) for p, tag in tagged(grammar, rule).items() if tag == "done"]
    if entry.kind == "acknowledge":
        return list(dict.fromkeys(["done", *own, *local]))
    return list(dict.fromkeys([*entry.choices, *local])) if entry.kind == "choice" else local


def commands() -> list[str]:
    """Every phrase that steers a call, a command's best first."""
    return list(tagged("commands", "command"))


def phrases(question: Question) -> list[str]:
    """Every fixed phrase that this question and the commands understand.

    Numbers are not listed; their words are `number_words` of the kind.
    """
    if question.asking == "confirm":
        own = [*tagged("yes_no", "agreed"), *tagged("yes_no", "refused"), *tagged("yes_no", "neither")]
        own += _own_phrases(question, question.of) if question.of in vocabulary() else []
    elif question.asking == "command":
        own = [*question.go_ahead, *(p for id in question.also for p in _own_phrases(question, id))]
    else:
        own = [p for id in (question.asking, *question.also) for p in _own_phrases(question, id)]
        own += tagged("choices", "all_good") if question.all_good else {}
    return list(dict.fromkeys([*own, *commands()]))


def _own_phrases(question: Question, id: str) -> list[str]:
    entry = vocabulary()[id]
    own = [*entry.choices, *question.local.get(id, {})]
    own += [phrase for grammar, rule in _tables(entry) for phrase in tagged(grammar, rule)]
    return own + (list(tagged("yes_no", "answer")) if entry.kind == "yes_no" else [])


@cache
def number_words(kind: str) -> frozenset[str]:
    """Every word of the spoken numbers of a kind."""
    return frozenset(word for row in automaton("numbers", kind) for word in row if word)
