"""One contact told by its number on the strip, with what stands beside it: "two then, open, the others are closed".

"Two" alone may be more than one and is asked back; with others that are closed, or the contact's own name, it is the second.
The patterns are the project's own reading of how people tell it.
"""

import re

from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question

_ASKED = "chain_dead_check"
_NUMBER = r"(?P<number>one|two|three|four|five|six)"
_ITS_OWN = re.compile(
    rf"(?:(?:no|well|so|it's|that's|it is|i said|just|only|the|contact|number|on|at) )*{_NUMBER}(?P<one>'s| is)?"
    r"(?: (?:then|here|only|open))*(?P<more>.*)"
)
_OTHERS_CLOSED = re.compile(
    r"(?: and| but)? ?(?:all )?(?:the )?(?:others?|rest|other ones?|other (?:two|three|four|five))(?: of them)?(?: they)?"
    r"(?:'re|'s| are| is)?(?: all)?"
    r" (?:closed|good|fine|okay|made|shut|ring|ring out|beep|read zero|zero(?: ohms)?|have zero(?: ohms)?)"
)
_OTHERS = re.compile(r"\b(?:others?|rest|other ones?)\b")
_OF_NAME = re.compile(
    r" ?(?:(?:of|for|is|it's|that's|the) )*(?P<name>oil|high pressure|high|low pressure|low|motor|discharge)(?: one| contact)?"
)


def one_contact(question: Question, words: str) -> str:
    """The contact in plain words, "contact two"; empty where the words do not tell just one.

    >>> asked = Question("chain_dead_check", local={"chain_dead_check": {"contact two": "high pressure"}})
    >>> one_contact(asked, "two then, open, the others they are closed"), one_contact(asked, "two, of the high pressure")
    ('contact two', 'contact two')
    >>> one_contact(asked, "two are open"), one_contact(asked, "two, the oil"), one_contact(asked, "two")
    ('', '', '')
    """
    match = _ITS_OWN.fullmatch(normalise(words.replace(",", " "))) if question.asking == _ASKED else None
    contact = f"contact {match['number']}" if match else ""
    meant = question.local.get(_ASKED, {}).get(contact)
    if match is None or meant is None:
        return ""
    if not match["more"].strip():
        return contact if match["one"] and "open" in words.lower() else ""  # "two is open", not "two are"
    if _OTHERS_CLOSED.fullmatch(match["more"]):
        return contact
    named = _OF_NAME.fullmatch(match["more"])
    return contact if named and str(meant).startswith(named["name"]) else ""


_NAME = (
    r"(?:(?:contact|number) (?:one|two|three|four|five|six)|(?:oil|high|low)(?: pressure)?|motor|discharge)"
)
_MADE = re.compile(
    rf"(?:yeah |so |well )*(?:the )?(?P<name>{_NAME}|others?|rest|other ones)(?: contacts?| one)?(?:'s|'re| is| are)?(?: all)?"
    r" (?:good|fine|closed|okay|made|shut|not open|makes?|beeps?|rings? out)"
)
_STANDS_OPEN = re.compile(
    r"(?:yeah |so |well )*"
    rf"(?:(?:it's|that's|it is) (?:just |only )?(?:the )?(?P<it>{_NAME})(?: contact| one)?"
    r"(?: (?:that's |that is |which is )?open)?"
    rf"|(?:only |just )?(?:the )?(?P<name>{_NAME})(?: contact| one)?"
    r"(?:'s| is) (?:open|not|not closed|not good|not made|the one|the open one))"
)
_CLAUSES = re.compile(
    r"\s*,\s*(?:and |but |so )?"
    r"|\s+(?:and|but) (?=the |oil|high|low|motor|discharge|it's|contact|number|others?|rest)"
)


def the_open_one(question: Question, words: str) -> str:
    """The one contact that is told open beside others that are told good, plainly; empty where it is no such sentence.

    >>> the_open_one(Question("chain_dead_check"), "the motor's fine but the discharge is open")
    'discharge'
    >>> the_open_one(Question("chain_dead_check"), "motor's fine but i haven't tried the others")
    ''
    """
    if question.asking != _ASKED:
        return ""
    clauses = [clause for clause in _CLAUSES.split(words.lower().strip(" .")) if clause]
    made = [match["name"] for clause in clauses if (match := _MADE.fullmatch(clause))]
    stands = [match["it"] or match["name"] for clause in clauses if (match := _STANDS_OPEN.fullmatch(clause))]
    if not made or len(stands) != 1 or len(made) + len(stands) != len(clauses) or stands[0] in made:
        return ""
    return stands[0]


def not_none(question: Question, words: str, said: Meaning) -> Meaning:
    """The meaning, unless all are called closed where others than one were: "the others, they are closed" leaves that one."""
    none = isinstance(said, Answer) and any((part.id, part.value) == (_ASKED, "none") for part in said.parts)
    return NotUnderstood() if none and question.asking == _ASKED and _OTHERS.search(words.lower()) else said
