"""What stands against an answer in the very sentence that gives it, question by question: "everybody clear, tools in".

The answer was understood; these words, which belong to that question alone, make it none, and it is asked again. The patterns are
the project's own reading of what attackers said.
"""

import re
from collections.abc import Callable

from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question
from assistant.language.vocabulary import OWN_LOCK_HUNG

_IN = (
    r"(?:'s|'re| is| are)?(?: all| still| both)? (?:back )?in\b(?! (?:the |my |a |their )?(?:\w+ )?"
    r"(?:bags?|box|boxes|bucket|van|truck|cart|belt|pouch|kit|case|pockets?|hands?|order|place)\b)"
)
_INSIDE = (
    rf"\b(?:tools?|hands?|rags?|fingers?|everybody|everyone|somebody|someone|fans?){_IN}"
    r"|\bguards?(?:'s|'re| is| are)?(?: all| still)? (?:off|out|open|down|missing)\b"
)
_NO_LOCK_OF_HIS = (
    r"\b(?:controller|software|computer|laptop|app|screen|keypad|display|scada|b ?m ?s|phone|tablet)\b"
    r"|\b(?:it|that|lock)(?:'s| is)? (?:was|were) (?:mine|on|locked|dead)\b|\b(?:was|were) (?:mine|dead|locked)\b"
)
_AGAINST: dict[str, re.Pattern[str]] = {
    "panel_tag": re.compile(r"\b(?:supposed|should|ought|meant|must|has) (?:to )?(?:be|say|read)\b|\bshould've\b"),
    **dict.fromkeys(OWN_LOCK_HUNG, re.compile(_NO_LOCK_OF_HIS)),
    "fans_locked": re.compile(
        rf"{_NO_LOCK_OF_HIS}|\bone(?:'s| is)? (?:dead|locked|off|out|of)\b"
        r"|\b(?:two|three|four|some|half|most|part|few)\b(?! circuits?\b)"
    ),
    "dead_volts.": re.compile(
        r"\b(?:went|gone|came|come|comes|coming|goes|going|crept|creeps|creeping|climbed|climbs|climbing|rose|rises|rising|jumped"
        r"|jumps|jumping|spiked|spikes)(?: (?:right|just|slowly|a|bit|straight))* (?:up|back|again|higher|to)\b"
    ),
    "others_clear": re.compile(_INSIDE),
    "covers_on": re.compile(r"\bcovers?(?:'s|'re| is| are)? in\b(?! place| position)"),
}
"""By the reading that is asked; of a name that ends in a dot, each of its kind."""
_OF_GUARDS = re.compile(_INSIDE)
_ROOM = re.compile(
    r"(?<!detector )(?<!detector's )(?<!detector is )(?<!fan's )(?<!fan is )"
    r"\b(?:icy|iced|wet|slippery|slick|greasy|wobbly|shaky|loose|one glove|one boot|scratched|torn|ripped|cracked|broken|foggy"
    r"|fogged|missing|left (?:my|the|them)|forgot|lost|in the (?:van|truck|car))\b"
)
"""What makes nobody fit, however much else is good."""


def told_against(question: Question, words: str) -> bool:
    """Whether the words tell of this question what cannot be beside an answer.

    >>> told_against(Question("others_clear"), "everybody clear, tools in")
    True
    >>> told_against(Question("others_clear"), "everybody clear, tools are in the bag")
    False
    >>> told_against(Question("dead_volts.power"), "zero, it went up again")
    True
    """
    text = normalise(words.replace(",", " "))
    pattern = _AGAINST.get(question.asking) or _AGAINST.get(f"{question.asking.partition('.')[0]}.")
    if pattern is not None and pattern.search(text):
        return True
    if question.asking == "fit_to_start":
        return bool(_ROOM.search(text))
    return "guards" in question.about and bool(_OF_GUARDS.search(text))


_GLASS = r"(?:full|empty|bubbles|bubbly|bubbling|clear|clean|milky|flashing|foaming)"
_BARE_NOW = re.compile(
    r"(?:,|\band|\byes|\byeah) (?:it's |in |right |just |yes )*now$|\bdefrost|\bin it now\b|\bone (?:on|running|going)\b"
)
_NO_OF_THE_GLASS = re.compile(rf"\bno\b[ ,]+(?:now |it's |wait |sorry |no |there's |they're )*{_GLASS}\b")
_OF_DEFROST = re.compile(r"\b(?:defrost\w*|none|nothing|not in|neither)\b")


def glass_alone(question: Question, words: str, said: Meaning, understood: Callable[[Question, str], Meaning]) -> Meaning:
    """The meaning without a defrost that only the glass was told of: "it's full now", "clear, no, milky"."""
    asked = {question.asking, *question.also}
    if not {"sight_glass", "defrost_state"} <= asked or not isinstance(said, Answer):
        return said
    text, told = words.lower().strip(" ."), {part.id: part.value for part in said.parts}
    now = told.get("defrost_state") == "now" and not _BARE_NOW.search(text)
    none = told.get("defrost_state") == "none" and _NO_OF_THE_GLASS.search(text) and not _OF_DEFROST.search(text)
    if not (now or none):
        return said
    alone = understood(question.of_one("sight_glass"), text)
    return alone if isinstance(alone, Answer) else NotUnderstood()
