"""Whose word stands for what is acknowledged, and how firmly: safety hangs on "done", so a guess is asked back, what is still to
be done is not done, what only sounds like it is not either, and nobody answers for another's lock.
"""

import re
from dataclasses import replace

from assistant.language.deeds import WILL, denied
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Part, Question, Remark
from assistant.language.offered import phrases
from assistant.language.own_unit import LIVE_VOLTS
from assistant.language.vocabulary import OWN_LOCK_HUNG, vocabulary

_OWN = frozenset({*OWN_LOCK_HUNG, "lock_removed"})
_YES_FOR_IT = frozenset({"lock_still_on", "everybody_safe", "room_safe", "supervisor_agreed", "probe_cleaned", "leak_repaired"})
"""Asked as yes or no, and as much hangs on them."""
_FUSES = frozenset({"control_fuse", "module_output_fuse"})
"""Checked with a meter, never by a guess: what opened on a fault hangs on it."""
_ANOTHER = re.compile(
    r"^(?:(?:yes|yeah|yep|uh|well|no) )*(?:(?:my|the|our) (?!(?:lock|padlock|tag|hasp)\b)\w+|he|she|they|somebody|someone)"
    r"(?: (?:did|has|put|locked|unlocked|hung|took|pulled|removed)"
    r"|(?:'s|'ve)(?: just| already)? (?:put|hung|taken|pulled|removed))\b"
)
_HIMSELF = re.compile(r"\b(?:i'm|i am|that's me|that is me|myself|i agree|i say so|my own|he would|she would|he will|she will)\b")
"""Nobody agrees to a third reset in the supervisor's place."""
_GUESSED = re.compile(
    r"\b(?:i|we|they|he)(?:'d)? (?:think|believe|guess|reckon|say|suppose|assume|figure|call (?:it|that))\b"
    r"|\b(?:pretty|fairly|quite|almost|nearly|reasonably|not) (?:sure|certain|confident|positive)\b"
    r"|\bi'm guessing\b|\bby memory\b|\b(?:as far as|(?:from|by) what) (?:i|we) can (?:tell|see)\b"
    r"|\blooks? (?:open|closed|clear|dead|empty|off)\b"
)
_NOT_QUITE = re.compile(
    r"\b(?:pretty much|more or less|just about|practically|virtually|basically)\b"
    r"|\babout (?:done|finished|there|ready|on|off|locked)\b"
    r"|\b(?:just|only|but) (?:for )?(?:the )?last (?:one|two|bit|couple|few)\b"
)
"""A deed that is nearly done is not done: "pretty much locked"."""
_TO_COME = re.compile(
    r"\b(?:in a (?:second|sec|minute|moment|bit)|later|tomorrow|soon|shortly|going to|gonna|about to|knows? to)\b"
    rf"|{WILL}"
)
_PROVED = frozenset({"repaired", "tight"})
"""Words of a look that a start rests on."""
_MOSTLY = re.compile(r"\b(?:mostly|more or less|pretty much|i (?:think|guess|hope)|should|probably|nearly|almost|enough)\b")
_BY_EYE = re.compile(r"\bby (?:eye|the looks? of)\b")
_NOT_ALL = re.compile(
    r"\b(?:some|most|a few|half|part|nearly all|almost all)(?: of (?:it|them|that|those))?(?:'s| is| are| was| were)\b"
    r"|\b(?:some|most|half|part|a few|a couple|a bit) of (?:it|them|that|those|these|the)\b"
)
_NO_DEED = re.compile(
    r"\b(?:good|great|fine|decent|bad|rough) shape\b|\b(?:doesn't|won't|didn't|wouldn't|don't) (?:\w+ )?(?:budge"
    r"|move|do anything)\b"
    r"|\b(?:pull|pulls|turns?|turning) (?:the )?right (?:in|way|out|back)?\b|\bset it right\b"
)
"""What says how a thing is or moves, and not that a deed is done."""
_NOT_YET_ALL = re.compile(r"\b(?:so far|still to|yet|to go|haven't|except|but)\b")
"""Of several measurements, not all of them."""
_CALLED_LIVE = re.compile(
    r"(?<!not )(?<!no )(?<!nothing )(?<!isn't )(?<!known )(?<!n't )\b(?:hot|live|alive"
    r"|energi[sz]ed)\b(?! source)"
)
"""What no low reading agrees with."""
_IT_WAS = re.compile(r"(?:(?:yes|yeah|well|uh) )*(?:it|that|they|they all|all of them) (?:was|were)\b")
_RISING = re.compile(
    r"(?<!not )\b(?:rising|climbing|building|creeping"
    r"|not holding|isn't holding|won't hold|doesn't hold|coming (?:back )?up|going up)\b"
)
"""What stands at zero and does not stay there is not empty."""
_WAS = re.compile(r"^(?:(?:yes|yeah|well|uh) )*(?:it|that|they) (?:was|were)$")
"""How it was is not how it is."""


_UNDONE = {
    "locked_out": re.compile(r"\bunlock(?:ed|ing|s)?\b"),
    "jumper_removed": re.compile(r"\b(?:it|jumper|resistor)(?:'s| is| stays| stayed)?(?: still| left)? in\b"),
}
"""What says the opposite of the deed beside a yes: "yes, and somebody unlocked it", "yeah it's in"."""


_GIVES_AWAY = re.compile(
    r"\b(?:(?:that's|is|was) plenty|good enough|close enough|near enough|bang|boom|popped(?! off)|knocked|dark|sparks?"
    r"|fizzl?e?d?|rang out"
    r"|voice ?mail|no answer|snapped (?:in|off)(?! place)"
    r"|taped the (?:breaker|handle|switch)|handle(?:'s| is)? up|zeroed|(?:screwed|turned|wound|put|shut) (?:it"
    r"|them) (?:back )?(?:down|shut|closed)"
    r"|(?:off|at|from) (?:of )?the meter(?: end)?|whole lot|(?:finger|hand) tight|resting on|the way i like"
    r"|number \w+'s(?: is)?|(?:far|other|this|that|one|top|bottom) end(?:'s)?|went (?:for|off"
    r"|outside|to get|back to)|on \w+ street|everybody knows"
    r"|(?:green|red|blue|yellow|pink|white|orange) (?:bottle|cylinder|jug|drum)|same colou?r|looks like it's)\b"
)
"""A fact from which it follows that the deed is not done, or not as it was asked: "power on, and bang went the breaker"."""


_TURNED = {
    "open": re.compile(r"(?<!counter )(?<!anti )(?<!counter)(?<!anti)\bclockwise\b"),
    "shut": re.compile(r"\b(?:counter|anti)[ -]?clockwise\b"),
}
"""The way that a valve's stem shuts, and the way that it opens (common practice), where the other was asked for."""


def given_word(question: Question, text: str, said: Meaning) -> Meaning:
    """What an acknowledgement is worth.

    Args:
        question: what was asked.
        text: normalised words.
        said: what they mean to the question.

    >>> from assistant.language.meaning import Part
    >>> given_word(Question("locked_out"), "he did", Answer((Part("locked_out", True),)))
    NotUnderstood()
    >>> given_word(Question("covers_on"), "done i think", Answer((Part("covers_on", True),))).parts[0].doubt
    '.'
    """
    if _TURNED["open" if "open" in question.about else "shut"].search(text):
        return NotUnderstood()
    if isinstance(said, Command) and said.name == "continue" and not question.look:
        against = denied(question, text) and text not in phrases(question)
        short_of_it = (_NOT_ALL, _NO_DEED, _NOT_QUITE, _GIVES_AWAY, *([_ANOTHER] if "unlocked" in question.go_ahead else []))
        return NotUnderstood() if against or any(way.search(text) for way in short_of_it) else said
    if isinstance(said, Command) and said.about == "good" and _BY_EYE.search(text):
        return NotUnderstood()
    if isinstance(said, Command) and said.about in _PROVED and (_TO_COME.search(text) or _MOSTLY.search(text)):
        return NotUnderstood()
    if not isinstance(said, Answer):
        return said
    if any(part.id == "isolated_pressure" for part in said.parts) and _RISING.search(text):
        return Remark("pressure")
    dead = any(part.id.startswith("dead_volts") for part in said.parts)
    low = all(isinstance(part.value, float) and part.value < LIVE_VOLTS for part in said.parts)
    if dead and low and _CALLED_LIVE.search(text):
        return NotUnderstood()  # "hot, zero"
    if dead and (_NOT_YET_ALL.search(text) or _IT_WAS.match(text)):
        return NotUnderstood()  # "zero so far"
    if (_GUESSED.search(text) or _NOT_QUITE.search(text)) and any(part.id in _FUSES for part in said.parts):
        return Answer(tuple(replace(part, doubt=part.doubt or ".") for part in said.parts))
    done = [part for part in said.parts if _is_word_for_it(part)]
    if not done:
        return said
    undone = _UNDONE.get(question.asking)
    if (_GIVES_AWAY.search(text) or (undone and undone.search(text))) and text not in phrases(question):
        return NotUnderstood()
    if any(part.id == question.asking for part in done) and denied(question, text) and text not in phrases(question):
        return NotUnderstood()
    if _NO_DEED.search(text) and not {"shape", "turning", "turn"} & set(question.about):
        return NotUnderstood()
    if any(part.id == "supervisor_agreed" for part in done) and _HIMSELF.search(text):
        return NotUnderstood()
    others = any(part.id in _OWN for part in done) and _ANOTHER.search(text)
    if _TO_COME.search(text) or _NOT_ALL.search(text) or others:
        return NotUnderstood()
    if _GUESSED.search(text) or _NOT_QUITE.search(text) or _WAS.search(text):
        return Answer(tuple(replace(part, doubt=part.doubt or ".") if part in done else part for part in said.parts))
    return said


def _is_word_for_it(part: Part) -> bool:
    return part.value is True if vocabulary()[part.id].kind == "acknowledge" else part.id in _YES_FOR_IT and part.value == "yes"
