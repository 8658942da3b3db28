"""Whether somebody is fit to start, told item by item: "boots are good, it's quiet in here, fan's roaring, kim knows i'm here".

Each clause must say of one thing that it is as it was asked for; what is not named is asked by itself. Typed words only. The
patterns are the project's own reading of how people talk.
"""

import re

from assistant.language.grammar import normalise
from assistant.language.heeded import DETECTOR_GOOD, FAN_GOOD, clauses_of
from assistant.language.meaning import Answer, Part, Question, Value
from assistant.language.questions import is_question
from assistant.language.unready import trouble

_LEAD = r"(?:(?:oh|yes|yeah|yep|yup|okay|ok|well|uh|um|so|and|right|sure|also|plus) )*"
_HIMSELF = re.compile(
    rf"{_LEAD}(?:(?:(?:my|the|got|i've|i|i'm|have|good|safety|wearing|with|on|solid|dry|both) )*"
    r"(?:boots|shoes|footing|feet|eyes|glasses|goggles|hands|gloves|gear|floor|ground|me|myself)"
    r"(?:'s|'re)?(?: (?:is|are|on|planted|good|fine|okay|dry|solid|covered|sound|clean|all|both|set|clear|too|firm|steady"
    r"|the floor|the ground))*"
    r"|(?:i'm|we're|i feel) (?:good|fit|fine|okay|all good|all set|ready|wide awake|well|alright)(?: to go| to start)?"
    r"|good to go|ready to go|all set|i have everything on(?: me)?|everything's on|all my gear(?:'s| is)? on"
    r"|(?:i'm |i am |i )?(?:stand|standing|standin'?|stood|steady)(?: on)?(?: (?:solid|good|firm|dry|safe|the floor|level))+"
    r"|solid|geared up"
    r"|(?:i've got |i have |got )*three points(?: of contact)?|ladder's (?:tied|good|footed))"
)
_ALL = re.compile(
    r"(?:it's |we're |i'm )?all(?: is|'s| are)? (?:good|okay|fine|well|in order)|everything(?:'s| is) (?:good|fine|okay|in order)"
    r"|all of (?:it|that)(?:'s| is) (?:good|so)"
)
_AS_ASKED: dict[str, Value] = {"fit_to_start": True, "detector_state": "quiet", "ventilation_running": "yes"}
_SOMEBODY = re.compile(
    rf"{_LEAD}(?:the |my )?(?!nobody|no|none|not|never)(?:\w+ ){{0,4}}?\w+ (?:(?:he|she|they) )?(?:knows?|informed|told"
    rf"|aware|is aware|are"
    rf" aware|was told|were told|heard)"
    r"(?: that)?(?: (?:i'm|we're|i am|where i am|where i'm at"
    r"|where we are|about it)(?: (?:up|in|out|down|on|at|back|over|round))*(?: (?:here"
    r"|there|the roof|site|work|it|me|the back))?)?"
    rf"|{_LEAD}(?:the |my )?(?!nobody|no|none|not|never)(?:\w+ ){{0,3}}?\w+(?:'s| is) (?:watching|with) me"
    rf"|{_LEAD}(?:the |my )?(?!nobody|no|none|not|never)(?:\w+ ){{0,4}}?\w+ (?:let|walked|brought|buzzed) me (?:in|up|back)"
    r"(?: so (?:he|she|they) knows?)?"
    rf"|{_LEAD}(?:i )?(?:told|called|texted|rang|phoned) (?:the |my )?\w+(?: (?:that )?i'm (?:up |in )?here)?"
)
_NO_NO = re.compile(r"^(?:no|nah|nope)(?: ?,? (?:no|nah|nope))* ?,? (?=i'm (?:fine|good|okay|all right)\b|(?:it's )?all good\b)")
"""Said to what doubts him: "no no, I'm fine"."""
_DENIED = re.compile(r"\b(?:nobody|no one|none|not|never|no|without|if|will|going to|gonna|should)\b|n't\b")
_FAN_BAD = re.compile(
    r"(?:the |that |room |exhaust |vent |ventilation )*(?:fan|ventilation)(?:'s| is)?(?: just)? (?:isn't|ain't|not|won't)"
    r"(?: (?:running|run|going|on|turning|working|start|come on))+|(?:the |that |room |exhaust |vent "
    r"|ventilation )*(?:fan|ventilation)"
    r"(?:'s| is)(?: just)? (?:off|dead|stopped|down|out|standing still)"
)
_NOT_BEEPING = re.compile(r"\bno (?:alarms?|beeping|beeps)\b|\bnot (?:beeping|going off|alarming)\b")


_ITEMS = {
    "footing": re.compile(r"\b(?:boots|shoes|footing|feet|floor|ground|stand\w*|stood|steady|solid|points|ladder's)\b"),
    "eyes": re.compile(r"\b(?:eyes|glasses|goggles|gear|geared)\b"),
    "hands": re.compile(r"\b(?:hands|gloves|gear|geared)\b"),
    "somebody knows": re.compile(r"(?!)"),
}
"""What is asked in one go; what of it nobody named is asked back by its name."""


def _items(clause: str) -> set[str]:
    """What a clause about himself tells of; "I'm good" and "I have everything on me" are all of it."""
    if "everything" in clause.split():
        return set(_ITEMS) - {"somebody knows"}
    return {item for item, of in _ITEMS.items() if of.search(clause)} or set(_ITEMS)


def room_is_so(clause: str) -> Answer | None:
    """What a clause tells of the detector or the fan that is as it must be; None for anything else.

    >>> room_is_so("no alarm"), room_is_so("the fan is off")
    (Answer(parts=(Part(id='detector_state', value='quiet', unit=None, low=None, high=None, doubt=''),)), None)
    """
    bare = re.sub(rf"^{_LEAD}", "", normalise(clause) + " ").strip()
    if DETECTOR_GOOD.fullmatch(bare):
        return Answer((Part("detector_state", "quiet"),))
    return Answer((Part("ventilation_running", "yes"),)) if FAN_GOOD.fullmatch(bare) else None


def fit(question: Question, words: str) -> Answer | None:
    """What such a sentence answers; None where a clause of it says anything else.

    Args:
        question: one that asks `fit_to_start`, perhaps with the detector and the fan.
        words: as typed.

    >>> ask = Question("fit_to_start", ("detector_state", "ventilation_running"))
    >>> [part.value for part in fit(ask, "boots are good, gear's on, it's quiet and the fan's roaring, kim knows i'm here").parts]
    [True, 'quiet', 'yes']
    >>> fit(ask, "boots are good, nobody knows i'm here")
    """
    if question.asking != "fit_to_start":
        return None
    words = _NO_NO.sub("", words.lower().strip())
    text = normalise(words.replace(",", " "))
    if is_question(text) or "?" in words or trouble(text):
        return None
    said: dict[str, Part] = {}
    told: set[str] = set()
    clauses = [part for clause in clauses_of(words) for part in clause.split(" but ") if part]
    clauses = [clause for clause in clauses if clause not in ("yes", "yeah", "yep", "okay", "sure")] or clauses
    for clause in clauses:
        bare = re.sub(rf"^{_LEAD}", "", clause + " ").strip() or clause
        bare = re.sub(r"\b(in here|here|up here|in there|all right)$", "", bare).strip() or bare
        if _ALL.fullmatch(bare):
            asked = (question.asking,) if question.alone else (question.asking, *question.also)  # what the prompt named
            said = {id: Part(id, value) for id, value in _AS_ASKED.items() if id in asked}
            told = set(_ITEMS)
        elif (room := room_is_so(bare)) is not None and (part := room.parts[0]).id in question.also:
            said[part.id] = part
        elif _FAN_BAD.fullmatch(bare) and "ventilation_running" in question.also:
            said["ventilation_running"] = Part("ventilation_running", "no")
        elif _DENIED.search(_NOT_BEEPING.sub("", clause)):
            return None
        elif _HIMSELF.fullmatch(clause) or _SOMEBODY.fullmatch(clause):
            told |= {"somebody knows"} if _SOMEBODY.fullmatch(clause) else _items(clause)
            missing = [item for item in _ITEMS if item not in told]
            said["fit_to_start"] = Part("fit_to_start", True, doubt=f"{', '.join(missing).capitalize()} too?" if missing else "")
        else:
            return None
    if len(said) > 1 and "fit_to_start" in said and said["fit_to_start"].doubt:
        del said["fit_to_start"]  # it is asked by itself, and the room is not asked again
    ids = (question.asking, *question.also)
    return Answer(tuple(said[id] for id in ids if id in said)) if len(clauses) > 1 else None
