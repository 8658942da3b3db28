"""What concerns safety in whatever words, and at whatever question, it is said: the lock, an alarm, distress, an emergency.

The patterns are the project's own reading of how people say such things. They are looked for in words that were all
understood as words; half an utterance heard in noise decides nothing here.
"""

import re

from assistant.language.meaning import Question, Remark
from assistant.language.vocabulary import kind_of

_SOMEBODY = (
    r"(?:i|i'm|i've|he|he's|she|she's|we|we're|they|they're|somebody|somebody's|someone|someone's"
    r"|the guy|(?:my|the) (?:partner|buddy|helper|apprentice|mate)(?:'s)?)"
)
_WAS = r"(?: (?:is|are|am|was|got|just got|have been|has been|been|just))*"
_HURT = (
    r"(?:hurt|shocked|electrocuted|zapped|injured|bleeding|unconscious|trapped|pinned|burning|on fire|burned|burnt|stuck to it"
    r"|not breathing|a (?:shock|jolt|zap|tingle)|a (?:bad|nasty|good|little|bit of a) (?:shock|jolt|zap|tingle))"
)
_BODY = r"(?:hands?|arms?|fingers?|wrist|foot|feet|legs?|head|face|skin|neck|back|chest)"
_PERSON = r"(?:somebody|someone|the guy|(?:my|the) (?:partner|buddy|helper|apprentice|mate))"
_BADLY = (
    r"(?:hurt|shocked|electrocuted|zapped|injured|bleeding|unconscious|not breathing|knocked out|passed out"
    r"|on the (?:floor|ground)|sprayed in the (?:face|eyes?)|burned bad(?:ly)?)\b"
)
_GAS_METER = r"(?:oxygen|o two|o2|gas|personal|c o two|co2) (?:monitor|meter|sniffer|alarm|reading|level)?"
_CALLS = r"(?:going|going off|went off|sounding|beeping|screaming|ringing|in alarm|alarming|chirping)"
_LITTLE_OXYGEN = (
    r"(?:low|dropping|falling|down|under|below|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen"
    r"|1[0-8](?:\.\d+)?|nineteen(?! (?:point|and))|nineteen point (?:oh|zero|one|two|three|four)|19(?:\.[0-4]\d*)?)\b"
)
_ALARM = r"(?:detector|(?:gas|leak|refrigerant|room|machine room) alarm)"
_SOUNDS = r"(?:going|going off|sounding|beeping|screaming|ringing|in alarm|on|alarming|off|went off)"
_GAS = r"(?:gas|refrigerant|liquid|vapor)"
_BLOWS = r"(?:blowing|spraying|spewing|pouring|gushing|shooting|venting|hissing out|coming out|filling)"
_PIPE = r"(?:line|pipe|hose|fitting|joint|gasket|tube|valve stem|plug)"
_OTHER = r"(?:someone|somebody|someone's|somebody's|another|another's|other|else's|his|her|their|a different|a second)"
_SOMEBODY_ELSE = r"(?:somebody|someone|somebody's|someone's|they|they've|he|he's|she|she's|the (?:store|guy|electrician)(?:'s)?)"
_NOT_MINE = r"(?:isn't mine|not mine|someone else's|somebody else's|someone else|another man's)"
_SWITCH = r"(?:disconnect|breaker|isolator|switch disconnect|feeder|feed|source)"
_MACHINE = r"(?:compressor|number|rack|unit|machine)"
_NEVER = r"(?:never|didn't|did not|haven't|forgot to)"
_NOT_THE_DISCONNECT = r"(?:wrong \w+|breaker|handle|door|gate|panel door)"
_NO_NAME = r"(?!(?:lock|that|it|what|there|here|who)'s\b)"
_PATTERNS: tuple[tuple[str, str], ...] = (
    ("distress", rf"{_SOMEBODY}{_WAS} {_HURT}(?! by (?:this|that|it|them|one)\b)"),
    ("distress", r"(?:help me|help us|need help|get help|ambulance|nine one one|can't breathe|cannot breathe|passed out)"),
    ("distress", r"\b(?:mayday|s o s|sos)\b|call (?:for )?(?:help|an? \w+ ?medic|a medic|the medics|nine one one|an ambulance)"
     r"|(?:need|get|want) (?:a|the|some) (?:medic|medics|paramedic|doctor|first aid)|^i fell(?: down)?$"),
    ("distress", rf"(?:i'm|{_PERSON}(?:'s| is)|he's|she's|he is|she is|i got|he got|she got)(?: just| still)?"
     r" (?:stuck|caught|trapped|pinned|locked|jammed) (?:in|under|behind|inside|between)\b"
     r"(?! (?:traffic|a meeting|the (?:store|office|truck|van|parking lot)))"),
    ("distress", r"\b(?:nailed|zapped|shocked|electrocuted) (?:me|him|her)\b"
     r"|\b(?:lit|knocked) (?:me|him|her) (?:up|off|down|out)\b"),
    ("distress", rf"(?:my|his|her) {_BODY} (?:went|go(?:es|ing)) numb|my throat (?:hurts|burns|is (?:burning|sore))"),
    ("distress", r"(?<![\w'])(?!(?:it|that|this|the|he|she|who|what|nobody|none|everybody|not|no|one|is|are|was|anybody|drain"
     r"|oil|water|compressor|meter|valve|lock|tools?|wrench|phone|cover|panel|part|cylinder|hose|gauge|light|ladder|bottle|jug"
     r"|motor|fan)\b)[a-z]+"
     rf"(?:'s| is| was| got| just got| has been| just)+ {_BADLY}"),
    ("distress", rf"{_SOMEBODY}{_WAS} {_BADLY}"),
    ("distress", r"(?:i|he|she)\b[^,]* and(?: i| he| she)? got (?:burned|burnt|shocked|zapped|hurt|cut)(?! (?:out|up|off))"),
    ("distress", rf"(?:the )?other (?:guy|man|tech|one|person)(?:'s| is| was| got| just got| just)+ {_BADLY}"),
    ("distress", r"(?:collapsed|heart attack|electric shock|caught fire)"),
    ("distress", r"(?:there's|there is|i see|i smell) (?:a |some )?(?:fire|smoke|burning)"),
    ("distress", r"\w+(?:'s| is|'re| are) (?:on fire|smoking)|smoke(?:'s| is)? coming"),
    ("distress", rf"\b(?:cut|sliced|crushed|smashed|pinched|burnt|burned|scalded|froze) (?:my|his|her) {_BODY}\b"),
    ("distress", r"(?:i|he|she|somebody|someone)(?: \w+)? (?:fell|fallen|slipped)(?: off| from| down)"),
    ("distress", r"(?:i|he|she)(?: just)? (?:cut|sliced|crushed|smashed|broke|pinched|caught) (?:my|his|her) (?!glove)\w+"),
    ("distress", r"ladder(?:'s| is| has)?(?: just)? (?:slipped|slipping|fell|fallen|tipped|tipping|gave way|went)"),
    ("distress", r"(?:my|his|her) (?:hand|arm|finger|foot|leg|sleeve|hair|glove|coat|jacket)(?:'s| is| got)?(?: just)? "
     r"(?:stuck|caught|trapped|pinned|jammed|in the (?:fan|belt|machine))"),
    ("distress", r"^(?:fire|smoke|flames)(?: (?:fire|smoke|here|in here))*$|fire in (?:the|here|there)"),
    ("distress", rf"{_SOMEBODY}(?:'s| is| are| just| keep| keeps)* (?:getting|feeling|feel|felt|took|had|get)"
     r" (?:a )?(?:bad |nasty |little |big )?(?:shock|shocks|shocked|jolt|zap|zapped|tingle|tingling|electrocuted)"),
    ("distress", rf"(?:my|his|her) {_BODY}(?:'s|'re| is| are| got| was| just)* (?:burned|burnt|bleeding|hurt|hurts|broken|numb"
     r"|frostbitten|frozen|cut|crushed|smashed)\b(?! (?:off|out))"),
    ("distress", r"chest (?:pains?|hurts)|can't (?:feel|move) (?:my|his|her) \w+"),
    ("distress", rf"{_PERSON}(?:'s| is)(?: just)? (?:down|out cold)$"),
    ("distress", rf"(?:he|{_PERSON})(?:'s| is) (?:not moving|not responding|unresponsive|out cold)|unresponsive"),
    ("distress", rf"(?:{_GAS}|oil|acid|something|stuff|it)(?: \w+){{0,2}} (?:in|into) (?:my|his|her) (?:eyes?|face|mouth)"),
    ("distress", r"(?:i|he|she|we)(?: just)? got (?:bit|bitten|lit up|nailed by it)"
     r"(?! (?:once|before|years ago|last|back|one time|in)\b)"),
    ("distress", r"frost ?bit(?:e|ten)|(?:caustic|acid) (?:on|over) (?:me|him|her)"),
    ("distress", r"(?:it|that|the panel|the wire)(?: just)? (?:bit|shocked|zapped|burned|threw) (?:me|him|her)\b"),
    ("distress", r"\b(?:can't|cannot|couldn't) let go\b(?! of (?:the|my|this|it))|^(?:i'm|he's|she's) down$|\bman down\b"
     r"|\bknocked (?:me|him|her|on|off|onto|flat)(?: on| onto| off)?(?: (?:my|his|her))? (?:back|feet|butt|ass|rear|ladder)\b"),
    ("alarm", rf"{_ALARM}(?:'s| is| has| just)?(?: (?!(?:no|not|never|nothing)\b)\w+)? {_SOUNDS}(?<!detector on)"
     r"(?<!detector's on)(?<!detector is on)"),
    ("alarm", r"(?:alarm's|alarm is|alarm just|alarms are) (?:going|going off|went off|started|sounding|ringing)"),
    ("alarm", r"(?:gas|leak|refrigerant) (?:alarm|detector)\b.*\b(?:won't|isn't|not|never|no longer)(?: \w+)? (?:quiet|silent)"),
    ("alarm", r"(?:gas|leak|refrigerant) (?:alarm|detector)(?!(?:'s| is) (?:on|working)\b)"
     r"(?!.*\b(?:quiet|silent|lit|green|good|okay|fine|clear|normal|nothing|zero|isn't|not|no alarm)\b)"),
    ("alarm", r"(?:smell|smelling|smells like|there's) (?:gas|refrigerant|ammonia)"),
    ("alarm", rf"{_GAS}(?:'s| is| are)?(?: just)? {_BLOWS}(?! bubbles)(?! (?:is|reads|at|temperature)\b)(?: \w+)?"),
    ("alarm", rf"(?:it|that|this)(?:'s| is)(?: just)? {_BLOWS} (?:out|gas|refrigerant|liquid|everywhere|all over|hard|bad)"),
    ("alarm", rf"{_PIPE}(?:'s| has)?(?: just)? (?:burst|blew|broke|broken|ruptured|let go|popped off|came off|split)"),
    ("alarm", r"(?:probe|sensor)(?:'s| is| has)?(?: just)? (?:blew|blown|shot|popped) out"),
    ("alarm", r"(?:room|place|pit|walk in)(?:'s| is) (?:filling|full of (?:gas|refrigerant))"),
    ("alarm", rf"{_GAS_METER}(?:'s| is| just| started| went)*(?: \w+)? {_CALLS}\b"),
    ("alarm", rf"(?:oxygen|o two|o2)(?:'s)?(?: (?!not\b)\w+(?:'s)?){{0,4}} {_LITTLE_OXYGEN}"),
    ("no detector", r"(?<!leak )(?<!flame )detector(?:'s| is| was| has| just| looks)*(?: \w+)?"
     r" (?:dead|died|dark|quit|unplugged|missing|gone(?! (?:quiet|silent|green|back))|not lit"
     r"|isn't lit|not working|isn't working|has no power|lost power|failed|no good)\b"),
    ("no detector", r"(?:no|isn't a|is no) (?:gas |refrigerant |room )?detector\b(?! (?:alarm|going))"),
    ("no detector", r"detector(?:'s)? (?:light|lamp|display)(?:'s| is| has| just)* (?:out|off|dark|dead|gone|not (?:lit|on))\b"),
    ("no detector", r"(?:no light|not a light) on the detector"),
    ("no fan", r"(?:ventilation|exhaust|(?:room|vent) fan)(?: fan)?(?:'s| is| has| just)* (?:stopped|quit|died|dead|off|down"
     r"|not running|gone off|tripped|shut (?:off|down))\b"),
    ("no fan", r"(?:fan in (?:the|this) room|fan in here|room's fan)(?:'s| is| has| just)*"
     r" (?:stopped|out|down|dead|quit|died|off|not running)\b"),
    ("alarm", r"terminals?(?:'s| is| are)? (?:leaking|blowing|spraying|weeping)"),
    ("alarm", r"oil(?:'s| is)? (?:coming|blowing|spraying|leaking) out of (?:the |a )?terminals?"),
    ("alarm", r"relief(?: valve| vent)?(?:'s| is| has)?(?: just)? (?:open\w*|lift\w*|popp?\w*|blow\w*|blew|vent\w*|going|went"
     r"|let go|let loose)"),
    ("alarm", r"(?:ammonia|gas|refrigerant) (?:i|that i|we)(?: can)? (?:smell|hear)"),
    ("alarm", r"flame(?:'s| is| just)? (?:turned |gone |went )?green"),
    ("another's lock", rf"(?<!my )(?<!own )(?<!no )(?<!any )(?<!isn't ){_OTHER}(?: \w+){{0,3}} (?:lock|padlock)"),
    ("another's lock", rf"(?:lock|padlock)(?: \w+){{0,4}} {_NOT_MINE}"),
    ("another's lock", r"(?:already|still) (?:a|another|one) (?:lock|padlock)(?: \w+)? on|already locked by"),
    ("another's lock", r"\w+(?: just| had to)? (?:cut|sawed|snapped|broke|ground|drilled)(?: off)? (?:the|that|this|an?)"
     r" (?:(?:old|other|last|rusty|previous|existing) )?(?:lock|padlock|shackle)"),
    ("another's lock", r"(?:took|pulled|cut|removed|popped) (?:his|her|their|somebody's|someone's) (?:pad)?lock\b"),
    ("lock off", r"(?:gave|handed|lent|left|passed)(?: \w+){0,3} (?:my|the lock's) key"),
    ("lock off", r"(?:has|got|holds|took|have) (?:my key|the key to my lock|(?:a|the) (?:spare|second|master) key)"),
    ("lock off", rf"lock(?:'s| is| was)? on (?:the |a )?{_NOT_THE_DISCONNECT}(?: and)? (?:not|instead of)"),
    ("lock off", rf"(?:hung|put|locked|snapped)(?: (?:it|my lock|the lock))? on(?:to)? (?:the |a )?{_NOT_THE_DISCONNECT}"
     r"(?: and)? (?:not|instead of)"),
    ("another's lock", r"(?:his|her|their|somebody's|someone's|somebody else's|someone else's) key\b"),
    ("another's lock", r"(?:he|she|they|boss|manager|supervisor|owner)(?: \w+)? (?:said|says|told me|wants me)(?: \w+){0,3}"
     r" (?:take|taking|cut|remove|pull) (?:it|his|hers|theirs|that|the lock|that lock)(?: one)? off"),
    ("another's lock", r"(?:someone|somebody) else's(?: is| has)?(?: still)? on"),
    ("another's lock", r"(?:that's|it's|this is) (?:the |an? )?[a-z]+'s (?:lock|padlock)"),
    ("another's lock", r"\b(?:lock|padlock)(?:'s| is) on\b.*\b(?:it's|that's|belongs to) (?:the |an? )?(?!mine\b)[a-z]+'s$"),
    ("another's lock", rf"{_SOMEBODY_ELSE}(?: \w+)? (?:got|has|had|have) (?:it|this one|the disconnect)"
     r" (?:locked|tagged)(?: \w+)?"),
    ("another's lock", rf"{_NO_NAME}[a-z]+'s is still (?:on|there|hanging)"),
    ("another's lock", r"(?:not my|second) (?:lock|locks|padlock|padlocks)|two (?:locks|padlocks)"),
    ("another's lock", rf"{_NO_NAME}[a-z]+'s (?:lock|padlock)(?: is| was)?(?: still)? (?:on|hanging|there)"),
    ("lock off", r"(?:lock|lock's|padlock)(?: is| was| has been| came)?(?: \w+){0,2} (?:off|gone|removed|missing|not on|broken)"),
    ("lock off", r"(?:took|taken|take|pulled|removed) (?:the |my |our )?(?:lock|padlock)(?: off)?"),
    ("lock off", rf"(?:wrong|different|not the right) {_SWITCH}"),
    ("lock off", r"lock(?:ed)?(?: \w+){0,3} (?:the )?(?:wrong|different) (?:one|place|machine|compressor|unit|rack)"),
    ("lock off", rf"(?:that|it|this)(?:'s| is| was) (?:\w+ ){{0,2}}{_MACHINE} \w+(?: \w+)?'s {_SWITCH}"),
    ("lock off", rf"(?:that|it|this)(?:'s| is| was)(?: not|n't) (?:my|the right|this machine's|its) {_SWITCH}"),
    ("lock off", rf"{_NEVER}(?: really)? (?:put|hang|hung|locked?|closed?|snap)(?: \w+){{0,3}} (?:(?:pad)?lock|it out)"),
    ("lock off", r"(?:no lock on|lock isn't on|lock is not on|not locked any ?more|isn't locked)"),
)
_COMPILED = tuple((about, re.compile(rf"\b{pattern}\b")) for about, pattern in _PATTERNS)
_LOCK_STAYS = re.compile(
    r"(?:\w+ ){0,2}(?:don't|do not|never|haven't|didn't|not) (?:take|taken|took|pull|pulled|remove|removed|touch|touched)"
    r" (?:the|my|your|that|his) (?:lock|padlock)(?: off)?(?: yet)?"
)
"""Nobody took it off: "don't take the lock off"."""
_NEVER_OFF = re.compile(
    r"^(?:(?!\b(?:pad)?lock\b).)*\b(?:me|my|the)(?: own| main| big)? (?:pad)?lock(?:'s| has)? (?:never|not)"
    r" (?:come|came|been|gone|moved) off\b(?!.*\b(?:but|until|till|except)\b)"
)
_EMERGENCY = re.compile(
    r"\bemergency\b(?! (?:panel|board|lights?|lighting|lamp|exit|door|generator|circuit|supply|feed|battery|number)\b)"
)
"""The word itself, but for a thing that is named by it: "the emergency panel in the corridor"."""
_NO_EMERGENCY = re.compile(r"\b(?:no|not an|isn't an|not a|never an) emergency\b")


_A_PART = r"(?:poles?|contacts?|contactor|starter|coil|wires?|wiring|lugs?|terminals?|fuses?|relay|winding|motor|board|module)"
_SHE_BURNT = re.compile(r"\bshe(?:'s| is| has)?(?: been| got)? (?:burnt|burned) (?:to a crisp|out|up|through|away|black)\b")
_OF_A_PART = re.compile(rf"\b{_A_PART}\b|\bone(?:'s| is)? not making\b")


def burnt_part(words: str) -> str:
    """The words with "it" for a part that is called she: "left one's not making, she's burnt to a crisp" hurts nobody.

    >>> burnt_part("the coil, she's burnt to a crisp"), burnt_part("she's burnt to a crisp")
    ("the coil, it's burnt", "she's burnt to a crisp")
    """
    return _SHE_BURNT.sub("it's burnt", words) if _OF_A_PART.search(words) else words


_STANDS_THERE = re.compile(
    r"\b(?:i'm|i am|both feet|my feet are)(?: just| only)?(?: (?:standing|stood|standin'))? on the (?:floor|ground)"
    r"(?= with (?:my|the) (?:glasses|gloves|gear|shield)\b)"
    r"|(?<=ladder )(?:and |but |so )?(?:i'm|i am)(?: just| only)?(?: (?:standing|standin'))? on the (?:floor|ground)\b"
    r"|\b(?:i'm|i am)(?: just| only)? (?:standing|stood|standin') on the (?:floor|ground)\b"
    r"|(?<=gloves on )(?:and )?i'm on the (?:floor|ground)\b|(?<=glasses on )(?:and )?i'm on the (?:floor|ground)\b"
)
"""On his feet, and no fall."""


_OWN_SECOND = re.compile(
    r"(?:\b(?:i|i've|we|we've)|(?<!he )(?<!they )\bhad to)(?: have)?(?: just| also| now| only| had to)?"
    r" (?:put|hung|snapped|clipped|fitted|threaded|stuck|got|run|ran|dig|dug|fetch|fetched|grab|grabbed|used?)"
    r" (?:my |a |my own |another |out a )(?:second|other) (?:pad)?lock\b(?! of (?:his|hers|theirs))"
    r"|\bmy (?:own )?(?:second|other) (?:pad)?lock\b"
    r"|\b(?:both|two|the two)(?: of the)? (?:pad)?locks(?: are| is)?,? (?:both )?(?:mine|my own)\b"
    r"|\b(?:both|two) (?:of )?my (?:own )?(?:pad)?locks\b"
)
"""A second one of one's own, on another source."""


def remark(text: str) -> Remark | None:
    """What these words say about safety; None for nothing.

    Args:
        text: normalised words.

    >>> remark("the detector's going off"), remark("i got shocked"), remark("two oh eight")
    (Remark(about='alarm'), Remark(about='distress'), None)
    """
    if _NO_EMERGENCY.search(text):
        return Remark("distress")
    text = _OWN_SECOND.sub("my lock", _STANDS_THERE.sub("i'm fine", text))
    found = next((Remark(about) for about, pattern in _COMPILED if pattern.search(text)), None)
    return None if found and found.about == "lock off" and (_LOCK_STAYS.fullmatch(text) or _NEVER_OFF.search(text)) else found


def harmless_remark(question: Question, meaning: Remark) -> bool:
    """Whether what was heard as speaking against a start is only why a heater or a cooler stands off, how a look was taken, how
    hot a line is, or why it is left locked."""
    if question.look:
        return meaning.about in ("won't reset", "reset again", "won't start", "not repaired")
    if meaning.about == "burns" and kind_of(question.asking) == "temperature":
        return True
    if question.asking.startswith("condenser_fans"):
        return meaning.about == "won't start"  # "one just humming"
    return question.asking in ("crankcase_heater", "subcooler_state", "heat_reclaim") and meaning.about in _STANDS_OFF


_STANDS_OFF = ("window", "tripped", "stopped", "won't start")


_BESIDE_MINE = re.compile(
    r"\b(?:not|isn't|ain't) mine\b|\b(?:his|hers|theirs)(?:'s| is| are)? (?:still )?(?:on|there|hanging)\b"
    r"|\b(?!(?:it|lock|padlock|mine|that|there|he|she|what|who|here|tag|one|everybody|everything)'s)[a-z]+'s is (?:still )?"
    r"(?:on|there)\b"
    r"|\bthere(?:'s| are|'re) (?:two|three|another|a second)(?: locks| of them)? on\b"
    r"|\bmine and (?:his|hers|theirs|[a-z]+'s)\b|\b(?:his|hers|theirs|[a-z]+'s) and mine\b"
)


def anothers_beside(text: str) -> bool:
    """Whether words that were said of one's own lock tell of somebody else's.

    >>> anothers_beside("yes but robin's is on"), anothers_beside("not mine"), anothers_beside("mine is on")
    (True, True, False)
    """
    return bool(_BESIDE_MINE.search(text))


def is_emergency(text: str) -> bool:
    """Whether the word itself was said, alone, doubled, with others, or inside a sentence."""
    return bool(_EMERGENCY.search(text)) and not _NO_EMERGENCY.search(text)
