"""What acknowledges a caution in people's own words: that it was heard, or that it is as it asks ("gloves on, shield down").

Typed words only; the ear listens for "understood" and its like. The words are the project's own reading of how people talk.
"""

import re
from functools import cache

from assistant.language.grammar import normalise
from assistant.language.hedges import HUM, hedge_words
from assistant.language.lone_numbers import FIGURES
from assistant.language.numbers import number, spoken_number, told_number
from assistant.language.questions import is_question
from assistant.language.remarks import remark
from assistant.language.spotting import general
from assistant.language.unready import unready
from assistant.language.wording import cautions

LEAST_OXYGEN_PERCENT, MOST_OXYGEN_PERCENT = 19.5, 23.5
"""Air to breathe, by the room's caution and 29 CFR 1910.146: less starves, more burns."""
_FILLS = "mm hm|mm-hm|mhm|uh huh|yes|yeah|yep|yup|okay|ok|alright|right|sure|uh|um|well|oh|and|so"
_SAID = (
    "yes|yeah|yep|yup|okay|ok|alright|all right|right|sure|understood|got it|got you|gotcha|noted|heard|heard (?:you|that|it)",
    "loud and clear",
    "i (?:heard|hear) (?:you|ya|that|it)|copy(?: that)?|roger(?: that)?|ten four|will do|always do|always|as always|i always do",
    "of course|no problem|no worries|fair enough|sure thing|you bet|absolutely|certainly|thanks|thank you|aye|cheers|read you",
    "i know(?: that| it| the drill| better(?: than that)?)?",
    "i know (?:it|that|they|she) (?:can|does|do|will|might|is|are)"
    "(?: (?:kick on|kick off|start|come on|run|kick in|on (?:her|its|their) own|by (?:it|her|them)sel(?:f|ves)))*",
    "i'm clear(?: of it)?|know that|(?:i'm )?aware(?: of (?:it|that))?|i understand(?: (?:this|that|it))?",
    "makes sense|point taken|got that|i got you|i got it|i've got it|sounds good|will stay clear",
    "(?:i'm |being )?careful|(?:i'll|i will|we'll) (?:be careful|watch (?:it|out)|mind it|keep clear|do that|take care|remember)",
    "i'm (?:on it|with you|listening|good)|we're (?:good|grand|set|fine|all right)|(?:all )?good|that's (?:fine|clear"
    "|understood)",
    "acknowledged|ready|all set|(?:i've |i have )?done (?:it|this|that)(?: (?:before|many times|a hundred times))?|fine"
    "|(?:i'll|i will) (?:mind|watch) (?:it|that)",
    "(?:i'm |i am )(?:always |very )?careful(?: with (?:it|that|the \\w+))?",
    "(?:(?:i'm|we're|all) )*(?:suited and booted|suited up|geared up|kitted up)",
    "(?:crystal )?clear|(?:i )?(?:have )?understood(?: that| it)?|okie ?doke|okey dokey|i hear you|yes i know|i (?:do )?see",
)
_NAMED_SO = "ma'am|sir|boss|mate|then|thanks|thank you|man|buddy|honey|hon|dear|pal"
_HEARD = rf"(?:(?:{_FILLS}) )*(?:{'|'.join(_SAID)})(?: (?:{_NAMED_SO}))*"
"""What says that it was heard."""
_SCOFFS = re.compile(r"\b(?:yeah|yes|sure|oh|okay) right\b|\byeah yeah yeah\b")
"""What sounds like assent and is none."""
_BEFORE = (
    "i've|i|i'm|we're|got|have|my|our|own|the|a|both|one|two|wearing|with|put|keeping|using|is|are|it's|only|just|of|reading|read"
    "|already|all|ever|use|always|rated|dry|fused|good|arc|that's|there's|face|safety|here's|yes|yep|yeah|okay|well|also|on|flash"
)
_BEHIND = "is|are|on|down|good|checked|read|tested|in place|in my pocket|all|already|too|both|now|okay|fine|meets it|clear"
_BEHIND += "|only|me|dry"
_FIGURE = "|".join(sorted(FIGURES))
_GEAR = "gloves|gloved up|leathers|shield|visor|glasses|goggles|gear|ppe|kit"
_KEPT = {
    "lock_out": r"tag|tag(?:'s| is)? read|lock|lock(?:'s| is)?(?: hung| hanging)|lock(?:'s| is)? on (?:her|it|there|him)|padlock"
    r"|key(?:'s| is)? (?:in my pocket|with me|on me|right here|here)|key|(?:i )?read it"
    r"|key (?:stays|is staying|stay|rides|goes)(?: right)? (?:with me|on me|(?:in|on) my (?:pocket|belt|vest))"
    r"|(?:i'll |i will |i'm going to )?(?:hang|put|use)(?: on)? my (?:own )?lock(?: on)?(?: (?:it|there))?",
    "proving": rf"{_GEAR}|hand|meter|treating it (?:like|as)(?: if| though)?(?: it's| it is)? (?:live|hot)"
    r"|(?:it's|it is) live (?:until|till) (?:i|we) (?:prove|test|know|check)(?: (?:it|otherwise))*",
    "live": rf"{_GEAR}|dry|i'm dry|label|clothing|leads|hand",
    "live_place": rf"{_GEAR}|dry|i'm dry|ladder|fiberglass|fiberglass ladder|ear|floor|nothing(?:'s| is)? (?:wet|metal)",
    "hot_line": rf"{_GEAR}|(?:it's |it is |about |at |(?:the )?pipe's |(?:the )?line's |down to |only )*"
    rf"(?:{_FIGURE})(?: (?:{_FIGURE}))*"
    r"(?: degrees)?(?: now)?(?: (?:on|at) the (?:line|pipe|clamp))?"
    r"|(?:i think )?(?:it's |it has )?been off (?:a while|hours|for hours)"
    rf"|(?:it's |it has )?been off (?:for |about |over )*(?:{_FIGURE})(?: and a half)? hours?(?: now)?"
    r"|(?:i think |i guess )*it's (?:cooled|cooling|gone|luke ?warm|cool|cold|only|just|barely)(?: (?:down|off|cold|cool"
    r"|warm|by now|now|though))*",
    "liquid_and_cold": rf"{_GEAR}|(?:i'm |i am )?(?:licensed|certified|carded)"
    r"|(?:i've |i have )?(?:got )?(?:my )?(?:licen[cs]e|card)(?: (?:on|with) me)?",
    "acid": _GEAR,
    "jumper": rf"{_GEAR}|start(?:'s| is)? blocked|starter(?:'s| is)? blocked",
    "coil": rf"{_GEAR}|power(?:'s| is)? off|(?:it's|it is|she's) locked out"
    r"|(?:the )?coil(?:'s| is)(?: still)? on (?:its|the) stem"
    r"|(?:it's |it stays |it is )?(?:staying |stays )?on (?:its|the) stem"
    r"|(?:i )?(?:won't|will not|never|don't|do not) (?:pull|lift) it(?: off)?(?: (?:hot|live|powered))?",
    "insulation_test": rf"{_GEAR}|(?:it's )?isolated|modules(?:'re| are)? (?:off|unplugged)|drive(?:'s| is)? (?:off"
    rf"|unplugged)|no vacuum|charge(?:'s| is)? known"
    r"|(?:there's |there is )?no (?:drive|soft starter)(?: (?:on this one|here|on it))?",
    "ladder": r"ladder|three points|tied|tied off"
    r"|(?:the )?(?:roof|rungs|ladder|footing|ground|deck)(?:'s|'re| is| are)? (?:dry|clean|solid|good|level|firm)",
    "fans": r"arm's length|clear of the fans?|clear of them"
    r"|(?:the )?(?:fan circuit|fans?)(?:'s|'re| is| are)? locked out(?: too)?",
    "restart": r"(?:i know (?:that )?)?(?:it|she) (?:can|could|may|might) (?:start|kick|come|fire)(?: up| on| in)?"
    r"(?: (?:by|on) (?:itself|herself|its own|her own)| any ?time| without warning)*"
    r"|clear of it|hands clear|hands are clear|standing (?:clear|back)"
    r"|(?:i'm |we're |i'll |i will |we'll )?(?:staying |keeping |standing |stay |keep |stand )?(?:clear|back|away|(?<=ing )off)"
    r"(?: (?:of|from) (?:it|the machine|her))?"
    r"|clear of the machine|stepping back|stepped back|hands off",
    "reset": r"one (?:shot|try|reset|go)(?: at it| only)?|just (?:the )?one|only one(?: reset| shot| try)?|once(?: only)?"
    r"|if it (?:goes|trips|drops out)(?: again)? (?:i|it|we)(?:'ll)? (?:leave it|stays?|lock it)(?: off| out| locked)?"
    r"|(?:i |i'll )?(?:then )?(?:walk away|leave it (?:alone|off)|lock it(?: out| off)?)",
    "terminals": rf"{_GEAR}|standing aside|off to the side|to the side",
    "pressure_test": r"nitrogen|regulator|relief",
    "brazing": r"permit|fire watch|nitrogen|nitrogen flow|no (?:torch|flame|brazing)|just a (?:flare|fitting|nut)",
    "charging": r"scale|rack and cylinder|same refrigerant",
}
"""What a caution asks for, by the names of things: said to be there, it was heeded."""
_OF_ITS_WORDS = frozenset(
    "i i'm i've i'll we we're my me the a an is are it it's its that's this has have got will wear wearing keep keeping"
    " kept on only"
    " still going now just here there and all that of to with for both at in put putting time times reading read be"
    " being yes okay"
    " one two hands hand gloves glasses shield tag lock power known them they they're there's so too again well once".split()
)
"""What may stand beside a caution's own words where they are told back: "one hand and all that"."""
_ALL_OF_IT = frozenset(
    "go on|go ahead|i hear it|i can hear it|i see it|all that|all of that|the rest|the rest of it|so on|all of it"
    "|i'm okay in here|i'm fine in here|i'm good in here|i'm okay|we're okay in here".split("|")
)
_NAMED = frozenset("gloves glasses shield tag lock power hand hands one".split())
_DENIES = re.compile(
    r"\b(?:not|no|never|without|nothing|nobody|none|if|when|until|till|unless|but|except|instead|later|after|before|maybe"
    r"|should|would"
    r"|could|can|may|might|other|another|someone|somebody|he|she|his|her|their|anyway|though|lost|left|forgot|out|off"
    r"|one glove)\b|n't\b"
)
_DETECTOR = (
    r"(?:(?:the|my|gas|leak|room) )*(?:detector|sniffer|monitor|sensor)(?:'s| is| reads| shows| looks)?(?: all| still| nice and)*"
    r" (?:(?:lit|on|green) and )?(?:lit|quiet|green|on|good|fine|happy|silent|normal|okay|clear|working|zero"
    r"|not (?:beeping|going off|alarming|sounding))"
    r"|(?:the )?green (?:light|lamp)(?:'s| is) (?:on|lit)|(?:the )?alarm(?:'s| is) (?:quiet|silent)|(?:all|it's|it's"
    r" all|everything's) (?:nice and )?quiet|no (?:alarms?"
    r"|beeping|beeps|leak alarm)"
    r"|(?:it's |she's |all |is )?(?:quiet|silent)(?: (?:the )?detector)?|lit and quiet"
    r"|(?:(?:the|its|detector|green) )*(?:light|lamp|led)(?:'s| is)(?: still| all| nice and)* (?:on|lit|green|steady)"
    r"|(?:it's |it is |it |she's |she is |she |is |and )?(?:not|ain't|isn't) (?:beeping|sounding|going off|alarming"
    r"|holler(?:ing|in')|screaming|making a (?:sound|peep|noise))"
    r"|nothing(?:'s| is)? (?:sounding|beeping|going off|in alarm|alarming)|not a (?:peep|sound|beep)(?: out of it| from it)?"
)
_FAN = (
    r"(?:(?:the|exhaust|room|vent|extract) )*(?:fans?|ventilation|ventilator|exhaust)(?:'s|'re| is| are| she| it| he)?"
    r"(?: all| still)*"
    r" (?:running|runs|turns|works|blows|on|going|humming|good|fine|spinning|blowing|roaring|working|pulling|turning)|fan running"
)
_NOT_ON = r"(?:not|isn't|ain't) (?:on|lit|running|going|working|turning)"
_LACKS = (
    ("no fan", re.compile(
        r"\b(?:no (?:exhaust |room |vent )?(?:fan|ventilation|exhaust)"
        r"|(?<!head )(?<!condenser )(?:fan|ventilation|exhaust)(?:'s| is| has)?(?: still| all| just| been)*"
        rf" (?:off|out|down|dead|broken|stopped|quit|seized|{_NOT_ON}|(?:won't|doesn't) (?:run|start|go|come on|work)))\b"
    )),
    ("no detector", re.compile(
        r"\b(?:no (?:detector|sniffer)|(?:detector|sniffer)(?:'s| is| has)?(?: still| just| all)*"
        rf" (?:dark|off|dead|out|blank|broken|unplugged|{_NOT_ON}))\b"
    )),
    ("alarm", re.compile(
        r"\b(?:detector|sniffer|alarm)(?:'s| is)?(?: still| just)*"
        r" (?:red|flashing|beeping|chirping|going off|screaming|sounding|not quiet|isn't quiet)\b"
    )),
)  # fmt: skip
"""What the room's caution asks for and is not so."""
_AIR = (
    r"on my meter (?:is|it's|i have|there's) (?P<led>(?:[\w.]+ ?){1,4})"
    r"|(?:i've|i) (?:got|get|have|read|see) (?P<of_it>(?:[\w.]+ ){1,4}?)(?:percent )?(?:on|of|for) (?:the )?(?:oxygen|o two)"
    r"|(?:(?:i've|i) (?:got|get|have|read) )?(?P<on_mine>(?:[\w.]+ ){1,4})(?:percent )?(?:oxygen )?on (?:my|the) (?:own"
    r" )?(?:meter|monitor|clip)"
    r"|(?:(?:the|my) )?(?:oxygen|air|meter)(?: meter)?(?:'s| is| reads| says| at| shows| level)*(?: at| about| good| fine| okay)?"
    r"(?: (?P<percent>(?:[\w.]+ )*?[\w.]+)(?: percent)?)?|(?P<alone>(?:[\w.]+ ){1,4})percent(?: oxygen)?"
)
DETECTOR_GOOD, FAN_GOOD = re.compile(_DETECTOR), re.compile(_FAN)
_WHOLE = r"(?:everything|it|all of it|room)(?:'s| is| looks)(?: all)? (?:good|fine|normal|okay|right|safe|clear)"
_AND = re.compile(r" and (?!quiet|silent|clear\b|booted)|^and ")
"""Between two clauses, not inside "lit and quiet"."""
_PIECES = re.compile(r",|[.;:!](?=\s|$)")


def clauses_of(words: str) -> list[str]:
    """The clauses of what was typed, normalised: cut at commas and at what joins two."""
    return [clause for piece in _PIECES.split(words) for clause in _AND.split(normalise(piece)) if clause]


@cache
def _pattern(names: tuple[str, ...], gear: bool) -> re.Pattern[str]:
    """What acknowledges these cautions, or, with `gear`, what may stand beside that at any."""
    kept = "|".join([_KEPT[name] for name in names if name in _KEPT] + ([_GEAR] if gear else []))
    ways = [_HEARD] + ([rf"(?:(?:{_BEFORE}) )*(?:{kept})(?:'s|'re)?(?: (?:{_BEHIND}))*"] if kept else [])
    ways += [_DETECTOR, _FAN, _WHOLE] if "room" in names else []
    return re.compile("|".join(f"(?:{way})" for way in ways))


def heeded(words: str, names: tuple[str, ...]) -> bool:
    """Whether each clause acknowledges these cautions, or says that what they ask for is so.

    Args:
        words: as typed.
        names: of `cautions.toml`, those that wait to be acknowledged.

    >>> heeded("got it, gloves on and shield down", ("live",)), heeded("gloves are off", ("live",)), heeded("wait", ("live",))
    (True, False, False)
    >>> [heeded(said, ("room",)) for said in ("detector's green, fan's humming, oxygen's fine", "oxygen's at eighteen")]
    [True, False]
    """
    words = HUM.sub("", words.lower()).replace("one and done", "one shot")
    text = normalise(words.replace(",", " "))
    if is_question(text) or "?" in words or _SCOFFS.search(text) or CONTRARY.search(text):
        return False
    clauses = clauses_of(words)
    of_it = any(_heeds(clause, names, False) or _led(clause, names, False) for clause in clauses)
    return (of_it and all(_beside(clause, names) for clause in clauses)) or _assents(text, clauses, names)


def _assents(text: str, clauses: list[str], names: tuple[str, ...]) -> bool:
    """Whether somebody assents, or says back what the caution says, and tells more that nowhere speaks against it: "yeah, it can
    kick in any time"."""
    plain = _KEEPS_OFF.sub("well", _SAYS_IT_BACK.sub("well", text))
    told = [_SAYS_IT_BACK.sub("well", clause) for clause in (plain, *clauses) if not _forbids_too(clause, names)]
    if _AGAINST_IT.search(plain) or _DOES_IT.search(plain) or any(unready(clause) or remark(clause) for clause in told):
        return False
    if "room" in names and any(oxygen_percent(clause) is not None and not _good_air(clause) for clause in clauses):
        return False
    led = bool(_ASSENT.match(text) or _ASSENT_LAST.search(text))
    led = led or any(_told_back(clause, names) or _heeds(clause, names, False) for clause in clauses)
    return led and all(_beside(clause, names) or _of_the_caution(clause, names) for clause in clauses)


def _forbids_too(clause: str, names: tuple[str, ...]) -> bool:
    """Whether a clause only says back what the caution forbids: "no power with the cover off", "never on without its stem"."""
    plain = _ASSENT.sub("", clause).strip()
    own = _stems(_all_words(names) | _SAY_NOTHING | _OF_ITS_WORDS)
    return bool(_FORBIDS.match(plain)) and all(_stem(word) in own or word in _FORBIDDING for word in plain.split())


_FORBIDDING = frozenset("i it her no never not nothing none without before off out i'll won't".split())
_FORBIDS = re.compile(r"(?:and )?(?:(?:i'm |i )?(?:no|never|not|nothing)\b|i won't\b|power(?:'s|'ll be)? off before\b)")
_SAYS_IT_BACK = re.compile(
    r"\b(?:(?:i|we) (?:won't|will not|never) start (?:her|it)"
    r"|(?:starts?|runs?|comes? on|kicks? in) alone|comes? on (?=on their own|by themselves|alone|by itself)"
    r"|while (?:it|she)(?:'s| is) running|(?:fed|comes|coming|power) (?:from|off|out of) (?:another|the other|a different) panel"
    r"|power (?:is |comes |coming )?from (?:an? ?)?other (?:place|panel|source|circuit)"
    r"|she(?:'s| is)? (?:not|isn't|ain't) (?:beeping|sounding|going off|holler(?:ing|in')|screaming"
    r"|making a (?:sound|peep|noise))"
    r"|moved the (?:metal|aluminum) ladder (?:out|away)(?: of (?:here|the way))?(?: already)?)\b"
)
"""What a caution says, in words that elsewhere speak against it."""


def _of_the_caution(clause: str, names: tuple[str, ...]) -> bool:
    """Whether a clause is about what the caution says, by a word of it, or promises care; never with a number of its own."""
    plain = _ASSENT.sub("", clause).strip()
    if not plain or _LIVED.fullmatch(plain) or _STOPS_IF.fullmatch(plain) or _BESIDE_IT.fullmatch(plain):
        return True
    own = _all_words(names)
    tokens = _KEEPS_OFF.sub("well", plain).split()
    if FIGURES & {word for word in tokens if word not in own}:
        return False
    stems = _stems(own | _SAY_NOTHING) | _of_its_name(names)
    if not all(_stem(word) in stems or word in _plain_words() or word.removesuffix("'s") in _plain_words() for word in tokens):
        return False  # "my knee's braced on the suction line" is of the caution too
    about = {_stem(word) for word in plain.split() if len(word.partition("'")[0]) >= _LONG or word in _SHORT} & _stems(own)
    return bool(about) or bool(_KEEPS_OFF.search(plain) or _PROMISES.fullmatch(plain) or _REFRAINS.search(plain))


@cache
def _plain_words() -> frozenset[str]:
    """Words of which it is known that they change nothing of an acknowledgement."""
    lists = ("settled", "did", "beside_deeds", "mild_beside", "beside_cautions")
    return general() | _OF_ITS_WORDS | frozenset(word for name in lists for word in hedge_words(name))


@cache
def _all_words(names: tuple[str, ...]) -> frozenset[str]:
    """Every word of these cautions and of why, what they forbid too."""
    words = [word for name in names for text in cautions()[name].values() for word in normalise(text).split()]
    spoken = [part for word in words if word.replace(".", "", 1).isdigit() for part in spoken_number(float(word)).split()]
    return frozenset(words + spoken) - _SAY_NOTHING


_SAY_NOTHING = frozenset(
    "this that with without before after from they them their have your still only until when also itself where what"
    " will into over take"
    " near here there good open closed locked says same".split()
)
_LONG = 4
_SHORT = frozenset("hot gas oil wet".split())
"""Letters from which a word says what it is about, and shorter ones that do."""
_PROMISES = re.compile(
    r"(?:(?:and|so|then) )*(?:i'll|i will|we'll|i'm|we're|i)(?: just| only| always| gonna| going to)* (?:be|keep"
    r"|keeping|stay|staying|mind|watch|watching"
    r"|listen|look|take|weigh|bring|treat|standing|stand|careful|clear|well|leave it off|leaving it off)\b.*"
)
_REFRAINS = re.compile(
    r"\b(?:not|never|won't|wouldn't|don't want(?: to)?)(?: be)? (?:touch\w*|clean\w*|start\w*|power\w*|vent\w*|lean\w*|lift\w*"
    r"|shut|trap|clos\w*|go|going|open\w*|take"
    r"|a face|cook)\b"
)


_LIVED = re.compile(
    r"(?:(?:and|we|we've|i|i've) )*(?:seen|had|heard about|learned|burned) (?:that|those|this|one|it|them|what \w+)\b"
    r".*\b(?:once|before|wrong|years ago|hard way|in training|in school|in class|as an apprentice|that way|happen)"
    r"|(?:and )?(?:my|the) (?:old |first )?boss drilled (?:that|it) into (?:me|us)|(?:and )?i've got the scar to (?:prove"
    r"|show for) it"
    r"|(?:one of (?:these|them|those)) (?:jumped|kicked|bit|started) on me (?:years ago|once|before)|(?:we|i) had that in \w+"
)
"""What he has lived through with such a thing, which is no news of this one."""
_KEEPS_OFF = re.compile(
    r"\b(?:leav(?:e|ing) it off|(?:(?:my|left|right|other|one|got) )*hand(?:'s| is)? (?:behind my back|in my pocket"
    r"|by my side)|(?:my |your |the )?(?:hands?|fingers?|sleeves?|tools?|face) (?:out|away|off|back|clear)(?: of (?:it|there"
    r"|the way))?"
    r"|out of (?:the way|line)(?: of (?:it|any \w+))?|tied off|(?:not|never) into|behind my back|in my pocket|cut off"
    r"|off my skin|off to one side|out again)\b"
)
"""What is kept away from it, or left alone."""
_STOPS_IF = re.compile(
    r"(?:and |but )?(?:if|when|once) (?:it|she|he|they|that|i see water|i see damage|there's water)(?:'s"
    r"| is)? ?(?!.*\b(?:hold|keep|push|press|reset|again i)\b).*\b"
    r"(?:i'm (?:gone|out|off|out of here)|(?:i|i'll|i will) (?:just )?(?:stop|kill|shut|switch|lock|leave|get out|walk"
    r"|back off|quit)\b"
    r"(?: (?:it|her|him|them|off|out|down|right|straight|away|there|then|at once))*|it's locked(?: and left off| and off| out)?)"
)
"""What he stops for."""
_BESIDE_IT = re.compile(
    r"(?:(?:and|so|but) )*(?:(?:i'm|i am|we're|i'll be) )?(?:(?:not|never) (?:facing (?:it|them)|in front of (?:it|them)|near it"
    r"|under it|over it)|(?:stood|standing|staying|keeping|well|right|way)(?: (?:well|right|way|good and))* (?:back|clear"
    r"|aside|away"
    r"|to (?:one|the) side|off to (?:one|the) side|beside it)|beside it|to (?:one|the) side)(?: (?:of it|from it|of them"
    r"|already|now))*"
    r"|(?:(?:it|he|she|they)(?:'s| is| are)? )?(?:can|could|may|might|will|do|does)?(?: ?just)? ?(?:kicks?|starts?|comes?"
    r"|fires?|jumps?)"
    r" (?:in|on|up|off)?(?: ?(?:any time|anytime|at any time|whenever it (?:likes|wants)|(?:on|by|all by) (?:its|their) own"
    r"|by itself"
    r"|by themselves|alone|without (?:warning|asking)))+"
    r"|(?:no|yes) (?:sir|ma'am)|no thank(?:s| you)|nothing else|and all|fans and all|clear to me|nasty(?: stuff)?"
    r"|nice view up here"
    r"|(?:i'm )?(?:all )?set|that's it|(?:one|just one|only one)(?: go| time)?(?: only)?|same (?:stuff|gas"
    r"|refrigerant)(?: in both| on both)?"
    r"|(?:rungs|it|floor)(?:'s|'re| is| are)? dry|ears? open|nice(?: and (?:breezy|quiet|dry|warm))?|breezy in here"
    r"|(?:they|both|both of them|the labels?|labels) match(?:es)?|same on both|(?:it|that)'s on the (?:plate|label|tag)"
    r"|(?:and )?i can hear (?:the fan|it|them)(?: running)?|(?:the )?(?:suit|clothing|clothes|gear)(?:'s)? (?:matches|meets"
    r"|fits)(?: it| that)?"
    r"|(?:my )?(?:eyes|face)(?:'s| is| are)? (?:covered|protected|shielded)|leathers over (?:the|my) gloves|all my gear(?:'s)? on"
    r"|(?:i'm )?(?:in|got|i've got|wearing) (?:all )?(?:my|the) gear(?: on)?|(?:got|i've got) my (?:suit|leathers) on"
    r"|(?:the )?scales?(?:'s| is) (?:zeroed|under it|set|ready)"
    r"|(?:i'm |and )?gone|(?:okay |so |and )?(?:it's |it is )?(?:dry|bone dry|good and dry)(?: (?:in|up|out|over) here)?"
    r"|(?:my )?(?:left|right|one|other)? ?ear(?:'s| is)? (?:open|free|out|uncovered)|i (?:took|have|got) one (?:ear ?)?(?:bud"
    r"|plug)? ?out"
    r"|i can feel (?:the heat|it)(?: coming off (?:it|of it))?(?: from here)?|i checked both(?: labels)?|i'm quick(?: about it)?"
    r"|reads? (?:nineteen|twenty) (?:five|six|seven|eight|nine|point (?:five|six|seven|eight|nine))(?: percent)?"
    r"|just (?:the )?once|(?:it's |it is )?only (?:on paper|numbers|figures)(?: for now)?|just (?:the )?plug"
)
"""Where he stands, what he knows, and what he has on: it breaks no caution."""


def room_lacks(text: str) -> str:
    """What the room lacks by what is said at its caution: `no fan`, `no detector` or `alarm`; empty for nothing.

    >>> room_lacks("noted but the fan's off"), room_lacks("detector's dark"), room_lacks("fan's humming")
    ('no fan', 'no detector', '')
    """
    return next((about for about, lacks in _LACKS if lacks.search(text)), "")


def _heeds(clause: str, names: tuple[str, ...], gear: bool) -> bool:
    """One clause; a word of assent may stand before what is so, and two things beside each other."""
    pattern = _pattern(names, gear)
    if pattern.fullmatch(clause) or ("room" in names and _good_air(clause)):
        return True
    tokens = clause.split()
    return any(
        pattern.fullmatch(" ".join(tokens[:at])) and _heeds(" ".join(tokens[at:]), names, gear) for at in range(1, len(tokens))
    )


_ASSENT = re.compile(
    r"\b(?:(?:okay|ok|yeah|yes|yep|yup|aye|sure|right|alright|understood|got (?:it|that|you)|gotcha|copy(?: that)?|noted|will"
    r" do|roger|fair enough|i know|i hear you"
    r"|heard|acknowledged|of course|absolutely)\b ?)+"
)
_ASSENT_LAST = re.compile(r"\b(?:understood|got it|got you|noted|yep|okay|i know|will do|copy that|that's it|i'm set|all set)$")
_THINGS = (
    r"(?:gloves?|shield|visor|glasses|goggles|leathers|gear|permit|label|meter|detector|sniffer|ladder|extinguisher|nitrogen"
    r"|regulator|relief|scales?|fan"
    r"|ventilation|fire watch|lock|tag|key|licen[cs]e|clothing|suit)"
)
_AGAINST_IT = re.compile(
    rf"\b(?:but|except|though|however|unless|wait|hang on|hold (?:on|up)|not (?:yet|now|ready|sure|wearing|quiet|lit"
    rf"|running|dry|tied|locked|today|here)|give me|let me"
    r"|later|in a (?:sec|second|minute|moment|bit|while)|first i|need(?:s)?(?: to)?|have to (?:get|find|fetch|go)"
    r"|haven't|hasn't|didn't|don't (?:have|got|see|know|think"
    r"|need|care|want to)|doesn't|isn't|aren't|wasn't|ain't|can't|cannot|couldn't|without|forgot|left (?:my|the|it"
    r"|them)|in the (?:truck|van|car|shop|office)"
    r"|nobody|no one|someone|somebody|anybody|he|she|his|her|skip|whatever|anyway|maybe|probably|should be|think so|i"
    r" guess|hope|supposed|what|which|where|who|why"
    rf"|how|is it|do i|can i|should i|really|never mind|no (?:{_THINGS}|time|need|idea|way|thanks|problem with)|(?:one"
    rf"|only one) glove|hurry|quick|enough of"
    rf"|{_THINGS}(?:'s|'re| is| are| was)? (?:up|off|out|gone|torn|wet|missing|broken|dead|red|beeping|expired|split"
    rf"|cracked|somewhere|on order|too|old)"
    r"|wet|torn|cracked|leaking|hissing|damaged|unreadable|every time|last time|stop (?:telling|nagging|talking)|yeah"
    r" right|come on|shut up|seriously"
    r"|already (?:in|open|on|running|started|off its)|i'm in\b(?! the right)|(?:hands?|arms?|fingers?)(?:'s| is|"
    r" are)?(?: still| both| all)* in|still (?:on|in|open|live|hot|there)"
    r"|took off|taken off|flashing|fail\w*|went (?:out|off|down)|(?:it|compressor|machine|motor|she)(?:'s| has|"
    r" just)* (?:started|kicked|running|gone)|with the power on"
    r"|straight to|wired|too hot|two locks|theirs|not (?:its|mine|my)|store|owner|nothing to|did not|no (?:machine"
    r"|recovery|water|it)|next to it|dirty|swapped|installed"
    r"|two of (?:us|them)|just (?:started|kicked|came)|lit up|i (?:bumped|dropped|shorted|crossed"
    r"|touched|smell|jumped|wired|vented)|(?:wrong|other"
    r"|another|metal) (?!ladder out)\w+)\b|\?"
    r"|\bno$|\bno no\b|^no\b|\b(?:yes|yeah) no\b|\bnope\b|\bnah\b|\bnot$|\bkey(?:'s| is)? (?:in|on) (?!my\b|me\b)"
    r"|\bdischarge (?:only|first|is closed|closed)\b|(?<!not )(?<!never"
    r" )\binto (?:the|a) suction\b|\bif i (?:find|get|can|have)\b"
    r"|\b(?:plenty|both ends|(?<!not )(?<!never )(?<!n't )in front|(?:can|could|will) take it|as (?:good as )?dead"
    r"|hold(?:ing)? (?:it|the \w+) (?:in|down|closed)|(?:went|goes|plug"
    r"|going) in first|'s next|next up)\b"
    r"|\b(?:rings?|necklace|bracelet|watch on|sandals|shorts|barefoot|drunk|beers?|dizzy|sick|alone|raining|rain"
    r"|puddles?|icy|slippery|kids?|customers?|smok\w*"
    r"|cigarettes?|lighter|dark in|my way|bare hands?|bare)\b"
)
"""What lacks, doubts, asks or puts off."""
CONTRARY = re.compile(
    r"\bnever (?:read|tested|checked|tried|wore|wear|proved|put|used?)\b"
    r"|\b(?:doesn't|don't|does not|do not) (?:meet|match|fit|wear|use|read|block)\b"
    r"|\bcan't (?:block|lock|vent|shut|clear|ventilate|isolate|close|weigh)\b"
    r"|\b(?:sleeves?|hands?|arms?|elbow|knee|fingers?|shoulder|foot)(?:'s|'re| is| are)?(?: still| both)? (?:in there|in it"
    r"|(?:on|at|against|near|resting on) (?:the |a )?(?:\w+ )?(?:pipe|line|fan|blade|metal|frame|rack|belt|steel|coil|shaft))\b"
    r"|\b(?:i'm|i am|standing|stood) on (?:an? |the )?(?:aluminum|aluminium|metal|wet)\b|\bladder(?:'s| is) leaning\b"
    r"|(?<!never )(?<!not )(?<!won't )(?<!don't )\b(?:i|we)(?: always| do| just)* touch(?:ed)? (?:it|them)\b"
    r"|\b(?:helper|apprentice|partner|buddy|guy|he|she)(?:'s| is| has|'s got| does)(?: still| got)?"
    r" (?:in|at|on|under|behind|his|her|it)\b"
    r"|\buntil it (?:holds|sticks|stays|catches|runs)\b|\b(?:jumper|bypass)(?:'s| is)? (?:already in|stays)\b"
    r"|\b(?:not locked|unlocked|aren't fused|not fused|skipp?(?:ing|ed)|no jumper|use a wire|hold(?:ing)? it in|not tied"
    r"|no idea)\b|\b(?:cracked|on my (?:foot|hand|head|arm|back))\b|\bstanding on the (?:pipe|line|metal|frame)\b"
    r"|\b(?:kid|helper|apprentice|somebody|someone)(?:'s| is) (?:standing|behind|next)\b"
    r"|\bsecond (?:one|reset|time) today\b|\b(?:liquid|gas|charge)(?:'s| is) (?:still|shut|trapped) in\b"
    r"|\bboth (?:ends|valves)(?:'re| are) (?:shut|closed)\b"
)
"""What is told with an assent and is against the caution all the same."""
_DOES_IT = re.compile(
    r"(?<!not )(?<!never )(?<!n't )(?<!before )(?<!without )(?<!won't be )\b(?:starting|powering|venting|closing"
    r"|opening|lifting|unscrewing|reaching|going in|climbing"
    r"|charging|jumping|energizing|letting)\b"
)
"""What is being done at that moment."""


def _beside(clause: str, names: tuple[str, ...]) -> bool:
    """Whether a clause may stand beside one that acknowledges: it does so itself, or only says back what the caution says."""
    return _heeds(clause, names, True) or _told_back(clause, names) or clause in _ALL_OF_IT or _led(clause, names, True)


def _led(clause: str, names: tuple[str, ...], gear: bool) -> bool:
    """ "Yes I will reset only one time": a word of assent, and the caution said back."""
    tokens = clause.split()
    pattern = _pattern(names, gear)
    ends = (at for at in range(1, len(tokens)) if pattern.fullmatch(" ".join(tokens[:at])))
    return any(_told_back(" ".join(tokens[at:]), names) for at in ends)


@cache
def _its_words(names: tuple[str, ...]) -> frozenset[str]:
    """The words of what these cautions want, without endings; not of what they forbid."""
    rows = [cautions()[name] for name in names]
    said = [sentence for row in rows for kind in ("short", "full") for sentence in row[kind].split(".")]
    wanted = [normalise(sentence) for sentence in said]
    return frozenset(_stem(word) for sentence in wanted if not _DENIES.search(sentence) for word in sentence.split())


def _stem(word: str) -> str:
    return re.sub(r"(?:'s|'re|ing|ed|s)$", "", word)


@cache
def _stems(words: frozenset[str]) -> frozenset[str]:
    return frozenset(map(_stem, words))


def _of_its_name(names: tuple[str, ...]) -> frozenset[str]:
    return _stems(frozenset(word for name in names for word in name.split("_")))


def _told_back(clause: str, names: tuple[str, ...]) -> bool:
    """Whether a clause only says back what these cautions say: "one hand and all that", "the coil's still on its stem"."""
    tokens = clause.split()
    own = _its_words(names) | _of_its_name(names)
    of_it = [word for word in tokens if _stem(word) in own and word not in _OF_ITS_WORDS - _NAMED]
    known = all(word in _OF_ITS_WORDS or _stem(word) in own for word in tokens)
    return bool(of_it) and known and not (_DENIES.search(clause) or _AGAINST_IT.search(clause) or unready(clause))


def acknowledges(clause: str) -> bool:
    """Whether a clause says that a caution was heard, whichever it is.

    >>> acknowledges("okay understood"), acknowledges("tag reads b three")
    (True, False)
    """
    return bool(re.fullmatch(_HEARD, clause)) and not _SCOFFS.search(clause)


def _good_air(clause: str) -> bool:
    percent = oxygen_percent(clause)
    if percent is None:
        return bool(re.fullmatch(r"(?:(?:the|my) )?(?:oxygen|air)(?:'s| is| looks) (?:good|fine|okay|normal)", clause))
    return LEAST_OXYGEN_PERCENT <= percent <= MOST_OXYGEN_PERCENT


def oxygen_percent(text: str) -> float | None:
    """The oxygen that somebody reads out, in percent; None where he names none.

    >>> oxygen_percent("oxygen's at twenty point nine"), oxygen_percent("eighteen percent"), oxygen_percent("oxygen's fine")
    (20.9, 18.0, None)
    """
    bare = told_number(re.sub(rf"^(?:(?:{_FILLS}) )*", "", text))
    if bare is not None:
        return bare
    match = re.fullmatch(_AIR, text)
    told = (match[name] for name in ("percent", "alone", "on_mine", "of_it", "led")) if match else ()
    said = next((one.strip() for one in told if one), "")
    try:
        return float(number(said)) if said else None
    except ValueError:
        return None
