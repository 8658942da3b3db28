"""An answer that stands out among a few words that are not known: "bubbling like a coffee pot"."""

from assistant.language.hedges import hedge_words
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Part, Question
from assistant.language.names import name_words, named_elsewhere
from assistant.language.spotting import LONGEST, Phrases, general, looks, neutral_of, phrases_of
from assistant.language.vocabulary import vocabulary

_UNKNOWN_WORDS = 4
SAFETY = frozenset({"ventilation_running", "detector_state", "leak_repaired", "part_left_in_use"})
"""Beside the group `safety` of the vocabulary."""

_DONE_WITHOUT_DANGER = frozenset({"store_told"})
"""Of what is acknowledged: what opens no panel and starts no machine."""


def stands_out(id: str, tokens: tuple[str, ...]) -> Part | None:
    """The one answer of words that stands among a few others that are not known: "bubbling like a coffee pot".

    Never for what is acknowledged, for what somebody's safety hangs on, beside a number, beside the name of another reading, or
    beside a word that might turn it.

    Args:
        id: the reading that is looked for.
        tokens: normalised words.
    """
    entry = vocabulary()[id]
    done = id in _DONE_WITHOUT_DANGER
    kept_out = entry.from_profile or entry.group == "safety" or id in SAFETY or entry.kind not in ("choice", "yes_no")
    if kept_out and not done:
        return None
    own = neutral_of(id) | name_words(id)
    tag = _one_among(tokens, phrases_of(id), own, frozenset(entry.choices), named_elsewhere(id))
    if done:
        return Part(id, True) if tag == "done" else None
    return Part(id, tag) if tag in (*entry.choices, "yes", "no") else None


def hangs_on_safety(id: str) -> bool:
    """Whether it is never guessed: what is acknowledged, what opens a panel, what somebody's safety hangs on, and names."""
    entry = vocabulary()[id]
    return _of_safety(id) or entry.from_profile or entry.kind in ("acknowledge", "free")


def done_or_safe(id: str) -> bool:
    """Whether it is a deed that opens a panel or starts a machine, or somebody's safety hangs on the answer."""
    done = vocabulary()[id].kind == "acknowledge" and id not in _DONE_WITHOUT_DANGER
    return done or _of_safety(id)


def _of_safety(id: str) -> bool:
    return vocabulary()[id].group == "safety" or id in SAFETY or id.startswith("dead_volts")


def one_tag_in(id: str, tokens: tuple[str, ...]) -> str:
    """The one answer that is named among any words; empty where none is or two are."""
    entry = vocabulary()[id]
    book = phrases_of(id)
    spans = {tokens[at : at + n] for at in range(len(tokens)) for n in range(1, LONGEST + 1)}
    tags = {book[span] for span in spans if span in book and (len(span) > 1 or span[0] not in hedge_words("of_anything"))}
    return tags.pop() if len(tags) == 1 and tags <= {*entry.choices, "yes", "no"} else ""


def look_stands_out(question: Question, tokens: tuple[str, ...]) -> str:
    """The same for a look that no hand goes in for: the word offered for it; empty where none stands out."""
    if not question.loose:
        return ""
    own = general() | frozenset(question.about)
    return _one_among(tokens, looks(question), own, frozenset(question.go_ahead) - {"done", "yes", "no"}, frozenset())


def _one_among(
    tokens: tuple[str, ...], phrases: Phrases, own: frozenset[str], offered: frozenset[str], elsewhere: frozenset[str]
) -> str:
    """The one tag of the phrases that stand among these words; empty where there is none, or too much beside it.

    Args:
        tokens: normalised words.
        phrases: what is looked for.
        own: words that change nothing.
        offered: words that are an answer alone, though they might belong to anything.
        elsewhere: words that name something else.
    """
    plain = [word.removesuffix("'s") for word in tokens]
    found: list[tuple[tuple[str, ...], str]] = []
    unknown, at = 0, 0
    while at < len(tokens):
        lengths = range(min(LONGEST, len(tokens) - at), 0, -1)
        phrase = next((tokens[at : at + n] for n in lengths if tokens[at : at + n] in phrases), None)
        if phrase is not None:
            found.append((phrase, phrases[phrase]))
        elif plain[at] in hedge_words("turning") or tokens[at] in FIGURES or "n't" in tokens[at]:
            return ""
        elif tokens[at] not in own:
            unknown += 1
            if plain[at] in elsewhere:
                return ""
        at += len(phrase) if phrase else 1
    tags = {tag for _, tag in found}
    generic = hedge_words("of_anything") - (offered - {"none", "right", "on", "off"})
    clear = any(len(phrase) > 1 or phrase[0] not in generic for phrase, _ in found)
    return tags.pop() if len(tags) == 1 and clear and unknown <= _UNKNOWN_WORDS else ""
