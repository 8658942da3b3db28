"""What else a sentence says that has an answer in it: how that was got, or that it is not so. Then it is no answer.

The patterns are the project's own reading of how people say such things.
"""

import re

from assistant.language.asides import strictly
from assistant.language.classes import whole_here
from assistant.language.grammar import normalise
from assistant.language.guess import AT_ZERO
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.offered import phrases
from assistant.language.pieces import ends_with_it, one_thing
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.since_then import of_now
from assistant.language.spotting import looks, phrases_of
from assistant.language.unready import FOUND_SHORT
from assistant.language.vocabulary import vocabulary

_BYPASS = (
    r"\b(?:jump(?:er|ers|ered|ed|ing)?"
    r"(?! (?:right |straight |a bit |a little |all )?(?:around|about|up|down|over|between|from|to|some|a bit|a lot)\b)"
    r"(?: it| them)?(?: out)?|bypass\w*"
    rf"|bridged|strapped|shorted{FOUND_SHORT}|tap(?:ed|ing)|wedged|(?<!door )(?<!lid )propped"
    r"|zip ?tied|(?<!ladder's )(?<!ladder is )tied (?:in|down|off)|foil|nail(?! (?:varnish|polish|gun))|screwdriver(?! handle)"
    r"|stick in it|a stick|held it (?:in|down)"
    r"|holding it(?!'| is| out| off| back| open| up| low| high)"
    r"|hold(?:ing)? (?:it|the (?:\w+ )?(?:button|reset|control|plunger|lever|switch)) (?:in|down|closed)"
    r"|(?:wired|wires|tied)(?: it| the \w+| that| them)? (?:down|shut|closed|around|over)"
    r"|(?:put|fitted|used|stuck)(?: in)? an? (?:bigger|larger|heavier) (?:one|fuse)"
    r"|(?:wired|hooked)(?: it| the \w+| them)? (?:straight|direct\w*|to hot)|to hot|(?:bigger|larger) fuse|piece of \w+"
    r"|(?:with|put) a wire)\b"
)
_GAS = (
    r"\b(?:vented|(?:the )?rest (?:went|got|leaked|blew) (?:out|off|away)|let the rest (?:go|out)"
    r"|let it (?:out|go)|blew it (?:off|out)|released it)\b"
)
_NOT_SO = (
    r"\bstill(?: \w+)? (?:on|in|open|there(?!')|fitted|clipped|live|hot|up|left|leak\w*|hiss\w*|bubbl\w*|pressur\w*|weep\w*"
    r"|drip\w*)\b"
    r"|\bstill (?:leak|hiss|bubbl|pressur|weep|drip|spray)\w*\b"
    r"|\bfor (?:today|tonight|now|the night)\b"
    r"|\bleft (?:the|a|my|one|it|them) (?!alone\b)\w+|\bby itself\b|\b(?:fixed|mended|cleared|healed) itself\b"
    r"|\bon its own\b|\bblew again\b"
    r"|\b(?:repaired|mended|fixed|patched|done|good|holding)"
    r"(?: it)? (?:up )?with (?:\w+ ){0,3}(?:tape|clamp|epoxy|glue|putty|patch"
    r"|rag|tie)\b"
    r"|\b(?:and|it's|is) (?:rising|climbing|coming up)\b"
    r"|\bcan't (?:read|see|tell)\b|\blooks like an? \w+|\byeah right\b|\bback in\b.*\bout\b|\bout\b.*\bback in\b"
    r"|\bkey(?:'s| is)?(?: still)? in (?:it|the lock)\b"
    r"|\b(?:disconnect|breaker|power)(?:'s| is) (?:still )?on\b|\b(?:right|straight) away\b|\bwhatever i had\b"
    r"|\bwrong (?:kind|store|place|rack|machine)\b|\b(?:shut|closed)(?: it)? (?:all the way|right down|tight|completely)\b"
    r"|\b(?:didn't (?:wait|look)|haven't (?:looked|checked|measured))\b"
    r"|\bpowered\b|\bcat (?:one|two)\b|\b(?:both|two) hands\b"
    r"|\bpeople in\b|\btools are in\b(?! (?:the|my) (?:bag|box|tool ?box|truck|van|bucket|pouch)\b)|\bhand in\b"
    r"|\bone's (?:still )?(?:on|in)\b(?! the (?:other )?(?:van|truck|shop|car|office|store))"
    r"|\bin hand\b|\bpinhole\b|\bburning\b|\bworse\b"
    r"|\b(?:about|nearly|almost|near|close to|just about) zero\b|\bof nitrogen\b|\boxygen\b|\boff,? (?:the )?clips? (?:are )?on\b"
)
_BUT = re.compile(r"\bbut (?:it|it's|they|they're|there|there's|he|she|i|the|not|only|still|one|a)\b")
"""Not where several things are asked for at once: "all good but the fan" says what is not, "oil but there's two" is both."""
_BUT_FINE = re.compile(
    r"\bbut (?:it|it's|that|that's|they|they're|there|i|i've|i'm)(?: has| is| does| seems| looks| feels| reads)?"
    r"(?: all| still| pretty| just| quite| got)?"
    r" (?:there|steady|fine|okay|good|settled(?: down| out)?|all right|working|stable|normal|enough|see it|clear|sure|certain"
    r"|positive|happy|calmed down|steadied|evened out|came good|done|that's it|readable|legible|as expected|to be expected)\b"
    r"(?! (?:on|at|when|if|for))"
)
"""What follows a but and takes nothing back."""
_AT_THE_FANS = r"\b(?:i'm|i am|we're|while i'm|while i) (?:\w+ )?(?:reach\w*|clean\w*|hos\w+|wash\w*|brush\w*|work\w*)\b"
OF_ONE_ANSWER = {
    "service_valves_open": r"\b(?:closed|shut|half|turns?)\b",
    "locked_out": r"^yeah right$|\bi'm locked out\b|\blocked(?: \w+)? by (?!me\b|myself\b)\w+|\bon position\b|\bwell tagged\b"
                  r"|\block(?:ed)? (?:it|the handle) on\b|^(?!.*lock).*\b(?:tag(?:'s)?|(?:just|only) tagged)\b",
    "injection_feed": r"\b(?:hit|hits|tapp\w+|tap|bang\w*|knock\w*|kick\w*|whack\w*|smack\w*|hammer\w*|wrench)\b",
    "protector_string_ohms": r"\bmegg\w+\b|\binsulation tester\b",
    "condenser_fans_running": _AT_THE_FANS + r"|\block(?:ed)? (?:out|off|on)\b|\bspun\b",
    "condenser_face": _AT_THE_FANS,
    "running_now": r"\boff\b.*\bjust (?:started|kicked (?:on|in)|came on)\b",
    "clothing_meets_label": r"(?<!not )(?<!n't )\bwet\b",
    "control_power_off": r"\boff on the (?:whole )?rack\b",
    "lock_still_on": r"\bon the (?:bench|floor|ground|shelf|truck|van|table|cart)\b|\b[a-z]+'s is too\b"
                     r"|\b(?:somebody|someone|they|he) (?:hung|put) (?:one|his|another|theirs)\b",
    "head_fan_running": r"\bbackwards?\b|\bslow(?:ly)?\b",
    "injection_hand_valve": r"\bcracked\b(?! (?:all the way )?(?:wide )?open)",
    "others_clear": r"(?<!nobody around )(?<!nobody here )(?<!nobody )(?<!nobody up here )(?<!no one )(?<!no one here )"
                    r"\bbut me\b|\bbut (?:him|her|us|one|my helper)\b"
                    r"|\b(?:just|only) me\b.*\b(?:and|with) (?:my|the|an?|his|our) \w+$",
    "jumper_removed": r"\bprobe(?:'s| is)(?: still)? in my hand\b"
                      r"|\b(?:out and|(?:jumper|resistor|it)(?:'s| is)(?: back)?) in again\b",
    "other_lock_gone": r"\bi(?:'ve| have|'ll)? (?:just )?(?:took|take|cut|pulled|removed|broke)\b|\bcut (?:it|off)\b",
    "refrigerant_added": r"\bold (?:stuff|gas)\b",
    "covers_on": r"\bon (?:top|the (?:bench|floor|ground|rack|roof|truck|van|cart))\b",
    "isolated_pressure": r"\bother\b",
    "section_emptied": r"\bfull\b|\bboth,? then\b",
    "refrigerant_label": r"\bon the cylinder\b",
    "store_told": r"\bknow (?:me|us)\b",
    "module_enabled": r"\bother module\b",
    "cylinder_checked": r"\bthe other one\b",
    "injection_after": r"\bother (?:line|one|machine)\b|\bon (?:one|two|three|four)\b"
    r"|\bstopped (?:warming|a bit|for a \w+|and (?:then )?started)\b|\bstart(?:s|ed|ing) to (?:feed|frost)\b"
    r"|\bcold (?:past|after|behind|downstream)\b"
    r"|\bstopp\w+\b.*\b(?:now (?:it's |she's )?hissing|line(?:'s| is)(?: still)? (?:cold|frosted)"
    r"|still (?:cold|frost\w*))\b"
    r"|^(?!.*\bwarm).*\b(?:not feeding|nothing coming|stopped|dry)\b.*"
    r"(?<!not )(?<!no )(?<!n't )(?<!no longer )\b(?:frost\w*|cold|icy|freezing)\b",
    "ground_megohms": r"\b(?:tested|megged|set|setting|range)\b.*\b(?:thousand|kilovolts?)\b|\bthousand volts?\b"
                      r"|\bat the (?:motor )?terminals\b|\b(?:sensors?|sensor string)\b"
                      r"|\b(?:drive|modules?|soft starter)(?:'s| is| are)?(?: still)?"
                      r" (?:connected|on|in|hooked up|wired|plugged in)\b",
    "oil_added": r"\b(?:motor oil|engine oil|hydraulic|cooking|bucket|(?:wrong|other|different) (?:kind|oil|stuff))\b",
    "machine_isolated": r"\ball but\b|\bopen\b",
    "start_prevented": r"\brack(?:'s)? (?:switch|control|breaker)\b"
                       r"|\b(?:controller|software|computer|screen|app|set ?point|satisfied|defrost|schedule|cut ?out)\b",
    "control_reset": r"\b(?:two|three|four|five|six|several|few|many|couple of) times\b|\btwice\b",
}
"""What denies one answer alone."""
_OWN = {
    "injection_feed": "right away still hissing", "probe_response": "right away",
    "overload_state": "still open closed on", "control_reset": "still open closed on",
    "injection_after": "still open closed on leaking leaks hissing bubbling dripping weeping hot",
    "lock_still_on": "still on there up", "locked_out": "still on there hanging",
    "load_shed": "still on up left it everything all",
    "part_left_in_use": "still in there on",
    "glass_moisture": "can't read tell see", "condenser_face": "can't see tell", "oil_color": "can't see tell",
}  # fmt: skip
"""What is itself an answer to one question."""
_OF_ANYTHING = frozenset("off out on in can't see read tell hand".split())
_LEFT_ON = re.compile(
    r"\bleft it on (?:for )?(?:a |the )?(?:full |good |whole |couple of |few )*(?:\w+ )?(?:minutes?|seconds?|while)\b"
)
"""How long a tester was left on, of which nothing is left."""
_ZERO = re.compile(r"\b(?:zero|nothing|nil)\b|^0\b")
_TO_GROUND = re.compile(r"\bground\b|\bearth\b")
_BETWEEN_LEGS = re.compile(r"\b(?:phase to phase|line to line|leg to leg|across)\b")
_EVERYWHERE = re.compile(r"\b(?:all|every\w*|each|worst|highest|both|six)\b")
_BLIND = re.compile(r"\bcan't (?:read|see|tell)\b")
_LIVE_WORK = re.compile(
    r"\b(?:repair|fix|mend|change|swap|replace|do) (?:it|this|that|the \w+)(?: now| right now)?"
    r" (?:live|hot|with (?:the )?power on|without (?:a |the |my )?lock(?:ing)?(?: it)?(?: out)?)\b"
)
_RESET = re.compile(r"\bi(?:'ve)? (?:just |already )?(?:reset|pushed|pressed|hit)\b")
_SEATED = re.compile(r"\b(?:pushed|pressed) (?:it|her|the coil|that)(?: all the way| right| back)* (?:down|on|onto|home)\b")
"""A coil on its stem, and no button."""
_PUT_BACK = re.compile(
    r"(?:\b(?:jumper|resistor|plug|it)(?:'s| is) out|^(?:yes |yeah |it's )?out)(?: and)? (?:the )?(?:probe|sensor|wires?)\b"
)
_NO_BYPASS = re.compile(
    r"\b(?:needle|gauge|pointer|reading|display|numbers?)(?:'s|'re| is| are| was| isn't| aren't| ain't| kept| keeps)?"
    r"(?: (?:not|never|no longer|only|still|a bit|a little|just))* jump(?:ing|s|ed|y)?\b(?! (?:out|across|the|over|it))"
    r"|\b(?:it|they)(?:'s| is| are|'re)? (?:not|isn't|aren't|no longer) jumping\b"
    r"|\b(?:coil|probe|sensor|windings?|transformer|motor)(?:'s| is| was| looks| has)?(?: dead| gone| been| all)? shorted"
    r"(?: out)?\b(?! (?:across|the|to|over)\b)"
    r"|\b(?:coil|ohms?|windings?)\b.*\b(?:it's|she's) (?:dead )?shorted(?: out)?\b(?! (?:across|the|to|over)\b)|"
    r"\b(?:snugg?ed|tighten\w*|nipped|screwed|cinched|torqued|landed|pinched|done)\b(?: \w+){0,4} (?:with|using) (?:my|a|the)"
    r"(?: \w+){0,2} screwdriver\b"
    r"|\bstrapped (?:on|tight|down|in place|in tight|snug)\b(?! (?:the|across|over|to|with)\b)"
    r"|\bbulbs?\b.*\bstrapped (?:it|them|back|on|down)\b(?: (?:back|on|down|tight))*(?! (?:the|across|over|out)\b)"
    r"|\bstrapped (?:the |its |that )?(?:\w+ )?(?:valve )?bulbs?(?: back| on| down| up)?\b|"
    r"\b(?:no|not an?|never(?: was)? an?|isn't an?|wasn't an?|without an?)(?: \w+)? (?:jumper|bypass)\b(?!')"
    r"|\b(?:jumper|bypass)(?:'s| is| was)? not (?:there|fitted|on|in)\b"
    r"|\b(?:jumper|bypass)(?:'s| is| was)? (?:out|gone|off)\b(?!.*\b(?:but|still|other|another)\b)"
    r"|\b(?:wires?|splice|joint|connection|insulation|loom|harness)(?:'s| is| are)?(?: (?:in|on|and|i|new|all|well|back|fixed"
    r"|mended|repaired))* taped(?: (?:it|up|over))*\b(?! (?:in|down|across|shut|closed|to)\b)"
    r"|\btaped (?:up |over )?(?:the |that |its )?(?:\w+ )?(?:wires?|splice|joint|loom|harness|chafe)\b(?! (?:in|down|across"
    r"|shut|to)\b)"
)
"""Of a bypass that is not there, of what is found shorted, and of a wire that was mended."""
_KINDS = (("bypassed", re.compile(_BYPASS)), ("vent", re.compile(_GAS)), ("trouble", re.compile(_NOT_SO)))


_WIRE_TAPED = re.compile(
    r"\b(?:wires?|leads?|cables?|insulation|harness|splice)\b.*\btaped (?:(?:it|that|them|the \w+) )?(?:up|over|off)\b"
    r"|\btaped (?:up )?(?:the|a|that) (?:wires?|leads?|cables?|insulation|harness|splice)\b(?! (?:to|in|down|across))"
)
_STILL_NONE = re.compile(r"^(?:(?:yeah|yep|okay|it's) )*still (?=(?:zero|nothing)(?: volts?)?(?: on (?:all|every one))?\b)")
"""Of a second proof: as dead as at the first."""
_FEWER_TURN = re.compile(
    r"\bbut (?:i(?:'ve)? )?(?:only )?(?:got |see |count |have )?(?:only )?(?:one|two|three|four|five|none)(?: of (?:them|those))?"
    r"(?: are| is)? (?:turning|running|spinning|going)\b"
)
"""Of fans that are called: how many run is asked next."""
_STILL_THERE = re.compile(r"\bstill (?=(?:in|on|fitted|clipped|there)\b(?! (?:my|the (?:truck|van|bag|box))\b))")
"""Of what is to be hooked up, and is from the time before."""


def spoilt(question: Question, words: str) -> str:
    """What a sentence that was taken for an answer says beside it: `bypassed`, `vent`, `trouble`; empty for nothing.

    A word of the prompt spoils nothing, nor does what is a whole answer to it in the grammars.

    Args:
        question: what was asked.
        words: as said.

    >>> spoilt(Question("leak_repaired"), "yes but it still bubbles"), spoilt(Question("leak_repaired"), "yes it is")
    ('trouble', '')
    """
    text = normalise(words)
    if question.asking in ("jumper_fitted", "leads_clipped"):
        text = _STILL_THERE.sub("", text)
    text = never_shut(question, text)
    if question.asking.startswith("dead_volts"):
        text = _STILL_NONE.sub("", text)
    if number_asked(question):
        text = _USUAL.sub("normal", _STILL_AT.sub("", text))
    if question.asking == "condenser_fans_called":
        text = _FEWER_TURN.sub("", text)
    if {"press", "starter"} <= set(question.about):
        text = text.replace("screwdriver", "finger")  # it is pressed in for a look, dead
    if "still" in question.about:
        text = text.replace("still ", "")  # "is your lock still on?"
    if question.asking in vocabulary() and "fouled" in vocabulary()[question.asking].choices:
        text = _COVERED.sub("covered in fluff", text)
    about = _beside(question, _NO_BYPASS.sub("it", _LEFT_ON.sub("it", text))) if " " in text else ""
    if not about:
        return ""
    if about == "bypassed" and _WIRE_TAPED.search(text):
        return "trouble"  # a makeshift, and nothing that is bridged
    known = text in question.other_words or text in phrases(question)
    known = known or (not strictly(question) and bool(whole_here(question, text)))
    return "" if known else about


_COVERED = re.compile(
    r"\b(?:wear(?:s|ing)|got|in|with) (?:a|its own|its)(?: \w+){0,2} jumper(?: on)?\b(?! (?:from|across|to|over)\b)"
)
"""What a dirty face wears, and no wire."""


_STILL_AT = re.compile(rf"\bstill (?=(?:at |about |around |reads? |reading |shows? )*(?:{'|'.join(sorted(FIGURES))}|\d))")
""" "Still twelve on the suction": a value that stayed where it was."""


_USUAL = re.compile(r"\b(?:normal|usual|typical|good|fine|okay) for tonight\b")
"""How usual a reading is, and no repair that holds for one night."""


def number_asked(question: Question) -> bool:
    """Whether numbers are asked for, and no zero by which something is opened."""
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    return bool(ids) and all(vocabulary()[id].kind in NUMBER_KINDS and not id.startswith("dead_volts") for id in ids)


_NEVER_SHUT = re.compile(
    r"(?:\b(?:i|we|nobody)(?:'ve| have)? |^|(?<=open ))(?:never|not|didn't|haven't|didn't ever) (?:even )?"
    r"(?:clos\w+|shut|touch\w*|turn\w*)"
    r"(?: (?:any|either|one|a single one|them|those|it)(?: of (?:them|those|the valves))?| a thing| anything| a valve)?\b"
)


_STILL_OPEN = re.compile(r"\bstill (?=(?:all |full |fully |wide |backed )*open\b)")


def never_shut(question: Question, text: str) -> str:
    """The words, with what was never closed as open, where it is asked whether valves are.

    >>> never_shut(Question("service_valves_open"), "i never closed any of them")
    'left open'
    """
    if question.asking != "service_valves_open":
        return text
    return _STILL_OPEN.sub("", _NEVER_SHUT.sub("left open", text))


def _beside(question: Question, text: str) -> str:
    denied = re.search(OF_ONE_ANSWER[question.asking], text) if question.asking in OF_ONE_ANSWER else None
    if denied and not (question.asking == "start_prevented" and set(denied[0].split()) <= set(question.about)):
        return "trouble"  # what the site itself blocks the start by stands in the prompt
    if "repair" in question.about and _LIVE_WORK.search(text):
        return "trouble"
    if question.look and _RESET.search(_SEATED.sub("seated", text) if "repaired" in question.go_ahead else text):
        return "trouble"  # "not tripped now, I reset it"
    but = _BUT.search(_BUT_FINE.sub("", text)) and of_now(question, text) == text  # "it was bouncing but it's settled on ten"
    if but and not question.all_good and not question.also and not one_thing(question, text):
        if strictly(question) or not ends_with_it(question, text):
            return "trouble"
    if question.asking.startswith("dead_volts.") and _only_some(text):
        return "trouble"
    about = set(question.about) | _said_of(question, text)
    entry = vocabulary().get(question.asking)
    told = not strictly(question) and (question.look or (entry is not None and entry.kind == "choice" and not question.also))
    for kind, pattern in _KINDS:
        if kind == "trouble" and told and not _BLIND.search(text):
            continue  # how a thing stands that nobody's safety hangs on: what is left open or stuck is the answer
        if any(not _plain(match[0]) <= about for match in pattern.finditer(text)):
            return kind
    return ""


def _only_some(text: str) -> bool:
    """Whether a zero is said of the pairs, or of ground, alone: a circuit is dead by the worst of all of them."""
    everywhere = _EVERYWHERE.search(text) or bool(_TO_GROUND.search(text)) == bool(_BETWEEN_LEGS.search(text))
    return bool(_ZERO.search(text)) and not everywhere


def _plain(words: str) -> set[str]:
    """The words without what only holds them together: "power's on" is of the power that was to come on."""
    return {word.removesuffix("'s") for word in words.split()} - {"is"}


def _said_of(question: Question, text: str) -> set[str]:
    """What spoils other answers and none here: a line that is still hot and volts that are still there are what was measured,
    load that is still on is what was kept, a dot that nobody can read is one that cannot be read."""
    asking = question.asking
    if asking == "jumper_fitted":
        return {*"jumper jumped jumpered out with a wire".split()}  # "it's jumped out": what was asked for
    if asking == "jumper_removed":
        out = _PUT_BACK.search(text)
        return {*"jumper out and the it probe sensor wire wires plug are back in plugged on".split()} if out else {"jumper"}
    if asking == "lock_removed":
        return {"disconnect", "breaker", "power", "still", "on"}  # it comes on behind the lock
    if "leave" in question.about:
        return {"left", "it", "in", "auto"}
    if {"thermocouple", "behind"} <= set(question.about):
        return {"strapped", "taped"}
    if "tester" in question.about:
        return {"shorted"}  # to ground, as long as the prompt wants it
    if question.look and "flooding" in question.about:
        return {"strapped", "taped", "on", "back", "in", "out", "hand"}  # the valve's bulb
    if question.look and "loading" in question.about:
        return set("on its own by itself".split())
    if asking in _OWN:
        return set(_OWN[asking].split())
    entry = vocabulary().get(asking)
    at_zero = asking.startswith("dead_volts") or asking in AT_ZERO
    if entry is not None and entry.kind in NUMBER_KINDS and not at_zero:
        return set("still there up hot high and rising climbing coming it's is strapped taped".split())
    if strictly(question) or (entry is not None and entry.kind != "choice"):
        return set()
    books = [looks(question)] if question.look else [phrases_of(id) for id in (asking, *question.also) if id in vocabulary()]
    return {"still", *(word for book in books for phrase in book for word in phrase)} - _OF_ANYTHING
