"""An answer told twice over, or with what comes next: "she's locked, my lock's on it", "tag says a two, my lock's on it".

It is looked for only after all else failed. Each clause must say the same, or be one that is known to say nothing against it.
"""

import re
from collections.abc import Callable

from assistant.language.hedges import is_sound
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question

_FILLS = re.compile(r"^(?:(?:yes|yeah|yep|yup|okay|ok|alright|all right|right|well|so|and|now|then|also|uh|um)\b[, ]*)+")
_PARTS = re.compile(
    r"\s*(?:,|[.;](?=\s|$))\s*(?:and |so |then )?|\s+and\s+(?=(?:i|i've|it's|she's|he's|the|my|that's|all|filled|put|changed"
    r"|cleaned|topped|fitted|washed)\b)"
)
_NEXT: dict[str, re.Pattern[str]] = {
    "panel_tag": re.compile(
        r"(?:i'm |i've )?(?:my |own )*(?:lock(?:'s| is)? (?:on|hung|hanging)|lock|locked|hanging my lock|got my lock)"
        r"(?: (?:on|it|there|on it|too|out|now))*|(?:it's|she's|i've got it) locked(?: out)?|that's the one|matches"
    ),
    "lock_removed": re.compile(
        r"(?:the )?(?:disconnect|breaker|power|switch|handle)(?:'s| is)?(?: back)? (?:on|up|closed|in)"
        r"|key(?:'s| is)? in my pocket|i've got (?:it|the key)"
        r"|it's in my (?:pocket|bag|hand)|it's in the bag|tag(?:'s| is)? off(?: too)?"
        r"|(?:i )?(?:threw|turned|switched|flipped) (?:it|the disconnect|the breaker) (?:back )?on"
    ),
    "others_clear": re.compile(
        r"(?:i've |i )?(?:got|have) all (?:of )?my tools|(?:my )?tools(?:'re| are)? (?:picked up|out|put away|with me)"
    ),
    "section_emptied": re.compile(
        r"(?:the )?(?:hand valve|(?:upstream|downstream|first|other)(?: valve| one)?|valves?|both(?: valves| ends)?)"
        r"(?:'s|'re| is| are)? (?:shut|closed)(?: off| tight)?(?: first| now)?"
    ),
    "service_valves_open": re.compile(
        r"(?:i )?(?:haven't|never|didn't) (?:touch|touched|close|closed|move|moved) (?:the valves|them|any(?: of them)?|it|those)"
    ),
}
"""What is told beside, of what comes next: it is asked all the same."""
_NO_DRIVE = re.compile(r"(?:there's )?no (?:drive|soft starter|v f d)(?: (?:on this one|here|on it|on her))?")
_THE_REST = re.compile(
    r"(?:the )?(?:others?|rest|other two|other one)(?:'s|'re| are| is)?(?: all)? (?:good|fine|okay|ring(?:s|ing)? out"
    r"|test(?:s|ed)? good)"
)
_WORK_DONE = re.compile(
    r"(?:i |i've |we )?(?:just )?(?:cleaned|replaced|changed|filled|refilled|swapped|fitted|installed|put in"
    r"|tightened|topped off|washed"
    r"|rinsed|blew out|brazed|soldered|fixed)(?: out| up| off)? (?:the |that |a |an |in |its |new )*\w+(?: \w+)?"
)
_OF_A_LOOK = {"unplugged": _NO_DRIVE, "one open": _THE_REST, "repaired": _WORK_DONE}
"""The same of a look, by a word that it offers."""
_WORST = {"condenser_face": ("fouled", "blocked"), "running_now": ("just tripped", "off")}
"""Of these the worse is meant, where both are said."""
_NEVER = ("control_power_on", "control_power_off")
"""Nothing is put together of what lets power on."""
_DENIES = re.compile(r"\b(?:not|never|no|nobody|none|but|except|if|unless|until|maybe|think|might|other|another)\b|n't\b")


def told_alike(question: Question, words: str, understand: Callable[[str], Meaning]) -> Meaning:
    """The one answer that all clauses give; not understood where they give none, or two.

    Args:
        question: what was asked.
        words: as typed, with their commas.
        understand: what one clause means to the question.
    """
    if question.asking in _NEVER:
        return NotUnderstood()
    clauses = [_FILLS.sub("", part).strip() for part in _PARTS.split(words.lower().strip(" .!"))]
    clauses = [clause for clause in clauses if clause and not is_sound(clause)]
    beside = _NEXT.get(question.asking) or next((one for word, one in _OF_A_LOOK.items() if word in question.go_ahead), None)
    told = [clause for clause in clauses if not (beside and beside.fullmatch(clause))]
    if len(clauses) < 2 or not told or any(_DENIES.search(clause) for clause in told):
        return NotUnderstood()
    said = [understand(clause) for clause in told]
    if not all(isinstance(one, Answer) or (isinstance(one, Command) and one.name == "continue") for one in said):
        return NotUnderstood()
    if all(one == said[0] for one in said):
        return said[0]
    together = _together(said) if question.also else NotUnderstood()
    return together if isinstance(together, Answer) else _the_worst(question, said)


def _together(said: list[Meaning]) -> Meaning:
    """What the clauses answer of several things that were asked, none of them a number and none twice otherwise."""
    parts = {part.id: part for one in said if isinstance(one, Answer) for part in one.parts}
    all_ = [part for one in said if isinstance(one, Answer) for part in one.parts]
    agree = all(parts[part.id] == part and not isinstance(part.value, float) for part in all_)
    return Answer(tuple(parts.values())) if agree and all(isinstance(one, Answer) for one in said) else NotUnderstood()


def _the_worst(question: Question, said: list[Meaning]) -> Meaning:
    order = _WORST.get(question.asking, ())
    values = [[part.value for part in one.parts] for one in said if isinstance(one, Answer)]
    if order and len(values) == len(said) and all(len(one) == 1 and one[0] in order for one in values):
        return max(said, key=lambda one: order.index(str(one.parts[0].value)) if isinstance(one, Answer) else 0)
    return NotUnderstood()
