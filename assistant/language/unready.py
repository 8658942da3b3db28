"""What is said by the way against a start, or against hands in the panel: something left in, open or shut, somebody at the
machine, power back on, a protection bypassed, bad air; that a machine tripped while it ran, that what is opened is not empty,
that a test or a charge must not be; in the live window, that it is to end.

It is looked for only in words that mean nothing to the question, all of them understood as words. The patterns are the
project's own reading of how people say such things.
"""

import re

from assistant.language.left_so import LEFT_SO
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.of_the_circuit import IS, OF_THE_CIRCUIT, STILL

_LEFT = r"(?:forgot|left|never took|didn't take|haven't taken|did not take|have not taken)(?: (?!lock\b)\w+){0,3}"
_NOT_BACK = r"(?:forgot|left|never put|didn't put|haven't put|did not put|have not put)(?: \w+){0,3}"
_KIN = r"(?:my|the) (?:helper|partner|buddy|apprentice|boss|mate|wife|son|electrician|customer|manager)"
_WHO = rf"\b(?:somebody|someone|(?:there's )?(?:a guy|a man|people)|the guy|he|she|they|the kid|{_KIN})"
_AT = r"(?:in|inside|at|near|behind|beside|next to|under|working on|leaning on|on)"
_MACHINE = r"(?:panel|machine|compressor|unit|rack|condenser|fan|fans|way|there|roof)"
_GUARD = (
    r"(?:safety|safeties|module|oil control|oil switch|oil|cutout|cut out|pressure switch|switch|overload|control|contact|float"
    r"|limit|reset)"
)
_PUBLIC = r"(?:kids?|child|children|customers?|shoppers?|visitors?|a (?:lady|woman|boy|girl|cleaner|stocker|clerk))"
_VALVE = r"(?:discharge|condenser|receiver|king|suction|equaliz\w+|oil)(?: (?:inlet|outlet))?(?: valve)?"
_TELLS = (
    r"(?:supervisor|boss|manager|office|customer|store|owner|they|he|she)(?: \w+)?"
    r" (?:says?|said|told me|wants?(?: me)?|ordered(?: me)?)"
)
FOUND_SHORT = (
    r"(?! (?:out )?(?:to|against|on|onto) (?:(?:the|a|its) )?(?:\w+ )?(?:bracket|ground|earth|frame|chassis|box|case|casing"
    r"|pipe|line|metal"
    r"|body|panel|conduit|cover|housing|strut|shell|clamp|screw|edge)\b)"
)
"""A wire that is found shorted to metal bypasses nothing."""
_BYPASS = rf"(?:jumped|jumpered|bypassed|bridged|defeated|strapped|shorted{FOUND_SHORT})"
_POWER = r"(?:the )?(?:control )?power"
_OFF = r"(?: (?:off|down|out))"
_NOT = r"(?:won't|will not|wouldn't|doesn't|does not|didn't|did not|can't get it to)"
_IT = r"(?:it|she|he|that one|this one|the one|(?:the )?(?:machine|compressor|unit|motor))"
_SOON = r"(?:just|already)"
_WENT = (
    r"(?:tripped|quit|stopped|died|down|off|kicked (?:out|off)|cut out|shut (?:off|down|itself off|itself down)"
    r"|went (?:off|down|out)|dropped out|stalled|locked up)"
)
_ON_ITS_OWN = r"(?:again|now|out|off|by itself|on its own|all by itself|a second time|on me)"
_MEANWHILE = (
    r"(?:overnight|last night|(?:in|during|over) the (?:night|evening|meantime)|while (?:i|we) (?:was|were) \w+"
    r"|(?:a|an|one|two|three|several|some|few) (?:\w+ )?(?:hours?|minutes?) ago)"
)
_WAS = r"(?:'s| is| was| were| had been)?"
_METER = r"(?:meter|tester|volt ?meter|multi ?meter)"
_NOT_VOLTS = r"(?:ohms|amps|milliamps|d c|continuity|diode|resistance|wrong|millivolts|hold|off)"
_FAULTY = r"(?:off|dead|dying|broken?|blank|faulty|bad|no good|acting up|playing up)"
_LEADS = r"(?:leads?|probe tips?|clips?)"
_CAME = r"(?:fell|fallen|came|come|pulled|slipped|popped|knocked)"
_NEVER = r"(?:didn't|did not|never|forgot to)"
_NOT_SO = r"(?:not|isn't|wasn't|ain't|never|no longer)(?: \w+)?"
_WORN = r"(?:gloves?|shield|face ?shield|visor|glasses|goggles)"
_TORN = r"(?:torn|tore|ripped|cut|split|cracked|broken?|holed?|worn through|soaked|off|fell off)"
_TOOL = (
    r"(?:tools?|wrench(?:es)?|spanners?|screwdrivers?|pliers|flashlight|torch|light|meter|rag|drill|nut|washer|screw|bolt|cutters"
    r"|knife|phone)"
)
_INSIDE = r"(?:panel|box|enclosure|starter)"
_HER = r"(?:it|her|the (?:machine|compressor))"
_OFTEN = r"(?:twice|two times|three times|four times|a few times|several times|many times|all (?:night|day|week)|over and over)"
_WOULD = r"(?:can i|could i|may i|should i|let me|let's|gonna|going to|i'll|i could|i'd|why not|what if|want to|just)"
_TO_BYPASS = r"(?:jumper|jump|bypass|bridge|defeat|strap)"
_PART = r"(?:part|one|coil|fuse|module|probe|sensor|valve|contactor|starter|motor|drier|filter|relay|control|cutout|fan)"
_ANOTHERS = r"(?:(?:the|an?) )?(?:other|neighbou?r|next|number|compressor|machine|unit|rack|old|dead|another)"
_LIVE_PART = (
    r"(?:it|this|that|something|she|(?:the |a )?(?:\w+ )?(?:motor|machine|compressor|panel|box|contactor|starter|wires?|wiring"
    r"|cable|terminals?|breaker|fuse|coil|transformer|insulation|lug|relay))"
)
_GLOWS = r"(?:burning(?! hot)|burned up|melting|melted|glowing|red hot|cooking|arcing|sparking|throwing sparks)"
_BURNS = (
    rf"(?:{_LIVE_PART}(?:'s|'re| is| are| got| just| started| looks| seems)* {_GLOWS}"
    r"|(?:burning|burnt|electrical|scorched|hot wire) smell|smells? (?:like |of )?(?:burn\w*|hot|smoke|smoky|electrical|scorched)"
    r"|(?:loud|big) (?:bang|boom|pop)|(?:went|goes|heard a) (?:bang|boom)|(?:sight )?glass (?:just )?(?:broke|burst|blew"
    r"|shattered)|oil(?:'s| is)?(?: \w+)? (?:spraying|squirting|pouring|gushing|all over|everywhere)"
    r"|(?:leaking|losing|throwing|spraying|pissing) (?:lots of |a lot of )?oil"
    r"|(?:blew|blown|blowing) (?:a |the )?(?:gasket|seal|plug|head))"
)
"""What ends a machine's run at once, whatever the next reading is."""
_NEVER_DID = r"(?:didn't|did not|never|haven't|have not|couldn't)"
_DONE = (
    r"\b(?:i|we)(?:'ve| have|'d| had)?(?: just| only| been| really| (?:may|might|could|must) have){0,2}"
    r" (?:measured|metered|tested|read|ohmed|checked|megged|lifted|lifting|measuring|reading"
)
_WRONG_ONE = (
    rf"{_DONE})(?: it)?(?: on| off| at)? (?:the|a) (?:wrong|other)"
    r" (?P<what>coil|probe|sensor|fuse|windings?|motor|contact|wire)\b"
    r"|\b(?:meter|leads|probes)(?: (?:was|were))? on the (?:wrong|other)"
    r" (?P<that>coil|probe|sensor|fuse|windings?|motor|contact)\b"
)
_MEASURED = r"(?:coil|probe|sensor|fuse|windings?|motor|contact)"
_READING = r"(?:readings?|numbers?|ohms|values?|measurements?)"
_TAKEN_BACK = (
    rf"\b{_MEASURED} {_READING}(?:'s|'re| is| was| are| were)(?: all| just)? (?:wrong|no good|not right|bad|off|garbage|useless"
    r"|worthless|nonsense|rubbish|junk|false)\b"
    rf"|\b{_MEASURED} {_READING}(?:'s| is| was)?(?: \w+)? with (?:the|its|both|a|one)(?: \w+)? (?:wires?|leads?|connector|plug)"
    r"(?: \w+)? (?:on|in|off|loose|connected)\b"
    r"|\b(?:forget|scratch|strike|withdraw|take back|cancel|ignore|disregard|throw out|never mind|don't count)"
    rf"(?: what i (?:said|told you|read|gave you|had)(?: about| for| on| of)?)?(?: (?:the|that|my))+ {_MEASURED}\b"
    rf"|\b{_MEASURED} (?:that )?i (?:measured|read|tested|ohmed|checked)(?: \w+)? (?:was|is|were)(?: the| a| an| off)*"
    r" (?:starter|other|wrong|neighbou?r|another|number|compressor|old)"
    rf"|\b{_MEASURED}(?:'s|'re| was| were| is| are) (?:fine|good|okay|all right|not bad)\b.* my (?:meter|leads?|tester)\b"
    rf"|\b(?:meter|tester|leads?)\b.*\b(?:when|while) i (?:did|measured|read|tested|ohmed|checked) the {_MEASURED}\b"
)
"""What was measured and is taken back, without a new value for it."""
_OF_WHOM = (
    r"(?:neighbou?r(?:'s|s)?|(?:compressor|machine|unit|number) \w+'s|(?:other|wrong) (?:machine|compressor|unit|one)'s)"
    r" (?:coil|probe|sensor|fuse|panel|contacts?|windings?|motor|wire)"
)
_WRONG_MACHINE = (
    rf"{_DONE}|did|done|worked|working|repaired|fixed|changed|replaced|swapped|mended|locked|was|were|am)"
    r"(?: (?:it|that|this|them|all|of|everything)){0,3}(?: out)?(?: (?:on|at|in|of))?"
    r" (?:the|a) (?:wrong|other) (?:machine|panel|compressor|unit|box|enclosure)\b"
    rf"|\b(?:that|it|this)(?: was|'s| is) (?:all )?(?:the )?{_OF_WHOM}\b"
)
_NAME = (
    r"(?!(?:all|just|not|done|ready|on|in|the|at|open|shut|off|out|good|fine|here|it|that|what|right|over|up"
    r"|going|gonna|about|trying)\b)[a-z]+"
)
_GONE_HOME = (
    r"(?!(?:to|i|we|you|it|going|gonna|about|just|what)\b)[a-z]+"
    r"(?:(?:'s| is| has)? (?:gone home|went home|left|gone)| (?:had to|must) (?:go home|leave|go))"
)
_FOR_HIM = (
    r"(?:(?:i'm|i am|i'll|i will|i've|i)(?: just| now)? (?:finish\w*|taking|take|took|reliev\w+|replac\w+|filling in)"
    rf"|{_GONE_HOME})\b"
)
"""Somebody else than the one who had the call speaks, and goes on with it."""
_JOINT = (
    r"(?:fittings?|flares?|joints?|nuts?|gaskets?|seals?|schraders?|cores?|elbows?|unions?|caps?|connections?|braze|oil"
    r" line|liquid line|line|tube)"
)
_PATTERNS: tuple[tuple[str, str], ...] = (
    ("wrong machine", _WRONG_MACHINE),
    ("wrong one", _WRONG_ONE),
    ("wrong one", _TAKEN_BACK),
    ("misread", rf"\b{_METER}{_WAS}(?: still| actually| only)? (?:on|set to|set on|in) (?:the )?{_NOT_VOLTS}\b"),
    ("misread", rf"\b{_METER}{_WAS}(?: still| actually| just)? {_FAULTY}\b"),
    ("misread", rf"\b{_METER}(?: just)? (?:died|quit|broke|cut out|shut off|went (?:blank|off|dead)|timed out|fell|dropped)\b"),
    ("misread", rf"\bfuse (?:went|blew|popped|let go)(?: \w+)? in (?:the|my|this) {_METER}\b|\b{_METER}(?:'s)? fuse(?:'s)?\b"),
    ("misread", r"\bbatter(?:y|ies)(?:'s| is| are)?(?: \w+)? (?:low|dead|dying|flat|weak|gone)\b"),
    ("misread", r"\bwrong (?:range|scale|setting|function|terminals?|wires?|lugs?|side of the \w+)\b"),
    ("misread", rf"(?<!then the )(?<!then my )\b{_LEADS}(?:'s|'d| is| was| are| were| had)?(?: \w+)?"
     rf" {_CAME} (?:off|out|loose)\b"),
    ("misread", rf"\b{_LEADS}{_WAS} (?:loose|unplugged|broken|not (?:in|on|touching|connected))\b"),
    ("misread", rf"\b{_LEADS} (?:isn't|wasn't|weren't|aren't) (?:in|on|touching|connected|plugged in|making contact)\b"),
    ("misread", rf"\bi {_NEVER}(?: \w+)? (?:measured?|test(?:ed)?|proved?|meter(?:ed)?|read)\b"),
    ("misread", r"\bi (?:only|just) (?:measured|tested|checked) (?:one|two|some|a couple)\b"),
    ("misread", r"\b(?:pen|no contact|non contact) (?:tester|probe|stick)\b|\b(?:tester|meter|leads?)(?:'s|'re| is| are)?"
     r" (?:only )?cat (?:one|two)\b|\b(?:lost|dropped|smashed) (?:my|the) (?:meter|tester)\b"),
    ("gear", rf"\b{_WORN}(?:'s|'ve| is| are| has| have| got| just)?(?: \w+)? {_TORN}\b"),
    ("gear", rf"\b(?:hole|tear|rip|cut|crack) in (?:my|the|one|this) (?:left |right )?(?:sleeve|{_WORN})\b"),
    ("gear", rf"\b(?:no|forgot my|don't have (?:my|any)|without|haven't got my|left my) (?:leathers|{_WORN})\b"),
    ("gear", r"\b(?:oil|grease|acid|soap|glycol)(?:'s| is)?(?: all)? (?:on|over) (?:my|both(?: my)?)"
     r" (?:hands|gloves|boots|shoes)\b"),
    ("unknown here", r"\b(?:nobody|no one|not a soul) knows"
     r"(?: (?:i'm|we're|i am|that i'm|where i am|where we are)(?: here| up here)?)?$"),
    ("misread", rf"\b{_METER}(?:'s| is)? (?:reads?|reading|showing|shows) (?:wrong|funny|weird|crazy|strange|all over)\b"),
    ("wet", r"(?<!no )\bwater in (?:here|there|it|this)\b"),
    ("wet", r"\bin (?:a |the )?(?:melt )?water\b|\bpuddle\b"),
    ("wet", rf"\b(?:{_INSIDE}|inside|floor)(?:'s| is| are)?(?: all| pretty| a bit)? (?:wet|soaked|dripping|damp|flooded)\b"),
    ("wet", rf"\b(?:water|rain|condensate)(?:'s| is)?(?: \w+){{0,2}} (?:in|into|on|onto|over)(?: \w+)? (?:floor|me|{_INSIDE})\b"),
    ("wet", rf"\bdripping (?:on|in|into)(?: \w+)? (?:me|{_INSIDE})\b"),
    ("bypassed", rf"\b{_BYPASS}(?: (?:out|over|across|around))?(?: (?:the|that|its|an|a))?(?: \w+)? {_GUARD}\b"),
    ("bypassed", rf"\b{_GUARD}(?:'s| is| was| has been| got)(?: \w+)? {_BYPASS}\b"),
    ("probe out", r"\b(?:unscrew\w*|back(?:ed|ing)? out|screw(?:ed|ing)? out) (?:it|the (?:\w+ )?(?:probe|sensor))\b"
     r"|\b(?:tak(?:e|ing)|took|pull(?:ed|ing)?|remov(?:e|ed|ing)|get(?:ting)?|got) (?:out )?the (?:\w+ )?(?:probe|sensor)"
     r"(?: right)? (?:out|loose)\b"
     r"|\b(?:probe|sensor)(?:'s| is| came| just came)(?: \w+)? out(?: of (?:its|the) (?:hole|port|line|pipe|fitting))?$"),
    ("held open", r"\b(?:held|holding|hold|holds|propped|opened|kept|keeping|lift(?:s|ed|ing)|using|used)\b(?: \w+){0,6}"
     r" magnet\b"
     r"|\bmagnet(?:'s| is)?(?: \w+){0,3} (?:on|over|at|holding|holds)(?: \w+){0,2} (?:solenoid|valve|stem|coil|it|that)\b"
     r"|\bmagnet (?:hold(?:s|ing)|keep(?:s|ing))\b|\bmagnet(?:'s| is) (?:still )?on\b|\bwith (?:a|the|my) magnet on\b"),
    ("bypassed", r"\b(?:raised|upped|turned up|set up) (?:the |its )?(?:\w+ )?(?:trip|cutout|cut out|limit|overload)\b"
     r"|\b(?:turned|set|put|moved|wound|screwed) (?:the |its )(?:\w+ )?(?:trip|cutout|cut out|limit|overload|module)(?: \w+)?"
     r" (?:up|higher)\b"),
    ("bypassed", r"\b(?:contactor|starter|relay)(?:'s| is| was)? (?:taped|tied|wedged|jammed|strapped)"
     r" (?:in|shut|closed|down)\b"),
    ("bypassed", r"\b(?:running|runs|ran|been) (?:on|with) (?:a |the )?(?:bypass|jumper)\b"
     r"|\bthere(?:'s| is| was) (?:still )?a jumper (?:in|on|across)\b"),
    ("bypassed", r"\bfuses?(?:'s|'re| is| are)?(?: (?:a|one|two|now|only))*"
     r" (?:sizes? (?:up|bigger|over|too big)|too big|oversized?)\b"),
    ("bypassed", r"\b(?:plugged|put|stuck) (?:the|a|that) jumper back (?:in|on)\b"),
    ("bypassed", rf"\bjumper (?:on|across|over|around|at)(?: \w+){{0,2}} (?:{_GUARD}|it|there|here)\b"),
    ("bypassed", rf"\b(?:wired|tied|taped)(?: the| that| its)?(?: \w+)? {_GUARD} (?:down|shut|closed|around|over)\b"),
    ("jumper_fitted", r"\b(?:jumper|resistor)(?:'s| is| was)?(?: \w+)? still\b(?! out)"),
    ("jumper_fitted", r"\bstill(?: \w+){0,2} (?:a|the|that) (?:jumper|resistor)\b"),
    ("jumper_fitted", rf"\b{_LEFT} (?:jumper|resistor)\b|\b(?:jumper|resistor)(?:'s| is) (?:in|in there|on there)$"),
    ("leads_on", rf"\b(?:meter|my clips?|clips){STILL} (?:clipped on|hooked up|hooked on|connected|clipped)\b"),
    ("leads_on", rf"\bleads{STILL} (?:on|in|clipped|hooked up|connected|there)\b|\b{_LEFT} leads\b"),
    ("wire_lifted", r"\b(?:didn't|did not|forgot to|never) (?:plug|connect|hook)(?: \w+){0,4} back(?: in| on| up)?\b"),
    ("wire_lifted", rf"\b(?:probe|sensor|connector|plug){STILL} (?:unplugged|not plugged in|disconnected|hanging)\b"),
    ("wire_lifted", rf"\bwire{STILL} (?:off|out|lifted|loose|hanging|disconnected)\b|\b{_NOT_BACK} wires?\b"),
    ("wire_lifted", r"\bwires?(?:'s| is| are)? (?:hanging|dangling|loose)\b"),
    ("not blocked", rf"\b(?:start|starter|contactor)(?:'s| is| was)? {_NOT_SO} blocked\b"),
    ("not blocked", rf"\b(?:i|we) {_NEVER}(?: \w+)? block(?:ed)? (?:it|the (?:start|starter))\b"),
    ("not blocked", r"\b(?:start )?block(?:'s| is| has)?(?: just)? (?:fell|fallen|came|come|slipped) (?:off|out)\b"),
    ("not blocked", r"\bstart block(?:'s| is)(?: \w+)? (?:off|out)\b|\b(?:took|taken|pulled) the (?:start )?block (?:off|out)\b"),
    ("not blocked", rf"\b(?:i|we|he|she|somebody|someone|{_KIN})(?: just)? unblocked (?:it|the (?:start|starter))\b"),
    ("not blocked", r"\b(?:control|start|compressor) switch(?:'s| is)(?: just| been)? (?:back )?on\b"),
    ("not blocked", r"\bswitched the control back on\b"),
    ("start_blocked", r"\b(?:start|starter|contactor)(?:'s| is)?(?: \w+)? still blocked\b"),
    ("start_blocked", r"\b(?:forgot|left)(?: \w+){0,3} start block\b"),
    ("hose_on", rf"\b(?:hose|hoses|gauges|manifold){STILL} (?:on|hooked up|connected)\b|\b{_LEFT} (?:hose|hoses|gauges)\b"),
    ("hose_on", r"\b(?:hoses?|gauges|manifold)(?:'s|'re| is| are| will)?(?: \w+)? (?:stay(?:s|ing)?|remain\w*|left)"
     r" (?:on|in|there|hooked up|connected)\b"),
    ("hose_on", r"\bleav(?:e|ing)(?: \w+)? (?:hoses?|gauges|manifold)(?: \w+)? (?:on|in|hooked up)\b"),
    ("hose_on", r"\b(?:hoses?|gauges|manifold)(?:'s|'re| is| are)(?: \w+)? (?:on|hooked up|connected)"
     r"(?: (?:it|there|here|the \w+))$"),
    ("clamp_left_on", rf"\b(?:clamp|thermocouple){STILL} (?:on|there)\b|\b{_LEFT} (?:clamp|thermocouple)\b"),
    ("terminal_cover", rf"\bterminal (?:box )?(?:cover|lid){IS}(?: still)? (?:off|not on|missing|open)\b"),
    ("terminal_cover", r"\bterminal (?:cover|lid) (?:isn't|ain't) on\b|\bterminal box(?:'s| is)(?: \w+)? open\b"),
    ("terminal_cover", rf"\b{_NOT_BACK} terminal cover\b"),
    ("coil off", r"(?<!starter )\bcoil(?:'s| is| has| just| came| popped| fell)*(?: \w+)? (?:off|loose|come off)(?: of)?"
     r" (?:its|the|that) (?:stem|valve)\b"),
    ("valve open", r"\b(?:i|we|he|she|somebody|someone)(?: just)? opened (?:the |that )?(?:injection |hand )+valve\b"),
    ("valve open", r"\b(?:injection |hand )+valve(?:'s| is)(?: back| still)? open\b"),
    ("panel_cover", rf"\b(?:cover|covers|lid){IS}(?: still)? (?:off|not on|missing|open)\b"),
    ("panel_cover", r"\b(?:i|we|he|she|somebody|someone)(?:'ve|'s| have| has| had)?(?: already| just)?"
     r" (?:opened(?: up)?|(?:took|taken|pulled|popped)(?: off)?) (?:the|its|that) (?:panel|cover|box|starter|enclosure)\b"),
    ("panel_cover", r"\b(?:panel|cabinet|enclosure|starter|control|box) door(?:'s| is)?(?: \w+)? (?:open|off|ajar)\b"),
    ("panel_cover", r"\bcovers? (?:isn't|aren't|ain't) (?:on|back on)\b|\bpanel(?:'s| is)(?: \w+)? open\b"),
    ("panel_cover", rf"\b{_NOT_BACK} (?:cover|covers|lid)\b"),
    ("panel_cover", rf"\bguards?{IS}(?: still)? (?:off|not on|missing|open|gone|loose)\b|\b{_NOT_BACK} guards?\b"),
    ("service_valves_open", rf"\bvalves?{IS}(?: still)? (?:closed|shut|front ?seated|not open|half open|cracked)\b"),
    ("service_valves_open", rf"\b{_VALVE}(?: (?:isolation|service|stop))?{IS}(?: still)? (?:closed|shut|valved off)\b"),
    ("service_valves_open", rf"\b(?:i|we|he|she|somebody|someone)(?: just)? (?:shut|closed|valved off|front ?seated)(?: \w+)?"
     rf" {_VALVE}\b"),
    ("service_valves_open", r"\bsection(?:'s| is)?(?: valves?(?:'s| is| are)?)?(?: still)? (?:shut|closed)\b"),
    ("service_valves_open", r"\bvalves? (?:isn't|aren't|ain't)(?: \w+)? open\b"),
    ("service_valves_open", r"\b(?:forgot|didn't)(?: \w+){0,2} open(?: \w+){0,3} valves?\b"),
    ("left inside", rf"\b{_TOOL}(?:'s| is| are)?(?: still| just| lying| sitting| left| stuck)* (?:in|inside)(?: of)?"
     rf" (?:the |that |its )?{_INSIDE}\b"),
    ("left inside", rf"\b(?:left|forgot|dropped) (?:my|a|the|some|his|our) (?:\w+ )?{_TOOL} (?:in|inside)(?: of)?"
     rf" (?:the |that |its )?{_INSIDE}\b"),
    ("others_clear", rf"{_WHO}(?:'s| is| are|'re)?(?: \w+)? {_AT}(?: \w+){{0,2}} {_MACHINE}\b"),
    ("others_clear", rf"\b{_PUBLIC}(?:'s|'re| is| are)?(?: \w+)? {_AT}(?: \w+){{0,2}} (?:room|here|{_MACHINE})\b"),
    ("others_clear", rf"(?:\b{_PUBLIC}|{_WHO})(?: just)? (?:walked|came|wandered|ran|comes|walks) (?:in|over|up|through)\b"),
    ("others_clear", rf"^(?:no |yes |wait |hey )*{_WHO}(?:'s| is| are|'re)(?: still)? (?:inside|in it)$"),
    ("others_clear", r"\b(?!(?:i|it|that|this|everything|nothing|nobody|fan|meter|one|what|who|there|lamp|light)\b)[a-z]+"
     r"(?:'s| is)(?: still)? (?:working|leaning|reaching|standing) (?:in|inside|into) (?:the|that|its)"
     r" (?:panel|machine|box|starter|compressor)\b"),
    ("others_clear", rf"{_WHO}(?:'s| is| are|'re)?(?: still)? working on (?:it|that|the \w+)\b"),
    ("others_clear", rf"{_WHO}(?:'s| is| are|'re)?(?: just)? (?:com|walk|lean|reach|climb|gett)ing (?:in|over|up|through)\b"
     r"(?! (?:in the (?:morning|afternoon|evening)|tomorrow|later|tonight|at (?!the\b)\w+|on \w+day|next)\b)"),
    ("others_clear", r"\b(?:put|puts|got|has|sticks?|stuck|sticking|reach(?:es|ing|ed)?) (?:his|her|their|a|an) (?:\w+ )?"
     r"(?:hands?|arms?|fingers?|head|foot) (?:in|into|inside)\b"),
    ("others_clear", r"(?<!no )\b(?:hands?|arms?|fingers?|head|foot|feet|legs?|gloves?|sleeves?|wrench\w*|spanners?|tools?"
    r"|rags?|pliers"
     r"|screwdrivers?|flashlight|torch|drill|hammer|ratchet|meter|bucket)(?:'s|'re| is| are)(?: still| both| all| just| down"
     r"| up| over| half"
     r"| stuck| lying"
     r"| sitting| left)* (?:in|inside|on|under|behind|against|near|by) (?:there|it|here|that|the (?:fans?|panel|machine"
     r"|compressor|belts?"
     r"|guard|shroud|starter|cover|blades?))\b(?! (?:bag|box|truck|van))"
     r"|\bi'm (?:still )?(?:stand|sitt|lean|kneel|ly|reach|work)\w*(?: right| half)? (?:in|on|inside|under|over|against|behind)"
     r" (?:it|there|the (?:fans?|panel|machine|compressor|belts?))\b"),
    ("live", r"\b(?:power|juice|voltage)(?:'s| is| came| just came)"
     r"(?: (?!(?:not|zero|dead|off|nothing)\b)\w+)? (?:on|back|live)\b"),
    ("live", r"\b(?:turned|switched|put|threw|flipped)(?: \w+){0,2} (?:power|breaker|disconnect)(?: back)?(?: \w+)? on\b"),
    ("live", r"\b(?:turned|switched)(?: it)? back on\b"),
    ("live", r"\b(?:disconnect|isolator)(?:'s| is)(?: just)? back (?:on|in)\b|\b(?:pulled|threw|put|pushed|shoved)"
     r" the (?:disconnect|isolator) back in\b"),
    ("live", r"^(?!.*\bfan(?:'s)? (?:cable|motor|wire|breaker|circuit|lead)\b).*(?:\bbreaker(?:'s| is)(?: just)? back (?:on|in)\b"
     r"|\b(?:pulled|threw|put|pushed|shoved) the breaker back in\b)"),
    ("live", r"\b(?:it|that|this|the panel)(?:'s| is)(?: (?!(?:not|the)\b)\w+)?"
     r" (?:live|hot(?! (?:gas|discharge)\b)(?! (?:(?:out|up|in|down|over) )?(?:here|there)\b)(?! out(?:side|doors)?\b)"
     r"(?! (?:room|kitchen|closet|attic|day|night|summer)\b)"
     r"(?! in (?:this|the) (?:machine |plant )?(?:room|closet|attic)\b)|energized)\b"),
    ("live", r"\b(?:got|saw|drew|was)(?: \w+)? (?:spark|sparks|arc|flash)\b|\b(?:it|something) (?:sparked|arced|flashed)\b"),
    ("tripped", rf"^(?:{_SOON} )?{_IT}(?:'s| is| has)?(?: {_SOON})? {_WENT}(?: {_ON_ITS_OWN})*$"),
    ("tripped", r"\b(?:and|but) (?:it|she)(?: just)? (?:went|tripped|dropped|kicked|popped|quit)(?: out| off| right)? again\b"),
    ("tripped", rf"^(?:{_SOON} )?{_IT}(?:'s| is| has)?(?: {_SOON})? {_WENT}(?: again)? on (?:the |its )?(?:high|low|oil|motor"
     r"|discharge|overload|injection|pressure|module)\b"),
    ("tripped", rf"^{_IT} (?:tripped|quit|stopped|died|went (?:off|down|out))(?: \w+)? {_MEANWHILE}$"),
    ("tripped", rf"^{_IT}(?:'s been| has been| was)(?: already)? (?:off|down|stopped) (?:since|all|when|for)"
     r" (?!a (?:second|sec|moment))[\w' ]+$"),
    ("tripped", rf"^(?:just )?(?:tripped|kicked|went|cut) (?:out|off)(?: {_ON_ITS_OWN})*$"),
    ("stopped", rf"\b(?:shutting|stopping|killing|turning|switching) {_HER}(?:{_OFF})?\b"),
    ("stopped", rf"\b(?:they|somebody|someone|the (?:store|manager|owner|boss|guy)|{_KIN})(?: just)?"
     rf" (?:stopped|killed|shut|turned|switched) {_HER}{_OFF}\b"),
    ("in hand", r"\bswitch(?:'s| is)(?: still)? (?:in|on) hand\b"),
    ("in hand", r"\b(?:put|switched|turned|set|left) (?:it|her|the (?:switch|machine|compressor)) (?:back )?(?:in|to|into)"
     r" hand\b"),
    ("stopped", rf"\b(?:i|i've|we|he|she)(?: just| had to)? (?:stopp?(?:ed)?|kill(?:ed)?) {_HER}\b"),
    ("stopped", rf"\b(?:i|i've|we|he|she)(?: just| had to)? (?:shut|turned?|switch(?:ed)?) {_HER}{_OFF}\b"),
    ("window", rf"^(?:please )?(?:stop|kill|cut|shut|turn|switch)(?: (?:it|that|everything|{_POWER}))?{_OFF}?(?: now)?$"),
    ("window", rf"^(?:turn|shut|switch|cut) off {_POWER}$|^{_POWER} off$"),
    ("window", r"\bget me out\b|\b(?:it|power)(?:'s| is)(?: already)? off\b"),
    ("window", rf"\bi (?:turned|switched|shut|killed|cut) (?:it|{_POWER})"),
    ("metal ladder", r"\b(?:metal|aluminum|steel|iron) (?:step ?)?(?:ladder|stepladder|steps?|stool)\b"
     r"|\b(?:ladder|stepladder)(?:'s| is) (?:metal|aluminum|steel)\b"),
    ("wet", r"\brain(?:ing)?(?: is|'s)?(?: \w+)? on (?:me|us|the panel|it)\b|\b(?:my|both) (?:hands|gloves|boots|feet|sleeves)"
     r"(?:'re| are)(?: all| pretty| sweaty| soaking)* (?:wet|soaked|damp|sweaty)\b"),
    ("gear", r"\bmy (?:\w+ )?(?:ring|watch|bracelet|necklace|chain|lanyard|keys)(?:'s| is| was| just)?"
     r" (?:still |almost |nearly )?(?:on|touch\w*|hit|caught|brush\w*|shorted|arced|slid|fell)\b"
     r"|\b(?:got|have|wearing|with) (?:my|a) (?:\w+ )?(?:ring|watch|bracelet|necklace) on\b"),
    ("gear", r"\bbare ?(?:foot|handed)\b|\bwith bare hands\b|\bin (?:shorts|sandals|sneakers)\b"),
    ("window", r"\bwet (?:gloves|hands)\b|\b(?:gloves|hands) are wet\b"),
    ("won't reset", rf"\b(?!(?<=\bi )(?:won't|will not)\b){_NOT} reset\b|\bpops (?:right )?(?:back )?out\b"),
    ("won't reset", rf"\b(?:button|reset)(?: \w+)? {_NOT} (?:stay|hold|go|latch|push)\b"),
    ("reset again", r"^(?:(?:i|i've|i just|i already|i had to|i've had to|had to|already) )?reset"
     r"(?: it| that| the \w+| this one)?(?: \w+)? (?:twice|two times|three times|a couple of times)$"),
    ("reset again", r"\breset(?:'s| has| had) been (?:done|hit|pushed|pressed)(?: already)? (?:twice|before|again|two times)\b"),
    ("resets", rf"\b(?:reset|resetting|resets)(?: it| that| this one| the \w+)?(?: \w+)? {_OFTEN}\b"),
    ("resets", r"\b(?:keep|keeps|kept|been) resetting\b|\breset (?:it|that) every (?:\w+ )?(?:day|week|night|shift|time)\b"),
    ("would bypass", rf"\b{_WOULD}\b.*\b{_TO_BYPASS}(?: out| over| around)?(?: (?:the|its|this))?(?: \w+)? (?:it|{_GUARD})\b"),
    ("would bypass", rf"\b{_TELLS}(?: \w+){{0,3}} {_TO_BYPASS}(?: out| over| around)?\b"),
    ("would close", rf"\b{_WOULD}\b.*\b(?:close|shut|front ?seat|valve off)(?: \w+)? (?:discharge|condenser|receiver|head)\b"),
    ("vent", rf"\b{_WOULD}\b.*\b(?:vent|blow|dump|bleed|let)(?:ing)? (?:it|the (?:gas|charge|rest))(?: (?:off|out|go))?\b"),
    ("took over", rf"^(?:hi |hello )?(?:this is {_NAME}(?: now)?|it's {_NAME} now|{_NAME} here(?: now)?) (?:.* )?{_FOR_HIM}"),
    ("took over", rf"\b{_GONE_HOME}\b.*\b(?:this is|it's|i'm) {_NAME}$|^(?:this is|it's|i'm) {_NAME} {_GONE_HOME}\b"),
    ("took over", r"\bi(?:'m| am|'ve)?(?: just)? (?:taking|taken|took) (?:it |this |the (?:call|job) )?over\b"
     r"|^this is [a-z]+ (?:now|speaking|here now)\b|^[a-z]+ (?:here now|speaking)$"),
    ("takes over", r"\b(?:taking|takes|take|took) (?:it |this |the (?:call|job) )?over\b|\bshift(?:'s| is) (?:over|done|up)\b"),
    ("takes over", r"\b(?!i\b|we\b)\w+(?:'ll| will| is going to| is gonna) finish (?:it|up|this|the job)\b|\b\w+ will finish$"),
    ("takes over", rf"\b(?:handing|hand) (?:it |this |the (?:call|job) )?over to\b|\b{_KIN} will finish\b"),
    ("reset again", r"(?<!won't )(?<!will not )(?<!never )(?<!not gonna )\b(?:hit|pushed|pressed|reset) (?:it|that|the button)"
     r"(?: \w+)? (?:twice|two times|three times|again|once more|another time|a second time)\b"),
    ("reset again", r"\b(?:tripped|went off|dropped (?:out|off)|shut (?:off|down)|kicked (?:out|off)|cut out|quit)(?: again)?"
     r" (?:and then |and |so |then )+i(?:'ve| had to)?(?: just)? (?:reset|restarted|started|hit|pushed|pressed)\b"),
    ("reset again", r"^(?!.*\b(?:check|test|measur|read|look|prov|reach|pull|tug|yank|get on|get to)\w*\b)"
     r".*\b(?:two|three|a couple|a few|several) (?:tries|times|goes|resets)\b"),
    ("backwards", r"^(?!.*\bfans?\b).*\b(?:running|turning|spinning|going|it's|she's) (?:backwards?|in reverse|the wrong way)\b"),
    ("no oil", r"\boil(?:'s| is| has)?(?: all| just)? foam\w*.*\b(?:empty|gone)\b"),
    ("noise", r"\boil(?:'s| is| has)?(?: all| just| been| started)* foam\w*"),
    ("no oil", r"\boil(?:'s| is| has)?(?: all| just)? (?:gone|out of the glass|disappear\w*|dropp\w+ out)\b"),
    ("no oil", r"\boil pressure(?:'s| is| has| just)*(?: \w+)? (?:gone|lost|zero|dropped|dropping|nothing|down)\b"),
    ("no oil", r"\b(?:no|lost (?:the|its|all the)) oil\b"
     r"(?! (?:on|around|under|stains?|spots?|marks?|traces?|film|weep\w*|drips?|anywhere)\b)|\boil glass(?:'s| is)? empty\b"),
    ("burns", rf"\b{_BURNS}\b"),
    ("noise", r"\b(?:really|very|too|awful|awfully|getting|so) loud\b|\blike marbles\b"
     r"|\b(?<!needle )(?<!needle's )(?<!needle is )(?<!needle was )(?<!no )(?:shaking|vibrating|chattering)\b"),
    ("noise", r"\b(?:it's|she's|it is|machine's|compressor's) making(?: \w+){0,2} (?:noise|racket)\b"),
    ("noise", r"\b(?<!no )(?<!any )(?<!not )(?:knocking|knocks|banging|clanging|grinding|hammering|screeching"
     r"|rattling (?:bad|badly|hard))\b"),
    ("won't start", rf"^(?!.*\bfans?\b).*\b{_NOT} (?:start|run|"
     r"turn(?! (?:anything|any|it|them|the|that|off|on)\b)|come on|kick on)\b|\bnothing happen(?:s|ed)\b"),
    ("won't start", r"(?<!up and )(?<!running and )\b(?:hums|humming)\b"
     r"(?! (?:right |just )?(?:along|away|nice\w*|smooth\w*|sweet|fine|like)\b)"
     r"|\b(?:buzzes|buzzing|trying to start)\b|\b(?:it|she|he)(?:'s| is) (?:dead|locked up)\b"),
    ("won't start", r"^(?!.*\bfans?\b).*\bstarted\b.*\b(?:tripped|quit|stopped|died|off)\b"),
    ("won't start", r"\b(?:breaker|fuse|overload)(?:'s| is| just)?(?: \w+)? (?:tripped|popped|blew|blown)\b"),
    ("won't start", r"\b(?:tripped|quit|stopped|died|kicked out)(?: \w+){0,2} (?:right away|again|at once|immediately)\b"),
    *OF_THE_CIRCUIT,
    ("liquid", r"(?<!no )(?<!any )(?<!without )\bliquid(?:'s| is)?(?: still)? in (?:the )?"
     r"(?:it|machine|compressor|crankcase|sump|shell|heads?)\b"),
    ("liquid", r"\b(?:crankcase|sump|shell|compressor|machine|it)(?:'s| is)(?: \w+)? (?:flooded|full of liquid)\b"),
    ("liquid", r"\b(?:crankcase|sump|shell|heads?)(?:'s| is| are)(?: (?!not\b)\w+)?"
     r" (?:ice cold|frosted|frosting|frozen|freezing)\b"),
    ("liquid", r"\b(?:it's|she's|it is|compressor's|machine's) slugging\b|\bslugging (?:liquid|badly|bad|hard)\b"),
    ("frosts back", r"\bfrost(?:ed|ing|s)?(?: up)?(?: all| right)?(?: the way)?(?: back)? (?:on|to|at|over)"
     r" the (?:compressor|machine|crankcase)\b"),
    ("frosts back", r"\b(?:crankcase|sump|heads?)(?:'s| is| are)(?: (?!not\b)\w+)? cold\b"),
    ("not repaired", rf"\b{_PART}(?:'s not| is not| isn't| hasn't been|'s not been|'s still not)(?: \w+)?"
     r" (?:replaced|changed|fixed|repaired|swapped)\b"),
    ("not repaired", rf"\b(?:i|we|he|she|they)(?: just| only)? (?:put|stuck|fitted)(?: back)? the (?:old|bad|same|dead) {_PART}"),
    ("not repaired", rf"\b{_NEVER_DID} (?:really |actually |even )?(?:fix|repair|replac|mend|chang|swap)\w*"
     rf" (?:it|that|the {_PART})\b"),
    ("not repaired", rf"\b(?:it|that|the {_PART})(?:'s|'s been| is| was)?(?: not|n't| never)(?: \w+)?"
     r" (?:fixed|repaired|replaced|mended)\b"),
    ("not repaired", rf"\bwrong (?:size )?(?!one\b){_PART}\b(?! (?:side|number|panel))"
     rf"|\b{_PART}(?:'s| is| was) the wrong (?:one|size|voltage|kind|rating)\b"),
    ("not repaired", rf"\b{_PART}(?:'s| is| are)(?: still)? on order\b"
     rf"|\b(?:didn't|don't) have (?:a|the) (?:new |right )?{_PART}\b"),
    ("not repaired", r"\bi (?:just|only)(?: \w+)? (?:cleaned|wiggled|jiggled|tightened|tapped|looked at|taped|blew out)"
     r" (?:it|that|the \w+)\b"),
    ("not repaired", r"\b(?:i|we|they|he)(?:'ve| have|'ll| will| had to| have to| need to| gotta| just)* order(?:ed)?"
     r" (?:it|one|the|a|another|that)\b"),
    ("not repaired", rf"\b(?:it|{_PART})(?:'s| is| isn't| was)(?: only| just| still)?"
     r" (?:not fitted|not in yet|not installed|ordered|fitted yet|installed yet|in yet|coming (?:in )?(?:\w+day|tomorrow))\b"),
    ("borrowed", r"\b(?:used|took|borrowed|robbed|pulled|got|put in|put on|swapped in) (?:(?:the|an?|its|that) )?(?:\w+ )?"
     rf"(?:{_PART} )?(?:off|from|out of)(?: of)? {_ANOTHERS}\b"),
    ("borrowed", rf"\bswapped (?:it|them|the \w+) (?:with|for) (?:one (?:off|from) )?{_ANOTHERS}"),
    ("air", r"\b(?:dizzy|light ?headed|woozy|nauseous|drowsy|feel (?:sick|ill|funny)"
     r"|(?:(?:feel|feeling|getting|going|went|bit|little|quite|so) |i'm )faint)\b"),
    ("air", r"\b(?:eyes?|throat|nose|skin|lungs)(?:'s|'re| is| are)? (?:burning|stinging|watering|burns?|stings?|on fire)\b"),
    ("air", r"\bshort of breath\b|\b(?:hard|hard time|trouble) (?:to )?breath(?:e|ing)\b"),
    ("leak", rf"^(?!.*\b(?:no|not|isn't|aren't|wasn't|never|nothing|nobody|if|was|were|had|fixed|mended|repaired|brazed"
        rf"|last|valve|water|roof|drain)\b)"
     rf".*\b(?:{_JOINT})(?:'s| is| are| has been|'re)(?: \w+)? (?:leaking|weeping|spitting oil|dripping oil|blowing oil)\b"),
    ("leak", r"^(?!.*\b(?:oil|water|air|not|isn't|never|no)\b).*\b(?:it's|it is|we're|she's) (?:leaking|weeping)(?: \w+){0,2}"
     r" (?:at|from|around|by|out of) (?:the |its )?\w+"),
    ("leak", r"^(?!.*\b(?:no|not|isn't|never|nothing|if|was|were|had|check|checking|looking|water|roof|drain|air|oil pump)\b)"
     r"(?:.*\b)?(?:i |we )?(?:found|see|saw|there's|there is|i've got|we've got|got)(?: what looks like)? (?:a|another"
     r"|an oil|a refrigerant|a gas)"
     r"(?: \w+)? leak\b(?! (?:check|test|detector|alarm|search))"),
)
_COMPILED = tuple((about, re.compile(pattern)) for about, pattern in _PATTERNS)
UNREADY = (
    *dict.fromkeys(about for about, _ in _PATTERNS), "rather dead", "runs locked", "trouble", "room not safe", "not all safe",
    "leak", *LEFT_SO,
)  # fmt: skip
"""What can be said: ids of obligations, of acknowledgements taken back, `bypassed`, `live`, `window`, `won't reset`,
`reset again`, `left inside`,
`frosts back`, `won't start`, `tripped`, `backwards`, `burns`, `noise`, `pressure`, `vacuum`, `modules on`,
`other gas`, `air`, `misread`,
`gear`, `wet`, `stopped`, `liquid`, `in hand`, `not repaired`, `resets`, `would bypass`, `vent`, `takes over`, `no oil`,
`not blocked`, `coil off`, `valve open`, `would close`;
`took over`, `wrong one`, `wrong machine`, `room not safe`, `not all safe`, `metal ladder`, `leak`,
`unknown here`, `held open`,
`borrowed`, `probe out`; `rather dead`, `runs locked`
(`at_the_panel`); and `trouble`, whatever else may be wrong."""
_TROUBLE = re.compile(
    r"\b(?:by (?:mistake|accident)|un ?safe|(?:not|isn't|ain't|nothing's|nothing is) safe"
    r"|danger\w*|hazard\w*|(?<!no )smok(?:e|ing)|fire|flames?"
    r"|flash(?:ed|over)|(?:a|big|blue) flash|(?:a|loud|big|little|small) (?:pop|bang|crackle)"
    r"|spark(?!ie)\w*|arc(?:ed|ing)|shock\w*|zap\w*|jolt|tingl\w+|bleed\w*|blood|hurt\w*|injur\w+|fell(?! asleep)"
    r"|slipp\w+|puddle|flood\w*"
    r"|explo\w+|burst|(?<!not a )(?<!no )hiss\w*|weep(?:s|ing)?|smell something"
    r"|smells? (?:sweet|of burning|burn\w*|hot|funny|like \w+)"
    r"|smelled burn\w*|oil (?:all )?over|hole in"
    r"|raining|collaps\w+|electrocut\w+|crush\w*|trapped|scream\w*|glow\w*"
    r"|damaged?|label(?:'s| is| was)? (?:missing|gone|torn|unreadable)|no label"
    r"|wrong (?:wire|one|place|unit|rack|compressor|machine|panel|lock|tag|valve|cylinder))\b"
    r"|\b(?:i|we|he|she|somebody|someone|they)(?:'ve|'s)?"
    r" (?:forgot|never|didn't|did not|haven't|have not|hasn't|hadn't|should have|shouldn't have)(?: \w+)?"
    r" (?:lock|tag|check|test|prove|measure|try|wear|close|shut|switch|turn|clip|disconnect|isolat|clear|ventilat|put|hang|bleed)"
    r"\w*\b(?! (?:in )?(?:any|no) (?:gas|refrigerant|freon|parts?)\b)"
)
"""Words of trouble: where nothing of a sentence was understood it is asked whether something is not safe."""
_AGAINST = re.compile(
    r"\bno (?:bypass|jumper)\b(?!')|\bthere (?:never was|was never|isn't|is no|was no|ain't) (?:one|any|a (?:bypass|jumper))\b|"
    r"\b(?:(?:nobody|no one) (?!knows\b)|none|nothing (?:is|was|left|still)|nothing's)\b"
    r"|\b(?:don't|do not|never|won't|wouldn't) (?:put|turn|switch|throw|flip) (?!over)"
    r"|\byet\b|\bi (?:didn't|did not|haven't|have not) (?:reset|start)"
)


def unready(text: str) -> str:
    """What these words say against a start or against hands in; one of `UNREADY`, empty for nothing.

    Args:
        text: normalised words, none of them an answer to what was asked.

    >>> unready("the cover's still off"), unready("somebody jumped out the oil control"), unready("nobody's in the panel")
    ('panel_cover', 'bypassed', '')
    """
    if _AGAINST.search(text):
        return ""
    return next((about for about, pattern in _COMPILED if pattern.search(text)), "")


_WRONG_RANGE = re.compile(
    rf"(?=.*\b(?:{'|'.join(sorted(FIGURES - {'one'}))}|\d+)\b).*\b(?:i|it) (?:had it|had the meter|was|had been)(?: set)?"
    r" on the wrong (?:range|scale)\b"
)
"""Ohms that are told anew, with why the first were wrong: the volts that proved it dead were read before them."""


def said_against(question: Question, text: str, whole: str = "") -> str:
    """The same of a sentence said to a question, or of a clause of a whole one: what was asked for speaks against nothing.

    >>> said_against(Question("control_power_on"), "power is on"), said_against(Question("covers_on"), "power is on")
    ('', 'live')
    >>> said_against(Question("control_power_on"), "the power's on", "the leads are off but the power's on")
    'live'
    """
    about = unready(text)
    power_on = question.asking == "control_power_on" and bool(_POWER_IS_ON.search(text)) and not _UNASKED.search(whole or text)
    hot = any("hot" in phrase.split() for phrase in question.go_ahead)  # a shell or a line that is hot is no wire that is
    asked = set(question.about)
    shut = bool({"shut", "closed"} & asked) or "injection_hand_valve" in (question.asking, *question.also)
    shut = shut or question.asking == "section_emptied" or "cracked" in asked  # it is shut on both its sides, or a hair open
    read_again = "ohms" in asked and bool(_WRONG_RANGE.search(whole or text))
    off = "tester" in asked and bool(_TESTER_OFF.search(text))
    power_on = power_on or question.asking == "lock_removed"
    uncovered = question.asking.startswith("dead_volts.")
    looked_at = "probe_condition" in (question.asking, *question.also)  # the sensor's own lead
    off = off or read_again or looked_at or (question.asking == "dead_volts.drive" and bool(_ON_D_C.search(text)))
    fits_it = question.asking == "jumper_fitted" and bool(_FITS_THE_JUMPER.search(text))
    own = {"live": power_on or hot, "service_valves_open": shut, "misread": off, "panel_cover": uncovered}
    own["bypassed"] = fits_it
    own["jumper_fitted"] = question.asking == "jumper_fitted"  # "still in", the second time
    own["leads_on"] = question.asking == "leads_clipped"
    own["valve open"] = "injection_hand_valve" in (question.asking, *question.also)
    own["won't start"] = "tripped" in question.go_ahead  # of a breaker that was found so
    ids = (question.asking, *question.also)
    if (about == "held open" and "reset" in question.go_ahead) or (about == "stopped" and "head_fan_running" in ids):
        return ""
    if about == "burns" and "leak_found" in ids and _OIL.search(text) and not _FIRE.search(text):
        return ""  # oil is how a leak is found
    if about == "leak" and ("leak" in asked or any(id.startswith("leak") for id in ids)):
        return ""
    if "follow_up_owner" in ids and about in ("others_clear", "takes over", "took over"):
        return ""  # who comes tomorrow stands near nothing now
    borrowed = "part_left_in_use" in (question.asking, *question.also) and about == "borrowed"
    states = {"running_now", "tripped_count"} & {question.asking, *question.also}
    tripped = bool(states) and about in ("tripped", "won't start", "window")
    return "" if own.get(about) or tripped or borrowed else about


def without_leak(question: Question, words: str) -> str:
    """The words without the clauses that tell of a leak, which are taken beside any answer; the whole where nothing else is said.

    >>> without_leak(Question("oil_supply"), "starved , a fitting is leaking")
    'starved'
    """
    pieces = [piece.strip() for piece in words.split(",")]
    kept = [piece for piece in pieces if said_against(question, " ".join(piece.lower().split())) != "leak"]
    return " , ".join(kept) if kept and len(kept) < len(pieces) else words


_OIL, _FIRE = re.compile(r"\boil\b"), re.compile(r"\b(?:smok\w+|burn\w*|fire|flames?|spark\w*|arc\w*)\b")
_FITS_THE_JUMPER = re.compile(
    r"\b(?:jumped|jumpered)\b(?! (?:the|around|across|out the))"
    r"|\b(?:put|got|stuck|set|clipped) (?:the|my|a|that) (?:test )?jumper\b"
)
_TESTER_OFF = re.compile(r"\b(?:tester|tester's|tester is)(?: leads?)?(?: are)? off\b")
_ON_D_C = re.compile(rf"\b{_METER}{_WAS} (?:on|set to) d c\b")
"""As it must be, for the bus of a drive."""
_POWER_IS_ON = re.compile(
    rf"\b{_POWER}(?:'s| is)(?: now)? on(?:$| (?=(?:nobody|everybody|everyone|all|i'm|we're|hands|standing|clear)\b))"
)
_UNASKED = re.compile(r"\b(?:but|though|already|itself|own|came|come|somebody|someone|who|why|not|no|he|she|they)\b")
"""What came on before anybody was asked to put it on."""


def measured_wrong(text: str) -> str:
    """The thing that was not the one to be measured; empty for none.

    >>> measured_wrong("i measured the wrong coil"), measured_wrong("i measured the coil")
    ('coil', '')
    """
    match, taken_back = re.search(_WRONG_ONE, text), re.search(_TAKEN_BACK, text)
    if match is None and taken_back:
        named = [one[0] for one in re.finditer(_MEASURED, taken_back[0])]
        return named[-1] if {"when", "while"} & set(taken_back[0].split()) else named[0]
    return (match["what"] or match["that"]) if match else ""


def intended(text: str) -> str:
    """What somebody asks whether he may: `would bypass`, `vent` or `probe out`, empty for nothing."""
    about = unready(text)
    return about if about in ("would bypass", "vent", "probe out") else ""


def trouble(text: str) -> bool:
    """Whether words that were not understood sound like trouble.

    >>> trouble("i never checked that the other one is off"), trouble("the truck is parked out back")
    (True, False)
    """
    return bool(_TROUBLE.search(text))


_SAFE = r"(?:good|fine|safe|okay|well|clear|in order|under control)"
_ALL_WELL = re.compile(
    rf"(?:(?:no|nope|nah)(?: |$))*(?:all(?:'s| is)? {_SAFE}|(?:it|everything|everybody|everyone)(?:'s| is) (?:all )?{_SAFE}"
    rf"|(?:i'm|we're|they're) (?:all )?{_SAFE}|it is (?:all )?{_SAFE}|nothing(?:'s| is)?(?: not safe| unsafe| wrong| the matter)?"
    r"|(?:there's )?no(?:thing)? (?:problem|problems|trouble|danger)|nobody's (?:hurt|in danger)|safe|okay|ok|understood|ready"
    r"|go on|carry on|let's go"
    r"|(?:the )?(?:room|air|place)(?:'s| is) (?:good|fine|safe|okay|clear)|i can (?:go in|work)|it's safe enough"
    r"|(?:the )?detector(?:'s| is) quiet|(?:the )?fan(?:'s| is) (?:on|running)|)"
    r"(?: (?:here|up here|in here|now))?"
)


_WORDS = re.compile(r"[a-z']+")


def all_is_well(words: str) -> bool:
    """Whether these words, said to "is something not safe?", say that nothing is; a yes before them says both.

    >>> all_is_well("all good"), all_is_well("no no, everything's fine here"), all_is_well("yes all good"), all_is_well("good")
    (True, True, False, False)
    """
    clauses = [" ".join(_WORDS.findall(piece)) for piece in words.lower().replace("nowt", "nothing").replace(".", ",").split(",")]
    return any(clauses) and all(_ALL_WELL.fullmatch(clause) for clause in clauses if clause)
