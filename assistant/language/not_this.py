"""What makes the words of an answer no answer: it is another's, another day's, a plate's, a limit or a wish; it was undone again,
is hearsay, or is still to be done.

A number of such a kind is asked back. A deed on which safety hangs is not taken. The patterns are the project's own reading of
how people say such things.
"""

import re
from dataclasses import replace

from assistant.language.asides import strictly
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Part, Question
from assistant.language.offered import phrases
from assistant.language.vocabulary import vocabulary

_NOUN = (
    r"(?:one|side|coil|glass|strip|terminals?|wires?|screw|machine|rack|compressor|panel|gauge|valve|unit|probe|fuse|disconnect"
    r"|leads?)"
)
_PAPER = r"(?:box|name ?plate|plate|sticker|tag|book|manual|chart|table|spec|specs|forecast|drawing)"
_OF_ELSEWHERE = (
    r"\ba (?:good|new|healthy|normal|known good|decent|fresh|working) (?:one|coil|winding|probe|sensor|fuse|valve"
    r"|compressor|machine)"
    r"(?:'s| is| reads| would| has| shows)\b|"
    r"\b(?:other|another|neighbou?r|neighbou?r's|spare) (?:one|motor|machine|rack|compressor|gauge|receiver|drier|coil"
    r"|lead|side"
    r"|probe|terminal|unit|pipe|line)\b|\b(?:on|at) (?:the|my|that) (?:neighbou?r|neighbou?r's|spare)\b"
    r"|\bneighbou?r's (?:running|live|on|hot)\b|\bneighbou?r's (?:\w+ )?(?:is|has|shows|reads)\b"
    r"|\b(?:the|a|my) spare\b(?! (?:fuse|key))"
    rf"|\b{_PAPER}(?:'s| is)? (?:says|said|shows|calls for|has|holds|reads|goes)\b|\b(?:name ?plate|design|range)(?:'s"
    rf"| is| goes)\b"
    rf"|\b(?:in|on) the (?:{_PAPER}|log|car|shade|cylinder|weather app|app)\b|\bdial goes\b"
    r"|\b(?:limit|alarm|max|maximum|minimum|tare)(?:'s| is)\b|\b(?:is|'s) (?:the |my |it's )*(?:limit|max|maximum|minimum"
    r"|tare|alarm)\b"
    r"|\balarm is at\b|\bset for\b|\brack b\b|\bdegree's normal\b"
)
_OF_ANOTHER_TIME = (
    r"\byesterday\b|(?<!checked )(?<!calibrated )(?<!bought )(?<!zeroed )(?<!tested )(?<!proved )\blast (?:time|week"
    r"|month|year|night|spring|summer|fall|winter)\b|\bthis morning\b|\bto start with\b"
    r"|\bbefore (?:i|we|he|they|it)\b|\bafter i\b|\bwhen it (?:was|ran|trips|tripped)\b|\bin (?:january|february|march"
    r"|april|may|june"
    r"|july|august|september|october|november|december)\b|^(?:it |that |they )?(?:was|were) |\bthen (?:it )?(?:dropped"
    r"|fell|went)\b"
    r"|\bwas where\b|\bthe last one (?:i|we|he) (?:did|had|saw|worked on|changed|fitted)\b"
)
_WISHED = (
    r"\b(?:supposed|meant|about|want|need|going|trying|hoping|have|got) to\b(?! me\b| call\b| say\b)"
    r"|\bgonna\b(?! call\b| say\b)|\blooking for\b|\bshould've\b"
    r"|^(?:it |that )?should be\b|\bit'?(?:ll| will) be\b"
)
_OF_OTHER_THINGS = (
    r"\b(?:volt|pound|foot|watt|second|inch|amp) (?:coil|drier|cylinder|jug|bottle|tall|test|meter|fuse|resistor)\b|\bwatts\b"
    r"|\b(?:k|thousand|ohm|meg) (?:scale|range|resistor)\b|\bturns\b|\bcores\b|\bcylinders\b|\bterminal (?!is|reads|to)\w+"
)
_SPOILT_READING = (
    rf"\bwrong {_NOUN}\b|\bbefore$|\bchanged it at\b|\bgets to\b"
    r"|\bmy (?:hands?|fingers?)(?:'s| is| are| was| were)? on\b|\bwith (?:my|wet) (?:\w+ )?(?:hands?|fingers?)\b"
    r"|\bwith my hand\b|\bleads?(?:'s| is| are)? off\b|\b(?:float|needle|gauge|pointer)(?:'s| is) (?:stuck|off)\b"
    r"|\bwith both leads\b|\bwith the (?:drive|hose|pump|fans?)(?: \w+)? (?:on|off|running)\b|\bit's wet\b"
    r"|\bin my (?:meter|hand)\b"
    r"|\bthrough the (?:drive|module|contactor)\b|\bhad it on\b|\boff the hook\b|\bi unplugged\b"
)
_NUMBER = re.compile("|".join((_OF_ELSEWHERE, _OF_ANOTHER_TIME, _WISHED, _OF_OTHER_THINGS, _SPOILT_READING)))
_OLD_NUMBER = re.compile("|".join((_OF_ELSEWHERE, _WISHED, _OF_OTHER_THINGS, _SPOILT_READING)))
HISTORY = frozenset(
    {"alarm_minutes_ago", "trip_spread", "reset_history", "days_since_last_addition", "alarms_last_day", "starts_last_hour"}
)
"""What is of another time by itself."""
_OHMS_MOVE = re.compile(
    r"^(?!.*\b(?:settled|steadied|stopped|leveled)\b).*\b(?<!quit )(?<!stopped )(?:falling|dropping|moving|jumping"
    r"|bouncing|climbing|rising|wandering|trips? (?:at|it)"
    r"|at \w+ hundred volts)\b"
)
_ALTERNATING = re.compile(r"\bon a c\b")
"""The drive's bus is of direct current."""
_AT_WORK = re.compile(r"\bfans?(?:'s| are) (?:on|running)\b|\bit's running\b")
"""What was to be at rest."""
_TRIPS = re.compile(r"\btrip(?:s|ped)? at\b")
_WIRE_OFF = re.compile(r"\bwire(?:'s| is) off\b")
_WEIGHT = re.compile(
    r"\bcylinder(?:'s| is| holds| weighs)|(?<!nothing )(?<!none )(?<!no part )(?<!no parts )(?<!no fuse )\bleft in\b"
    r"|\bso far\b|\bback out\b|\bthe rest\b"
    r"|\bcylinder$|\bneed\w*\b|\bit's the tare\b"
)
"""Of refrigerant: what a cylinder holds, and what is not all."""
_SET_AT = re.compile(r"\btripped at\b|\bcut out at\b|\bi (?:set|turned|moved|put) it\b|\bwas (?:set )?at\b")
"""Where a control is set is not where it went, nor where somebody set it by now."""
_SET_TO = re.compile(
    r"\b(?:set|adjusted|dialed)(?: up| in)? to (?:cut(?! in| back)|trip|open|kick|drop|break|go|shut"
    r"|stop)(?: it)?(?: out| off| down| open)?"
    r"(?: at| on| around)?\b"
)
"""Where a control is set to act, as a control is spoken of."""
_HAND = re.compile(
    r"\bmy (?:\w+ )?(?:gloves?|hands?|arms?|boots?|foot|feet|fingers?|shield|visor|sleeve)\b|\bof us\b|\bbang\b"
    r"|\bspark\w*|\bsmell\w*"
    r"|\bdropped (?:a|the|my)\b|\b(?:i|we)(?: just| had to)? (?:bump|touch|dropp|slip|grab|lean|reach|los[te]|cross|short)\w*"
    r"|\bhad to \w+|\bone (?:lead|clip|wire|hand)\b"
)
"""With power on: it tells of a hand, not of what the meter shows."""
_CUTS_IN = re.compile(r"\bcut(?:s|ting)? (?:back )?in\b|\b(?:resets?|closes?|comes? (?:back )?on|makes?) (?:again )?at\b")
"""The other end of a control's range."""
_OURS = r"(?:ours|mine|this one|this machine|our own|this compressor|the tripped one)"
_OF_OURS = re.compile(rf"\b(?:on|of|from|at|for) {_OURS}\b|^{_OURS}(?:'s| is| reads| has| at)\b")
_TO_GROUND = re.compile(r"\bto (?:the )?(?:ground|earth|neutral|case|frame|shell|chassis)\b")
"""What is measured between two legs is not what one has to ground."""
_ON_A_LAMP = re.compile(
    r"^(?!.*\b(?:minutes?|hours?|ago)\b).*\b(?:one|two|three|four|five) on (?:the )?(?:oil|discharge|high|low|motor"
    r"|supply|head|suction|injection)\b"
)
"""So many machines, no minutes: "two on discharge and one on oil"."""
_HALF_A_PROOF = re.compile(
    r"\bon (?:just |only )?(?:a|one|two|(?:the )?(?:first|second|third|last|other|next|left|right|middle|top|bottom)|that|this)"
    r" (?:legs?|lines?|pairs?|phases?|ones?|sides?)\b(?! and\b)|\bon (?:line|leg|phase) (?:one|two|three|a|b|c)$"
    r"|^(?!.*\b(?:across|between|all|every|each|both|everywhere|six|legs?|phase to phase|line to line)\b).*\bto (?:the"
    r" )?(?:ground|earth|case|frame)$"
    r"|^(?!.*\b(?:ground|earth|all|every|each|both|everywhere|six)\b).*\b(?:across|(?:leg|line|phase) to (?:leg|line|phase)"
    r"|between (?:the )?(?:legs|lines|phases))$"
)
"""Of volts that must be nowhere, none at one place alone."""
_ON_A_DISPLAY = re.compile(
    r"\b(?:display|controller|screen|transducer|computer|laptop|board|app)(?:'s)? (?:says?|reads?|shows?|has|saying"
    r"|reading|showing)\b"
    r"|\b(?:on|off|by|from|per|according to) the (?:\w+ )?(?:display|controller|screen|transducer|computer|laptop|app)\b"
)
"""Where a gauge at the machine was asked for, what the control shows."""
_NOTHING = re.compile(r"\b(?:zero|nothing|none|dead|nil)\b(?! point\b)")
_NO_NUMBER = {
    "volts": _HAND, "amps": _HAND, "dead_volts.drive": _ALTERNATING, "cutout_pressure": _CUTS_IN,
    "others_discharge_temperature": _OF_OURS, "line_volts": _TO_GROUND, "winding_ohms": _TO_GROUND,
    "alarm_minutes_ago": _ON_A_LAMP,
}  # fmt: skip
_WEAK_NUMBER = {
    "ohms": _OHMS_MOVE, "megohms": _OHMS_MOVE, "temperature": _TRIPS, "mass": _WEIGHT, "probe_ohms": _WIRE_OFF,
    "idle_condenser_pressure": _AT_WORK, "cutout_pressure": _SET_AT,
}  # fmt: skip
"""By kind, reading, or its name before the point: beside which words a number is none, and beside which it is asked back."""
_UNDONE = (
    r"\bthen (?:\w+ ){0,2}(?:back|again|off|on|shut|closed|opened|open|put|pops?|popped|out|in|went|tripped|quit|stopped)\b"
    r"|\band (?:back|then) (?:on|off|in|out)\b|\b(?:came|come|went) back (?:on|off|up)\b|\bopened again\b|\bit's still\b"
    r"|\bstill \w+ing\b"
    r"|\bone's (?:left|on|off|out|missing|stuck|short|warm)\b|\bone (?:left|to go|stuck)\b|\bone is (?:left|stuck|missing)\b"
    r"|\b(?:power|thermocouple|clamp)(?:'s| is) (?:still )?on\b|\bi unlocked\b|\bstill turn\b|\bdropped it\b"
    r"|\bcan't get\b|\bno reading\b"
    r"|\b(?:it's|is|plug's|probe's|clip's|lamp's) (?:cracked|broken|stuck|loose|bent)\b|\bstuck (?:shut|open|on|off)\b"
    rf"|\bwrong {_NOUN}\b"
)
_HEARSAY = re.compile(
    r"\b(?:he|she|they) (?:says?|said|reckons?|swears?|tells?|told)\b|\bi(?:'m| was) told\b|\btold me\b"
    r"|\b(?:boss|he|she|they|kid|somebody|someone|helper|buddy|partner)(?:'s| has| have| had)(?: got)? (?:the |my )?key\b"
    r"|\b(?:he|she|they|buddy|helper|partner|apprentice) (?:closed|took|tested|did|put|opened|checked|tried|cleaned)\b"
)
_NOT_YET = (
    r"\bwhen you\b|\b(?:is|'s) next\b|\bi'll\b|\bafter i\b|\bfor a (?:second|bit|moment|minute|while)\b|\banyway$"
    r"|\bat least\b"
    r"|\bback there\b|\bbeen on\b|\block(?:'s| is) in my\b|\bon the dead one\b|^they open\b|\bclear please$"
    r"|\bclosed downstream first\b|\bthe outside\b|\bgrinder\b|\bi reset the (?:controller|alarm|module)\b|^done with the\b"
    r"|\bor (?:leave|not|should)\b|\blike that$|\bunplugged\b(?=.*\bquiet\b)|\bquiet\b.*\b(?:unplugged|muted|silenced)\b"
    r"|\bi shut the\b|\bby the sun\b|\bon the other\b"
    r"|\blast (?:time|week|month|year|night|shift|visit)\b|\byesterday\b|\bstopped no\b"
)
_DEED = re.compile("|".join((_UNDONE, _NOT_YET)))
_LIES = re.compile(
    r"^(?:(?!keys?\b)[\w']+ )*?(?:is|'s|are|'re|it's) (?:on|in|by|at) (?:the|my|a|its) (?:work ?bench|bench|floor|ground|cart"
    r"|truck|van|shelf|table|desk|office|shop|bucket|tailgate|toolbox|tool bag|bag|pocket|way)\b"
)
"""Where a thing lies that was to go on or back; a key may lie anywhere."""
_SITS = re.compile(r"\b(?:a bit|a little|a touch|slightly|halfway|part way) off\b|\bin my way\b")
_HOLDS_TOGETHER = frozenset("on at the my that is are for one and in".split())
_GUESS = re.compile(r"\bi (?:think|guess|believe|hope)\b|\b(?:power|clamp|thermocouple)(?:'s| is) (?:still )?on\b")
"""Of what is only said to be done: a guess, and power, clamp or thermocouple that are to be off."""
_ON_OTHERS_WORD = frozenset({"store_told", "supervisor_agreed", "other_lock_gone", "close_consent", "everybody_safe"})
"""Another's word is what was asked for."""
_TOLD_NOBODY = re.compile(r"\b(?:voicemail|machine|wife|cashier|i'm told|it's rack)\b")
_SEARCHED = re.compile(
    r"\b(?:out of|dead|still to|though|i'd have|would have|only|lost it|flat|yet)\b|\b(?:the|at the) \w+ still\b"
)
_LOOKED = re.compile(
    rf"\bwrong {_NOUN}\b|\bafter i\b|^they run\b|\bor leave\b|\bslow$|"
    r"\bneighbou?r's\b|\bit's the sun\b|\b(?:hot|cold|warm) outside\b|\bin my hand\b|\bwhen it's\b|\bnew one\b|\bby eye\b"
    r"|\blast week\b|\bpulled the\b|\bopens at\b|\bhad it on\b|\bthen (?:pops?|popped|opened|closed|live|dead)\b"
    r"|\bfor a bit\b"
    r"|\bopened again\b|\bit'll be\b|\bone's warm\b|\bthey replaced\b|\bdead check\b|\bcheck (?:it |that )?dead\b"
)


def of_this(question: Question, words: str, said: Meaning) -> Meaning:
    """The meaning, unless the same sentence makes it another's, another time's or undone.

    Args:
        question: what was asked.
        words: normalised, the whole sentence.
        said: what it was taken for.

    >>> taken = Answer((Part("drier_temperature_drop", 2.0),))
    >>> of_this(Question("drier_temperature_drop"), "two degrees last time", taken).parts[0].doubt
    '.'
    >>> of_this(Question("control_power_off"), "power off then on again", Answer((Part("control_power_off", True),)))
    NotUnderstood()
    """
    text = _SET_TO.sub("set at", " ".join(words.replace(",", " ").split()))
    if " " not in text or text in phrases(question) or text in question.other_words:
        return said
    if isinstance(said, Command) and said.name == "continue":
        against = _against_a_deed(question, text) if strictly(question) else _hit(_LOOKED, question, text)
        return NotUnderstood() if against else said
    if not isinstance(said, Answer):
        return said
    parts = [_of_this(question, text, part) for part in said.parts]
    kept = tuple(part for part in parts if part is not None)
    return Answer(kept) if len(kept) == len(parts) else NotUnderstood()


def _against_a_deed(question: Question, text: str) -> bool:
    return _lies(question, text) or _hit(_DEED, question, text) or bool(_HEARSAY.search(text) or _GUESS.search(text))


def _lies(question: Question, text: str) -> bool:
    """Whether the thing lies where it was not to go, or sits as it must not; what was to come off may lie anywhere."""
    plain = text.replace("'s ", " 's ")
    taken = question.asking in ("jumper_removed", "lock_removed") or any(
        word.endswith((" off", " out")) or word in ("unplugged", "off", "out") for word in question.go_ahead
    )
    return bool(_SITS.search(text)) or (not taken and bool(_LIES.search(plain)))


def _hit(pattern: re.Pattern[str], question: Question, text: str) -> bool:
    """Whether it stands there and is none of the prompt's own words."""
    own = {word.removesuffix("'s") for word in question.about} | _HOLDS_TOGETHER
    own |= {"off", "lifted", "lead"} if "lift" in own else set()  # the prompt wanted it lifted
    return any(not {word.removesuffix("'s") for word in match[0].split()} <= own for match in pattern.finditer(text))


def _patterns(table: dict[str, re.Pattern[str]], id: str) -> list[re.Pattern[str]]:
    """Those of a reading: of its kind and of its own."""
    return [table[name] for name in (vocabulary()[id].kind, id, id.partition(".")[0]) if name in table]


def _of_this(question: Question, text: str, part: Part) -> Part | None:
    """The part, with a doubt, or None where it is none."""
    entry = vocabulary().get(part.id)
    if entry is None or entry.kind == "free" or part.id not in (question.asking, *question.also):
        return part
    doubted = replace(part, doubt=part.doubt or ".")
    if part.id.startswith("dead_volts.") and _NOTHING.search(text) and _HALF_A_PROOF.search(text):
        return None
    if "gauge" in question.about and _ON_A_DISPLAY.search(text):
        return doubted
    if isinstance(part.value, float) or part.value == "over_range":
        if any(pattern.search(text) for pattern in _patterns(_NO_NUMBER, part.id)):
            return None
        weak = any(pattern.search(text) for pattern in _patterns(_WEAK_NUMBER, part.id))
        weak = weak and part.value != 0.0  # "nothing temporary left in and no gas added"
        against = _OLD_NUMBER if part.id in HISTORY else _NUMBER
        return doubted if weak or _hit(against, question, text) else part
    if part.id == "leak_found":
        return doubted if _SEARCHED.search(text) else part
    if part.id == "store_told":
        return None if _TOLD_NOBODY.search(text) else part
    yes = part.value == "yes" and (strictly(question) or part.id == "probe_cleaned")
    if part.value is True or yes or (part.id, part.value) == ("injection_after", "stopped"):
        if part.id == "lock_still_on":
            return part
        if part.id not in _ON_OTHERS_WORD and _HEARSAY.search(text):
            return None
        return None if _hit(_DEED, question, text) or _lies(question, text) else part
    return doubted if entry.kind == "choice" and _hit(_LOOKED, question, text) else part
