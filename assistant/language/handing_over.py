"""Who takes it, and in how many hours, in a sentence: "the day shift can look at it, they're in at six, so eight hours".

A name that the profile does not have is taken as it is spoken. Typed words only. The patterns are the project's own reading of
how people hand work over.
"""

import re

from assistant.language.answering import one
from assistant.language.grammar import commas_apart, normalise
from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Part, Question

_OWNER, _HOURS = "follow_up_owner", "follow_up_in_hours"
_LEAD = (
    r"(?:(?:uh|um|so|well|yeah|yes|okay|and|probably|i'd say|say|let's say|make it|it'll be|it's|that'd be|that'll be"
    r"|hand it to|give it to"
)
_LEAD += r"|goes to|it goes to|leave it (?:to|for|with)|i'm handing it to) )*"
_TAKES = re.compile(
    rf"{_LEAD}(?:the |my |our )?(?P<name>[a-z][a-z.-]*(?: (?!will\b|can\b|is\b|has\b|takes?\b|in\b|gets?\b"
    rf"|does\b)[a-z][a-z.-]*){{0,2}}?)"
    r"(?:(?:'ll| will| can|'s| is| has)?(?: (?:going to|gonna|got|have to|be))*"
    r" (?:have|take|takes|taking|took|look at|looks? after|handle|handles|handling|get|gets|getting|pick up|picks up"
    r"|finish|finishes|do|does"
    r"|doing|on|got|has|over|cover|covers|follow up|follows up|mind|come back to)"
    r"(?: (?:it|this|that|over|care of it|care|of|up|on|the (?:rack|job|machine|call|rest)|from here|after that|then"
    r"|tomorrow|next))*)?"
    r"(?: (?:in the morning|tomorrow(?: morning)?|tonight|first thing|on (?:the|his|her|their) (?:next )?(?:round|shift|visit)))*"
)
_IN_HOURS = re.compile(
    rf"{_LEAD}(?:(?:he|she|they)(?:'ll| will|'s|'re)? (?:have|take|do|get to|be on|look at|on|coming|be here)(?: it|"
    rf" this| that)? )?"
    rf"(?:(?:in|within|about|after|around|by|another|give (?:him|her|them))"
    rf" )*(?P<hours>.+? hours?)(?: (?:or so|from now|i'd say))?")
_BESIDE = re.compile(
    r"(?:(?:because|since|and|but) )*(?:(?:they|he|she) comes? (?:in )?(?:tomorrow|in the morning|first thing|tonight|on \w+day)"
    r"(?: morning| afternoon| evening| at \w+)?|(?:they|he|she|day shift)(?:'re|'s| are| is)?(?: all)?(?: (?:in|on|here|back"
    r"|come|comes|start|starts"
    r"|starting|coming|get|gets|clock|clocks))+ (?:at|by|around|from|about|for) .+"
    r"|(?:there's |there is )?(?:nobody|no one)(?: else)?(?:'s| is)? (?:here|around|on|in|up here)(?: (?:now|tonight"
    r"|right now|at night|but me))*"
    r"|(?:i'll|i will|i've) (?:tell|told|call|called|text|texted|let) (?:him|her|them)(?: know)?"
    r"|(?:he|she|they)(?:'ll| will)? (?:have|take|do|look at|get to) (?:it|that|this)"
    r"|tomorrow(?: morning)?|tonight|(?:before|by) (?:noon|lunch|breakfast))"
)
"""When they come in, and that nobody is there yet."""
_CUTS = re.compile(r" , | and (?=in\b|so\b|they\b|about\b)| (?=(?:in|within) (?:[a-z]+ ){1,4}hours?\b)")
_NO_NAME = frozenset(
    "i i'm me we us you it he she they him her them nobody somebody someone anyone anybody everyone no not none nothing"
    " one who what which"
    " where when why how next other another whoever whatever he's she's that this there here a an the some any all"
    " don't won't can't"
    " is was are be been to for if maybe or else let wait hold hang give just still yet dunno hours hour minutes soon"
    " later tomorrow"
    " monday tuesday wednesday thursday friday saturday sunday safe quiet clear guy man"
    " people locked lock tag off on done yes yeah okay back running out see ask check find gone good bad".split()
) | FIGURES


def handed_over(question: Question, words: str) -> Answer | None:
    """Who takes it and in how many hours, as far as they are asked for; None where a clause says anything else.

    Args:
        question: what was asked.
        words: as typed.

    >>> asked = Question("follow_up_owner", ("follow_up_in_hours",), local={"follow_up_owner": {"day shift": "day shift"}})
    >>> [part.value for part in handed_over(asked, "day shift'll have it, say eight hours").parts]
    ['day shift', 8.0]
    >>> [part.value for part in handed_over(asked, "robin's taking it, they're in at six, so four hours").parts]
    ['robin', 4.0]
    >>> handed_over(asked, "somebody will"), handed_over(asked, "who's on tonight")
    (None, None)
    """
    ids = (question.asking, *question.also)
    if _OWNER not in ids or "?" in words:
        return None
    pieces = [piece.strip() for piece in _CUTS.split(commas_apart(words.lower()))]
    clauses = [normalise(piece) for piece in pieces if piece and not is_sound(piece)]
    clauses = [clause for clause in clauses if not _BESIDE.fullmatch(clause)]
    said: dict[str, Part] = {}
    for clause in clauses:
        part = _hours(question, clause) if _HOURS in ids else None
        part = part or _named(question, clause, alone=len(clauses) == 1)
        if part is None or part.id in said:
            return None
        said[part.id] = part
    return Answer(tuple(said[id] for id in ids if id in said)) if said else None


def _hours(question: Question, piece: str) -> Part | None:
    match = _IN_HOURS.fullmatch(piece)
    part = one(question, _HOURS, match["hours"]) if match else None
    return part if isinstance(part, Part) else None


def _named(question: Question, clause: str, alone: bool) -> Part | None:
    """Who takes it; a name that nobody knows and that is all that was said is asked back."""
    match = _TAKES.fullmatch(clause)
    if match is None:
        return None
    name, local = match["name"], question.local.get(_OWNER, {})
    if not {"not", "no", "never", "nobody"}.isdisjoint(name.split()):
        return None
    known = sorted((spoken for spoken in local if re.search(rf"\b{re.escape(spoken)}\b", name)), key=len)
    if known:
        return Part(_OWNER, local[known[-1]])
    if name in ("night", "morning", "evening", "noon") or any(word in _NO_NAME or len(word) < 2 for word in name.split()):
        return None
    return Part(_OWNER, name, doubt="." if alone and clause.endswith(name) else "")
