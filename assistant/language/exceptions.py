"""Everything that was asked but for what is named: "all good, except the probe's dirty"."""

import re

from assistant.language.answering import part_of
from assistant.language.hedges import bared
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question
from assistant.language.names import is_named, volunteered
from assistant.language.phrasebook import tagged
from assistant.language.spotting import loosely

_WORDS = (
    "except for|except that|except|apart from|other than|but for|but that|but|bar for|bar|save for|save|besides|minus|only that"
    "|only thing is the|only thing is|only thing that|only thing wrong is|only problem is|one thing the|one thing"
    "|with the exception of"
    "|excluding|excepting|not counting|aside from|outside of|short of|barring|although|though|however|only|just that|just"
)
_SAID_SO = r"(?:guy|man|boss|tech|shift|they|he|she|somebody|someone) (?:said|says|told)"
_ANOTHER_DAY = (
    r"last (?:time|week|month|night|visit|year|spring|summer|autumn|fall|winter|service)|yesterday|(?:weeks?|months?|years?) ago"
    r"|(?:on|at|in) the (?:last )?(?:service|inspection)|in (?:the )?(?:spring|summer|autumn|fall|winter)"
)
NOT_ALL = re.compile(
    r"\b(?:except\w*|apart from|other than|aside from|besides|bar|but|save|minus|only|once|until|till|unless|if|when"
    rf"|as far as the|{_ANOTHER_DAY}|{_SAID_SO})\b"
)
"""Beside "all good": not all of it, not now, or not by his own eyes."""
ANOTHERS = re.compile(rf"\b(?:{_ANOTHER_DAY}|{_SAID_SO})\b")
"""Of another day, or by another's word."""
_EXCEPT = tuple(tuple(phrase.split()) for phrase in _WORDS.split("|"))
_FINE = tuple((word,) for word in ("fine", "good", "okay", "yes", "everything", "all"))
_EVERYTHING = re.compile(
    r"(?:yes |yeah |yep |yup |no |nah |nope |oh |ah |well |sure |okay )*(?:(?:it's|that's|they're|it is"
    r"|they are|we're|i'm|she|it|they) )?"
    r"(?:all points|all of the above|all|everything"
    r"|the lot|every one|every one of them|all of (?:it|them|that|those|the above|these)"
    r"|the whole lot"
    r"|each one|every single one|every item|all items|each of them|the full list|the whole list|whole list|all boxes|every box"
    r"|all six|all five|all four|things|everything there|everything here|everything on (?:the|that|your) list|all those things"
    r"|all (?:them|those|these) things|all on (?:the|that|your) list|all you (?:said|listed|named|mentioned)"
    r"|everything you (?:said|listed|named|mentioned|asked))?"
    r"(?:'s|'re| is| are| looks| looking| look| seems| seem| checks out| been| has been| have been)?(?: all)? ?"
    r"(?:good|fine|okay|proper|grand|sound|perfect|normal|right|in order|as it should be|as they should be|how it should be"
    r"|as it ought to be|where it should be|like it should be|how it ought to be|the way it should be|in good order|ship shape"
    r"|ticked(?: off)?|checked(?: off| out)?|covered|taken care of|in place|in hand|present and correct|correct|spot on"
    r"|a okay"
    r"|satisfied|satisfactory|well|happy|dandy|sweet|set|all set|squared away|sorted|confirmed|affirmative"
    r"|positive|yes"
    r"|met|there|tip top|mint|lovely|excellent|great|super|fantastic|brilliant|tickety boo|hunky dory|peachy|golden|cool|alright"
    r"|acceptable|healthy|clean|all clear|clear)"
    r"(?: (?:across the board|all round|all around|everywhere|here|there"
    r"|on all (?:of )?(?:that|it|them|those|fronts|points|counts)"
    r"|on my end|on this end|this end|from here|to me|on every (?:one|point|count)|on everything|to all of (?:it|them|that)"
    r"|as far as i can (?:see|tell)|on the list|over here|down here|up here|today|tonight|now|too|as well|indeed|man|buddy"
    r"|by me|with me|at my end|so far|thanks|sir|mate|boss))*"
)
"""Everything, or nothing named, and that it is good; of one word it is looked at only before an exception."""
_ONLY = re.compile(
    r"(?:it's |there's )?(?:only|just|the only (?:thing|problem|one|issue)(?: is| wrong is"
    r"| that's wrong is)?(?: that)?)(?: the)? (.+)"
)
"""What alone is different."""
_YES_TO_ALL = re.compile(
    r"(?:yes|yep|yeah|yup|affirmative|positive|good|okay|check|fine|true)(?: sir)? (?:to|on|for|with) (?:all|everything"
    r"|the lot|each"
    r"|every one|every single one|all (?:six|five|four|three|points|counts|items|fronts)|(?:all|each"
    r"|every one) of (?:it|them|that|those"
    r"|these|the above)|the whole lot|the whole list|all the above|all that|all those)"
)
_NOTHING_ODD = re.compile(
    r"(?:i )?(?:see |saw |found |there's |there is )?(?:nothing|no problems?|no issues?|no trouble|no worries|no complaints)"
    r"(?: at all| there| here)?(?: (?:wrong|amiss|odd|weird|strange|funny|unusual|out of place|out of order"
    r"|out of the ordinary|loose"
    r"|to report|of note|to worry about|to speak of|jumps out|jumping out|stands out|standing out|sticks out"
    r"|looks wrong|looks off"
    r"|looks odd|bad|broken|damaged|with any of (?:it|them|that)|anywhere|off|untoward))*"
    r"(?: (?:at all|here|there|that i can see|as far as i can see|with it|with any of it|on it|to me))*"
)
"""The same by what there is not."""
_REST = re.compile(
    r"(.+?) (?:but )?(?:and )?(?:all )?(?:the )?(?:rest of it|rest of them|rest|others|other ones|other things"
    r"|everything else|all else"
    r"|all the rest|remainder)"
    r"(?:'s| is| are|'re)?(?: all)? (?:good|fine|okay|normal|looks good|looks fine|looks okay|checks out|as it should be"
    r"|right|in order"
    r"|looks right|looks normal|perfect|grand|correct|in order|okay too|fine too|good too)"
)


def everything_good(text: str) -> bool:
    """Whether these words say that all that was asked for is good, and name nothing.

    >>> everything_good("good across the board"), everything_good("good"), everything_good("the food's good")
    (True, False, False)
    """
    by_all = _EVERYTHING.fullmatch(text) or _YES_TO_ALL.fullmatch(text)
    return len(text.split()) > 1 and bool(by_all or _NOTHING_ODD.fullmatch(text))


_BUT = re.compile(
    r"\b(?:all|everything|rest|good|fine|okay|intact)\b.*?\b(?:but|except|apart|other than|besides|minus|save|bar|only)\b (.+)"
)
"""What is not as the rest of it."""
_NOT_SO_NOW = re.compile(
    rf"\b(?:once|until|till|unless|if|as far as the|{_ANOTHER_DAY}|{_SAID_SO}"
    r"|nothing(?:'s| is) (?:good|fine|okay|dry|clean|open|seated|intact))\b"
)
"""By which everything is good at another time, up to some thing, or by another's word."""


def sound_but(question: Question, text: str, meaning: Meaning) -> Meaning:
    """The answer without what was excepted from it by its name and came out as good as the rest all the same ("all good but
    the fan is gone"), nor what only the words that were said of it could be of; that is asked for by itself."""
    told = meaning.parts if isinstance(meaning, Answer) and question.all_good else ()
    if len(told) > 1 and all(question.all_good.get(p.id) == p.value for p in told) and _NOT_SO_NOW.search(text):
        return NotUnderstood()
    match = _BUT.search(text) if question.all_good and isinstance(meaning, Answer) else None
    if match is None or not isinstance(meaning, Answer):
        return meaning
    named = {id for id in (question.asking, *question.also) if is_named(id, match[1])}
    good = {part.id for part in meaning.parts if question.all_good.get(part.id) == part.value}
    if not named & good:
        return meaning
    kept = tuple(part for part in meaning.parts if (part.id in good) != (part.id in named))
    return Answer(kept) if kept else NotUnderstood()


def all_but(question: Question, tokens: tuple[str, ...]) -> Answer | None:
    """ "All good, except the probe's dirty", "probe's dirty, the rest is good": all that was asked, and what is different."""
    if match := _ONLY.fullmatch(" ".join(tokens)):
        tokens = ("all", "good", "except", *match[1].split())
    if match := _REST.fullmatch(" ".join(tokens)):
        tokens = ("all", "good", "except", *match[1].split())
    for cut in range(1, len(tokens) - 1):
        word = next((e for e in _EXCEPT if tokens[cut : cut + len(e)] == e), None)
        fine = word and word[0] != "but" and tokens[:cut] in _FINE
        plain = " ".join(tokens[:cut])
        good = (
            fine
            or (word and everything_good(plain))
            or (word and any(" ".join(form) in tagged("choices", "all_good") for form in bared(tokens[:cut])))
        )
        if not word or not good:
            continue
        parts = volunteered(question, tokens[cut + len(word) :], loosely)
        ids = (question.asking, *question.also)
        if parts and all(part.id in ids for part in parts):
            said = {part.id: part for part in parts}
            rest = {id: value for id, value in question.all_good.items() if id in ids and id not in said}
            return Answer((*(part_of(question, id, value) for id, value in rest.items()), *parts))
    return None
