"""What a prompt tells the technician to do, found in its words alone.

The words are the one thing that the technician acts on. A step whose label was lost is still found by them.
"""

import re
from functools import lru_cache

from assistant.safety.tables import CAUTIONS, EMERGENCY

_ACTS = {
    "lift": r"\blift(?:ed)?\b(?! the cover)",
    "wire_back": r"\b(?:wires?|leads?|modules?|connector)\b[^.?]*\bback\b",
    "clip": r"\bclip\b|\bleads on\b|\bclamp on\b",
    "unclip": r"\bleads off\b",
    "unclamp": r"\bclamp (?:or thermocouple )?off\b",
    "unplug": r"(?<!nothing )\bunplug(?:ged)?\b",
    "fit": r"\bfit the\b|\bplug the \w+ in\b",
    "take_out": r"\btake the [\w ]{1,30}? ?out\b|\bunscrew\b",
    "press_starter": r"\bpress\b[^.]*\bstarter\b",
    "measure_dead": r"\bchecked dead\b|\bload side of the starter\b|\bat the module end\b|\bsensor string\b|\bohms (?:after|at)\b"
                    r"|\bprobe's? input\b|\bmotor's terminals\b",
    "insulation": r"\bwinding to ground\b|(?<!never the )\binsulation test|\bhow many meg\b",
    "block": r"\bblock the start|\bstart blocked\b",
    "other_unlock": r"\block (?:still )?hangs on the other machine\b.*\btake it off\b",
    "unblock": r"\bput the start(?:er)?(?:'s)? control back\b|\bunblock\b|\bfree the start",
    "terminal_open": r"\bterminal cover off\b|\btake the terminal cover\b",
    "terminal_close": r"\bterminal cover (?:back )?on\b",
    "jumper_in": r"\bfit the [\w ]*(?:jumper|resistor)\b",
    "jumper_out": r"\btake the (?:jumper|resistor|test plug) out\b",
    "take_probe_out": r"\b(?:take|unscrew|pull) the (?:discharge )?(?:probe|sensor)\b(?! connector)",
    "touch_probe": r"\b(?:unplug|take|clean|unscrew|pull)\b[^.?]*\b(?:probe|sensor)\b|\bohms at the probe\b",
    "live": r"\bhand-held probes?\b|\bvolts (?:at|after|across)\b|\bcontrol voltage\b",
    "power_on": r"\bpower (?:back )?on\b|\brestore (?:control )?power\b",
    "power_off": r"\bpower off\b",
    "lock": r"\byour own lock on\b|\bput your (?:own )?lock on\b",
    "unlock": r"\byour (?:own )?lock off\b|\btake (?:your|the) (?:own )?lock off\b|\block off\?",
    "fans_unlocked": r"\bfans\b[^?]*\bunlock their circuit\b",
    "reset": r"\bone reset\b(?! only)|\bsay reset\b|(?:^|[.;,:] )(?:now )?reset (?:it|the|its|that)\b"
             r"|(?<!not )\bpress the (?:reset|button)\b",
    "start": r"\bsay started\b|(?:^|[.;,:] )(?:then )?start(?:\.| it\b| the (?:machine|compressor)\b| up\b)",
    "to_auto": r"\b(?:switch|set|put) (?:it )?(?:back )?to (?:auto|hand)\b|\bleave it in (?:auto|hand)\b",
    "stop": r"\bstop (?:it|this one|the machine|the compressor)\b|\bswitch (?:it|the machine) off\b"
            r"|\bsay (?:switched off|stopped)\b",
    "valve_close": r"\b(?:close|shut|throttle)\b[^.?:]*\bvalves?\b",
    "valve_open": r"\bopen (?:the|that) [\w ]*valve\b|\bvalve (?:cracked|fully open)\b",
    "section_open": r"\bsection's valves open\b",
    "close_discharge": r"\b(?:close|shut)\b[^.?:]*\b(?:discharge|condenser|receiver inlet)\b",
    "close_liquid": r"\b(?:close|shut)\b[^.?:]*\b(?:liquid|drier|receiver outlet|king|upstream|downstream)\b",
    "hose_on": r"\bhoses? on\b|\bgauges on\b|\bconnect (?:the )?(?:hoses?|gauges?)\b",
    "hose_off": r"\bhoses? off\b",
    "charge": r"\bweigh it in\b|\bcharge (?:it|the rack|with)\b|\bopen the cylinder\b",
    "repair": r"\brepaired(?:\?|, or)|\brepair it\b|\breplace (?:it|the)\b|\breplaced\?|\bmend it\b|\bfit a new\b",
    "leak_repair": r"\brepair it\b",
    "clean_probe": r"\bclean (?:it|the probe)\b",
    "climb": r"\bclimb\b|\bat the condenser\b|\bon the roof\b|\bup the ladder\b",
    "seat_coil": r"\bseat the coil\b|\bcoil (?:back )?on its stem\b",
    "coil_off": r"\b(?:lift|take|slide) the coil off\b",
    "touch_coil": r"\bseat the coil\b|\b(?:lift|take|slide)\b[^.?]*\binjection coil\b|\blift the coil\b",
    "pump_down": r"\bpump (?:it|the machine) down\b|\bit pulls down to\b",
    "pressure_test": r"\bpressure test\b|\bnitrogen\b",
    "emptied": r"(?<!or )\bempt(?:y the|ied)\b",
    "isolated": r"\bisolated?\b[^?]*\bzero\b|\bsuction, discharge, injection, oil\b[^?]*\bclosed\b",
    "recovered": r"\brecover(?:ed)?\b",
    "say_pull": r"\bpull(?:ed)? (?:out )?(?:the|that|its) [\w ]*(?:probe|sensor|plug|connector|jumper)\b",
    "take_off_another": r"\b(?:his|her|their|another|other|somebody|someone|that)(?:'s| else's| person's)? lock (?:comes )?off\b"
                        r"|\b(?:remove|take off|cut) (?:his|her|their|another|that|the other)\b[^.?]*\block\b",
    "another_lock": r"\b(?:another|other|else's|owner)\b",
}  # fmt: skip
HOOKED_UP = re.compile(r"(?:still hooked up|left for later):[^.]*\.")
"""A list of what is open tells nobody to do anything."""
ACTS = {name: re.compile(pattern) for name, pattern in _ACTS.items()}
HANDS = frozenset({
    "lift", "wire_back", "clip", "unclip", "unclamp", "unplug", "fit", "take_out", "press_starter", "measure_dead", "insulation",
    "block", "unblock", "terminal_open", "terminal_close", "jumper_in", "jumper_out", "clean_probe", "take_probe_out",
})  # fmt: skip
"""Acts with hands in an open panel or terminal box, or on what hangs on it."""
BY_A_LOOK = re.compile(r"\blamps?\b|\bcodes?\b|\bdisplay\b|\bby the controller\b")
TOLD = {
    "line_fuse_open": (r"\b(?:line )?fuses? or breaker\b|\bline fuses\b", r"\b(?:open|tripped|blown)\b"),
    "modules_off": (r"\bmodule\b[^.]*\bunplugged\b|\bmodules off\b", r"\ball off\b|\bunplugged\b"),
    "charge_unknown": (r"\bcharge known\b", r"\bunknown\b"),
    "idle_test_valid": (r"\bstanding test\b", r"\ball so\b"),
    "oil_control_not_tripped": (r"\boil control\b", r"\bnot tripped\b"),
    "milliohm_meter": (r"\blow ohm meter\b", r"\blow ohm\b"),
}
"""What a look's words tell where the record does not say it: pattern of the prompt, of the answer."""
_TOLD = {fact: (re.compile(ask), re.compile(said)) for fact, (ask, said) in TOLD.items()}
_CAUTIONS = {name: (re.compile(short, re.S), re.compile(f"{full}", re.S)) for name, (short, full) in CAUTIONS.items()}
_EMERGENCY = re.compile(".*".join(EMERGENCY), re.S)
ANOTHERS_LOCK = re.compile(
    r"\b(?:some(?:one|body) else|another|the other|other guy|his|her|their|night shift|day shift|contractor|electrician)"
    r"(?:'s)?\b"
    r"[\w' ]*\block|\block\b[\w' ]*\b(?:isn't mine|not mine|some(?:one|body) else)|\bnot my lock\b"
    r"|\bsomeone_else\b|\b(?:two|second) locks?\b"
)
LOCK_GONE = re.compile(
    r"\b(?:gone|took (?:it|his|hers|theirs) off|taken (?:it|his|hers|theirs)? ?off|(?:his|her|their|other) lock(?:'s| is)? off)\b"
)
LOCK_IS_OFF = re.compile(r"\b(?:the|my) lock(?:'s| is| came| has come)? off\b|\block's off\b|\btook (?:the|my) lock off\b")
METER_WRONG = re.compile(
    r"\bmeter(?:'s| is| was) (?:on ohms|dead|broken|off|on the wrong \w+)\b|\bmeter (?:died|quit|broke)\b"
    r"|\bmy lead (?:fell|came) off\b"
)
"""What was measured with it says nothing."""
UNREADY = {
    "jumper_fitted": re.compile(
        r"\bjumper(?:'s| is)?(?: \w+)? still (?:in|on|there)\b|\b(?:forgot|left) (?:the|my|that) jumper\b"
    ),
    "leads_on": re.compile(r"\bleads(?: are)? still on\b"),
    "panel_cover": re.compile(r"\bcovers?(?:'s| is| are)?(?: still)? (?:off|not on)\b|\bpanel(?:'s| is)(?: still)? open\b"),
    "service_valves_open": re.compile(r"\b(?:suction|discharge|service) valves?(?:'s| is| are)?(?: still)? (?:closed|shut)\b"),
    "others_clear": re.compile(
        r"\b(?:somebody|someone|he|helper|partner|a guy)(?:'s| is)(?: still)? (?:in|at) the (?:panel|machine)\b"
    ),
}
"""What is said against a start, by the obligation, or the acknowledgement, that it speaks against."""
TRIPPED = re.compile(
    r"^(?:it|it's|she|the (?:machine|compressor))(?: just)? (?:tripped|quit|died)(?: (?:again|out))?$|^tripped again$"
)
"""A machine that ran is said to stand."""
TRIPPED_ON = re.compile(r"^(?:it|it's|she)(?: just)? (?:tripped|went off) on \w+")
"""The same with its protection, of a machine that was to start."""
AGREES = re.compile(r"(?:yes|yeah|yep|yup|correct|right)\b")
"""What is asked back is so."""
DISTRESS = re.compile(
    r"\b(?:i(?:'m| am)|he's|she's|got|been|is|was) (?:hurt|shocked|burned|bleeding)\b|\bfire\b(?! watch)|\bhelp me\b"
    r"|\bambulance\b"
    r"|^(?:hurt|shocked)$|\bgot a shock\b"
)
DISTRESS_ANSWER = "if it is an emergency, say emergency"
NUMBER_WORDS = re.compile(
    r"\d|\b(?:zero|oh|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty|hundred|thousand|half|point"
    r"|quarter|third|couple)\b"
)
WORDS_FOR_ZERO = re.compile(r"\b(?:flat|none|no|nothing|just now|can't feel|same|all|only|missing|dead leg|just this)\b")


@lru_cache(maxsize=8192)
def acts(text: str) -> frozenset[str]:
    """What a prompt tells the technician to do, by the names of `ACTS`."""
    low = HOOKED_UP.sub("", text.lower())
    found = {name for name, pattern in ACTS.items() if pattern.search(low)}
    if found & {"jumper_in", "jumper_out"}:
        found -= {"touch_probe", "take_probe_out"}
    if "leave it locked" in low and "repair it" not in low and "repaired" not in low:
        found -= {"repair"}
    return frozenset(found)


@lru_cache(maxsize=8192)
def by_a_look(text: str) -> bool:
    """The answer is seen on a lamp, a code or a display: no hands."""
    return bool(BY_A_LOOK.search(text.lower()))


@lru_cache(maxsize=8192)
def cautions_in(text: str) -> frozenset[tuple[str, str]]:
    """The cautions whose key phrases these words have, each with its form: `short` or `full`."""
    low = text.lower()
    found = set()
    for name, (short, full) in _CAUTIONS.items():
        if short.search(low):
            found.add((name, "full" if full.search(low) else "short"))
    return frozenset(found)


@lru_cache(maxsize=8192)
def told(prompt: str, said: str) -> frozenset[str]:
    """What an answer to a look says, where its words are all there is."""
    low = prompt.lower()
    return frozenset(fact for fact, (ask, answer) in _TOLD.items() if ask.search(low) and answer.search(said))


def emergency_words(text: str) -> bool:
    """The key phrases of an emergency, in their order."""
    return bool(_EMERGENCY.search(text.lower()))


@lru_cache(maxsize=8192)
def named(text: str, pattern: str) -> bool:
    """One of a thing's spoken names is among the words."""
    return bool(re.search(rf"\b(?:{pattern})", text))
