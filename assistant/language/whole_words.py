"""A whole sentence as it was typed, put plainly before anything is looked for in it."""

import re
from collections.abc import Callable

from assistant.language.grammar import normalise
from assistant.language.hedges import HUM
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Command, Meaning, Question
from assistant.language.names import name_words
from assistant.language.numbers import DIGITS, TEENS, TENS
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import OWN_LOCK_HUNG, kind_of

_ELSE_IS_GOOD = re.compile(
    r",? (?:and |but |so )*(?:(?:the |all the )?(?:rest(?: of (?:it|them|that))?|other stuff|other things|others)"
    r"|everything else|all else)"
    r"(?:'s|'re| is| are| looks?| seems?| checks| i find)?(?: all| just| in)* (?:fine|good|okay|right|alright|order|out|well"
    r"|as (?:it|they) should be|how it should be|where it should be|like it should|normal)(?: to me| here)?$"
)
_YES_ALL_SAFE = re.compile(
    r"(?:yes|yep|yeah|yup|yes sir|yes ma'am|sure|aye|you bet(?:cha)?|sure thing)(?: (?:yes|sir|ma'am|sure))*"
    r"(?: (?:he|she|they|the \w+)(?: both| all)? knows?)?"
    r"(?: (?:it's|it is|i'm|she's|he's|they're|we're|everything's|everybody's|all's|that's))?(?: all)?"
    r" (?:done|safe(?: as can be)?|set|ready)(?:(?: and)?(?: all)? safe)?|(?:it's |all )?done and (?:it's )?(?:all )?safe"
)
"""What answers "done, and all safe?"."""
_FRIENDLY = (
    "(?:dear|honey|hon|sugar|darling|sweetie|love|chuck|flower|pet|petal|hen|duck|buddy|pal|man|sir|ma'am|boss|mate|please)"
)
_YES_AND = re.compile(
    r"(?:oh )?(?:(?:yes|yep|yeah|yup|sure|aye|right|correct|exactly|absolutely|definitely|affirmative|indeed) ?)+"
    rf"(?:{_FRIENDLY} ?)?"
    r"(?:(?:(?:it|that|she|they|we|i)(?:'s|'re|'ve|'m)?|you) (?:(?:all|both) )?"
    r"(?:right|correct|is|are|does|do|did|am|have|so|it|got it|what i (?:said|meant|mean)|the one|so(?: now)?)(?: sir| ma'am)?"
    r"|(?:sure )?(?:is|did|are|does|do|am)|both(?: of (?:them|those|it))?|all(?: of (?:them|those|it|(?:two|three|four|five)))?"
    r"|(?:both|all|each|every one) of (?:them|those)|every(?: last| single)? one(?: of (?:them|those))?"
    r"|i (?:hung|put|did|checked|closed|opened|locked|looked at) (?:it|them|that)(?: on| myself)*|for sure|no question"
    r"|sure thing)?"
    r"|you bet(?:cha)?(?: (?:sir|ma'am|it is|they are|i did))?"
    r"|(?:right |bang )?on the money|(?:i'm )?afraid so|right enough(?:,? (?:aye|yes))?"
    r"|(?:that's (?:right|correct|it|so)|you got (?:it|that right)|(?:i )?sure (?:is|did|are|am))"
    rf"(?: {_FRIENDLY})?"
)
"""What agrees to what was asked back, in more words than a yes."""
_YES_FIRST = re.compile(
    r"^(?:oh )?(?:yes|yep|yeah|yup|right|correct|exactly|absolutely)(?: (?:sir|ma'am|hon|boss))?\s*[,.]\s*(?P<more>\w.*)$"
)
_NOT_BARELY = re.compile(
    r"\b(?:not|no|never|none|nothing|nobody|neither|but|except|only|if|unless|until|when|once|still|yet|almost|nearly|half|one of"
    r"|some|others?|another|there|was|were|yesterday|earlier|last|this morning|should|might|may|maybe|think|guess|will|going to"
    r"|gonna|need|want|try|trying|off|on|in|out|open|shut|closed|locked|unlocked|loose|broken|leak\w*|wrong|somebody|someone|he|she"
    r"|they|we|us|ours?|shar\w*|his|her|their|jump\w*|bypass\w*|tap(?:ed|ing)|wedg\w*|smok\w*|spark\w*|burn\w*|hot|live|wet|gas"
    r"|crack\w*|missing|gone|fell|with|thread|hiss\w*|hum\w*|shak\w*|knock\w*)\b|n't\b|'ll\b|\?"
)
"""Beside a yes: what may take it back, or says how something stands, which may be the contrary of what was asked back."""


def _yes_with_a_sentence(question: Question, words: str) -> bool:
    """ "Yes, it's fixed, the drier's changed", to "repaired?"; never to a value, which the sentence may have otherwise."""
    said = _YES_FIRST.match(words.lower().strip())
    if said is None or not (question.pending or kind_of(question.of) == "acknowledge"):
        return False
    others = {word for option in question.go_ahead if option != question.pending for word in option.split()}
    told = set(normalise(said["more"].replace(",", " ")).split())
    return not (_NOT_BARELY.search(said["more"]) or told & (others - set(question.pending.split())) or told & FIGURES)


_AND_SAFE = re.compile(r",? and (?:all |it's |it is |everything's )?safe\W*$", re.IGNORECASE)
_BOTH_WAYS = re.compile(
    r"\b(?:off and (?:back |then )?on(?! my (?:belt|ring|vest))"
    r"|on and (?:back |then )?off|out and (?:back )?in(?! (?:my|the) )|open and (?:back )?shut)\b"
)
""" "Turned it off and on" leaves nobody knowing how it stands."""
_IS_CORRECT = re.compile(r"(?:(?:yes|yeah|yep|yup) )?(?:it is|it's|that's|that is|this is|is|all) correct")
""" "Is correct": a yes, and no order to put something right."""
_NO_IT_IS = re.compile(r"^[^,]{2,40}?\s*,\s*no\s*,?\s*(?=(?:it's|it is|she's|they're|that's) [a-z])")
""" "Dry, no it's feeding": what stands behind the no."""
_ALL_GOOD_NO = re.compile(
    r"^(?:(?:it's |they're )?all|everything's) (?:good|fine|okay)\s*,\s*no\s*,?\s*(?=(?:the|that|my|its|it's|only|just) )"
)
""" "All good, no the probe's loose": but for that."""
_GOES_NOT = re.compile(r"\b(go|come|run|turn|hold|feed|move|start|work|stop|leak|close|open|pull)(?:e?s) not\b", re.IGNORECASE)
""" "It goes not in": how some say that it does not."""
_UNITS = "|".join(DIGITS)
_HUNDRED_AND = re.compile(
    rf"\bhundred and (?=(?:(?:{'|'.join(TENS)})(?: (?:{_UNITS}))?|{'|'.join(TEENS)}|{_UNITS})\b"
    rf"(?! (?:{'|'.join(FIGURES - {'point'})})\b))"
)
""" "Two hundred and five" is one number where one is asked for, "one hundred and one fifty" is two."""
_HYPHEN = re.compile(r"(?<=[a-z])-(?=[a-z])")
""" "Thirty-five", as it is typed."""


_MY_RED_LOCK = re.compile(r"(?i)(?<=\bmy )(?:own )?(?:red|blue|yellow|green|black|brass|personal|safety) (?=(?:lock|padlock)\b)")


_GOOD_AND = re.compile(
    r"(?i)\bgood and (?=(?:loose|dead|stuck|dirty|plugged|hot|dry|tight|cold|wet|open|shut|closed|full|clean|warm)\b)"
    r"|(?<=\bthe )good (?=\w+(?:'s| is)\b)"
)
""" "Good and loose" is loose."""


_NOUGHT = re.compile(r"\b(?:n[oa]ught|zilch)\b", re.IGNORECASE)


def put_plainly(question: Question, words: str) -> str:
    """The words without hyphens; a yes where they are no more than one.

    >>> put_plainly(Question("coil_seated"), "thirty-five on one"), put_plainly(Question("covers_on"), "yes, is correct")
    ('thirty five on one', 'yes')
    """
    if kind_of(question.asking) == "free":
        return words
    words = _NOUGHT.sub("zero", _GOES_NOT.sub(r"doesn't \1", _HYPHEN.sub(" ", HUM.sub("", words.rstrip(" .!")))))
    words = _GOOD_AND.sub("", _MY_RED_LOCK.sub("", words))
    words = words if question.also or "between" in words.lower() else _HUNDRED_AND.sub("hundred ", words)
    text = normalise(words.replace(",", " "))
    asked_back = question.asking == "confirm" and question.of not in ("", "said so")  # "is something not safe?" is another matter
    look = not question.all_good and (kind_of(question.asking) in ("choice", "yes_no") or question.look)
    if look and (put_right := _NO_IT_IS.match(words.lower())):
        words = words[put_right.end() :]
    if question.all_good:
        words = _ALL_GOOD_NO.sub("all good except ", words.lower())
    wants_a_yes = asked_back or (question.pending and not question.pending.startswith("{}"))
    if wants_a_yes:
        words = _AND_SAFE.sub("", words)
    yes = _YES_ALL_SAFE.fullmatch(text) or _YES_AND.fullmatch(text) or _yes_with_a_sentence(question, words)
    agrees = _IS_CORRECT.fullmatch(text) or (wants_a_yes and yes)
    return "yes" if agrees else words


_THEN_NO = re.compile(r"^(?P<told>[^,]+?)\s*,\s*(?:no|nope|sorry|wait|wait no|no wait|actually|i mean)\s*,\s*(?P<then>[^,]+)$")


def put_right(understand: Callable[[str], Meaning], words: str) -> Meaning | None:
    """What stands behind "no" where a look is told and then told otherwise: "bubbles, no, clear"; None where nothing is.

    Args:
        understand: what words mean to the question.
        words: as typed, with their commas.
    """
    found = _THEN_NO.match(words.lower())
    if found is None:
        return None
    first, then = understand(found["told"]), understand(found["then"])
    if isinstance(first, Command) and isinstance(then, Command):
        return then if first.name == then.name == "continue" and first.about and then.about not in ("", first.about) else None
    if not isinstance(first, Answer) or not isinstance(then, Answer):
        return None
    told = {part.id: part for part in first.parts if isinstance(part.value, str)}
    again = {part.id: part for part in then.parts}
    if len(told) != len(first.parts) or not any(id in again and again[id].value != told[id].value for id in told):
        return None
    return Answer(tuple({**told, **again}.values()))


_TO_COME = re.compile(
    r"\bto be (?!sure\b|safe\b|honest\b)\w+|^(?:(?:yeah|okay|yes|i'm|right) )*on it$"
    r"|\b(?:on|off) (?:my|its|his|her|their|the) way\b"
    r"|\bh[au]ng on\b|^(?:(?:okay|so|alright|well|now|right) )*time to\b"
    r"|\b(?:wires?|control|switch|leads?|clips?|covers?|locked|plug|jumper|it|they|them|connector|reset|button) (?:goes?|comes?)"
    r" (?:back )?(?:on|in|off|out)\b"
    r"|\bi(?:'ve)? (?:have|got|hold) (?:it|them|the \w+)(?: back| out)? (?:here|on me|with me)\b"
    r"|(?:'ll|'d|\bwill|\bwould)(?: \w+)? (?:be|get) (?:done|taken care|fixed|repaired|handled|mended|replaced)\b"
    r"|\bstart(?:ed|ing) to$|\bgood to (?:start|run|reset|go on|switch|unlock)\b"
    r"|\bdone (?:for(?: today| tonight)?|in)$|\bgood (?:god|lord|grief|heavens)\b"
    r"|\brunning (?:away|late|around|behind|out of)\b|^(?:does|is|was|has) (?:it|she|that)$"
)
""" "To be locked", "on its way", "hung on", "time to", "the wire goes back", "I have them on me", "does it": not done."""
_PROVED_DEAD = re.compile(
    r"\b(?:prove[ds]?|proven|tested|tests|reads|all|everything's|panel's|circuit's|power's) dead\b"
    r"|\bdead (?:circuit|source|leg|line|panel|outlet)\b"
)
"""What a meter shows that is to be tried on what is live."""
_LEFT_OTHERWISE = re.compile(r"\bleav(?:e|ing) (?:it|her|that) (?:unlocked|running|on|open|live|hot|powered|up|alone)\b")
""" "Leave it running" is not "leave it locked"."""
_SOMEBODY_THERE = re.compile(
    r"\b(?:somebody|someone|he|she|they|the (?:boss|manager|helper|apprentice|guy|kid|owner|electrician))(?:'s|'re| is| are)?"
    r"(?: still)? (?:on the ladder|here|in (?:there|here|it)|inside|under it|behind it|by it|near it|at it)\b"
    r"|\b(?:my|his|her) (?:hands?|arms?|fingers?|head)(?:'s|'re| is| are)(?: still)? in\b(?! my pockets?\b)"
)
"""Who stands where nobody may stand, told beside an answer."""
_ANOTHER_THING = re.compile(
    r"\b(?:pad)?locked (?:up )?(?:the|my|his|her|our) (?!own\b|lock|padlock|disconnect|breaker|switch|handle|panel|machine"
    r"|compressor|power|source|hasp|isolator|starter|unit|main|door|feed|control|circuit)\w+"
    r"|\b(?:handle|switch|disconnect|breaker|isolator)(?:'s| is)? (?:locked )?on\b|(?:^|it's |is )locked on$|\bon and locked\b"
)
"""What was locked is none of it, or it was locked as it stands on."""
_STARTED = re.compile(r"\b(?:it|she|compressor|machine)(?:'s| is| has| just)* (?:started|starts|came on|running now)\b")
_OFF_AT_ONCE = "control_power_off"
"""It counts whoever stands there: the power is off."""


def no_plain_deed(question: Question, text: str) -> bool:
    """Whether what safety hangs on is said to be still to come, of another thing, there and back, or with somebody in the way.

    >>> no_plain_deed(Question("locked_out"), "locked the van"), no_plain_deed(Question("locked_out"), "locked the disconnect")
    (True, False)
    >>> no_plain_deed(Question("control_power_off"), "turned it off and on"), no_plain_deed(Question("covers_on"), "to be on")
    (True, True)
    """
    asked = question.asking
    if asked != "command" and kind_of(asked) != "acknowledge":
        return False
    if _BOTH_WAYS.search(text) or _TO_COME.search(text) or _echoes(question, text):
        return True
    if (asked == "meter_proved_before" and _PROVED_DEAD.search(text)) or _LEFT_OTHERWISE.search(text):
        return True
    if asked in (*OWN_LOCK_HUNG, _OFF_AT_ONCE) and _ANOTHER_THING.search(text):
        return asked != _OFF_AT_ONCE or not text.endswith("off")
    if asked != _OFF_AT_ONCE and _SOMEBODY_THERE.search(text):
        return True
    runs = {"started", "running", "start", "reset"} & {word for phrase in question.go_ahead for word in phrase.split()}
    return asked == "command" and question.takes_a_done and not runs and bool(_STARTED.search(text))


_ORDERS = frozenset("open close take clip seat stop switch turn pull hang plug unplug connect hook".split())


def _echoes(question: Question, text: str) -> bool:
    """Whether the prompt's own order is all that was heard: "open the injection hand valve" opens none."""
    tokens = text.split()
    return len(tokens) > 2 and tokens[0] in _ORDERS and question.about[:1] == (tokens[0],) and set(tokens) <= set(question.about)


def rest_is_good(words: str) -> str:
    """The words with what they say of everything else in one form.

    >>> rest_is_good("coil's loose, the other stuff's all right")
    "coil's loose, the rest is good"
    """
    return _ELSE_IS_GOOD.sub(", the rest is good", words)


def _all_numbers(question: Question) -> bool:
    return all(kind_of(id) in NUMBER_KINDS for id in (question.asking, *question.also))


def first_named_last(question: Question, words: str) -> str:
    """Two numbers of which only the later is named, and by the name of what was asked first: in the order of the question.

    "Two oh eight, suction sixteen" has no suction of two oh eight.
    """
    clauses = [clause.strip() for clause in words.split(",")]
    numbered = [at for at, clause in enumerate(clauses) if FIGURES & set(normalise(clause).split())]
    if len(question.also) != 1 or len(numbered) != 2 or not _all_numbers(question):
        return words
    first, last = numbered
    own, other = name_words(question.asking) - name_words(question.also[0]), name_words(question.also[0])
    bare, named = ({word.removesuffix("'s") for word in normalise(clauses[at]).split()} for at in numbered)
    if not named & own or named & (other - name_words(question.asking)) or bare & (own | other):
        return words
    clauses[first], clauses[last] = clauses[last], clauses[first]
    return ", ".join(clauses)
