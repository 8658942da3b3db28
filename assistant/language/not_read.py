"""What nobody has read or seen here and now, though its words have a value in them: what is doubted, wished, only possible,
ordered, set, printed, of before, of elsewhere, or a change of something.

The whole sentence is looked at, after everything else: what is said so is no answer, or is asked back. The patterns are the
project's own reading of how people say such things.
"""

import re
from dataclasses import replace

from assistant.language.answering import SENTENCES
from assistant.language.goes_himself import goes_himself
from assistant.language.lone_numbers import FIGURES, HOW_SET, counts_another
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Part, Question
from assistant.language.names import own_words
from assistant.language.not_this import HISTORY
from assistant.language.numbers import spoken_number
from assistant.language.offered import phrases
from assistant.language.run_on import MANNER
from assistant.language.vocabulary import kind_of, vocabulary

_FIGURE = rf"(?:{'|'.join(map(re.escape, sorted(FIGURES)))}|\d+(?:\.\d+)?)"
_IN_TENS = "|".join(word for word in sorted(FIGURES) if word.endswith(("ty", "teen", "hundred")))
_IT = r"(?:it|that|this|they|he|she|we|i|you|the \w+)"
_PAPER = (
    r"(?:book|printout|work order|ticket|report|manual|specs?|chart"
    r"|table|data sheet|sheet|paperwork|drawing|name ?plate|log|app|forecast)"
)
_DOUBTED = re.compile(
    r"\b(?:i|we) (?:really |very much |kind of |kinda )?doubt\b|\bdoubtful\b|\b(?:far|long way|miles) (?:away )?from\b"
    r"|\bnowhere near\b|\b(?:we|i|he|she|they) (?:all |had |both )?(?:thought|figured|assumed|hoped|expected)\b(?! so\b)"
    r"|\bif you (?:can )?(?:believe|trust)\b|\b(?:i|we)(?:'d| would| was| were|'m) expect(?:ing)?\b"
    r"|\bthat's (?:just )?(?:him|her|them|the manager|what (?:he|she|they) (?:say|says|tell|tells|claim|claims)) talking\b"
    r"|\bjust (?:him |her |them |people |folks )?talk(?:ing)?$|\b(?:don't|wouldn't|do not) (?:quote|hold) me\b|\bgrain of salt\b"
    r"|\b(?:i )?(?:don't|wouldn't|do not|can't|never) (?:really |quite |even )?(?:believe|trust|buy|bet on|go by"
    r"|rely on|swear to)"
    r" (?:him|her|them|it|that|a word|what|the)\b|\b(?:he|she|they|manager)(?:'s|'re| is| are)(?: \w+)? guess\w*\b"
    r"|\b(?:he|she|they) (?:says?|tells?|talks?) (?:a lot|all kinds|anything|all sorts|things)\b"
    r"|\bfor all i know\b|\bno way it's\b|\bhard to believe\b|\bi can't (?:see|believe|imagine|tell|say)\b"
)
_NOBODY = re.compile(r"^(?:yes |no |well )*(?:nobody|no one)\b")
"""Who is not there, or did not; no thing that is not fitted."""
_OF_FOOD = re.compile(
    r"\b(?:pounds?|kilos?|boxes) of (?:frozen|food|meat|product|stuff|milk|produce|gas|refrigerant)\b"
    r"|\b(?:got|pulled|took|recovered|get) (?:[\w.]+ ){1,4}pounds? out\b"
)
"""Pounds that are weighed, where pounds of pressure are asked for."""
_WITHIN = re.compile(r"\bwithin (?:an?|[\w]+(?: \w+)?) (?:hours?|days?|minutes?)\b(?! (?:of|ago))")
_LETTERED = re.compile(rf"\b[b-f] ({_FIGURE})\b(?= (?:that|is|it's|which|who|on|tripped|went|down|away|off)\b|$)")
"""A machine by its letter and number."""
_HOW_CHECKED = re.compile(
    r"\b(?:rang|rung|checked|tested|metered)(?: \w+){0,3} (?:out )?dead\b|"
    r"\b(?:go|going|do it|doing it|work|work on it|check(?: it)?|test(?: it)?|leave it|dead) (?:dead|locked|for sure)\b"
)
"""How somebody will go about it, which tells no reading."""
_ONLY_POSSIBLE = re.compile(
    r"\b(?:tell|let|ask|see|check|wonder|know|say)(?: \w+)? (?:if|whether)\b"
    rf"|\b(?:if|unless) {_IT}(?:'s|'re|'d| \w+)\b"
    r"|(?<!where it )(?<!as it )(?<!how it )(?<!like it )\b(?:might|could|would|must|may|should)(?:'ve| have) been\b"
    r"|\bwait(?:ing)? (?:till|until)\b"
    r"|\bask (?:me )?(?:again|later)\b"
    r"|\bi'll (?:have|get|know)\b(?! (?:to|him|her|them)\b)"
    r"|\b(?:might|could|may)(?: well| just| also| even)? (?:be|go|read|have)\b"
)
_WANTED = re.compile(
    r"\bshould (?:go|come|pull|drop|stop|settle|end up)\b|"
    r"\b(?:aiming|heading|shooting|headed) for\b|\bon (?:its|the) way (?:to|up|down|back)\b|"
    r"\b(?:i|we) (?:just |only |really )?(?:wish|want|need|would like)\b|\bwould do\b|^make (?:it|that)\b"
    rf"|\bi'd like (?:it |to see )?(?:at |to be |about |around )?{_FIGURE}\b"
    r"|\bwould(?:n't)? be (?:\w+ )?(?:nice|good|great|fine|better|best|perfect|plenty|enough|okay|ideal)\b"
    r"|\b(?:i'm|we're) going to (?:try|check|see|test)\b|\bit'll (?:go|come)\b|\bshould be there\b"
    r"|\b(?:usually|normally|generally) means?\b"
    r"|\blet me (?:get|make|bring|set|put|pull|turn)\b|\b(?:get|bring|put|turn|pull) (?:it|that|them|her) (?:up|down|back)? ?to\b"
)
_SET = re.compile(
    r"\b(?:set|adjusted|dialed)(?: it| them)? (?:to|at|for)\b|\bthe (?:set ?point|setting)\b"
    r"|\b(?:trips|tripping|cuts (?:out|in)|opens|closes|resets) (?:at|above|below|over|under)\b"
    r"|\b(?:only |just )?(?:goes|reads) (?:up |down )?to\b|\boutside\b|\bo'clock\b|\bof (?:us|you|them guys)\b"
)
_OLD_ONE = re.compile(
    r"\b(?:old|previous|former|original|removed|worn|bad)(?: \w+)? (?:had|was|were|read|showed|ran|gave|measured"
    r"|dropped|came in at)\b"
    r"(?! (?:replaced|changed|taken|removed|swapped|gone|thrown|out)\b)"
)
"""What was there before, and is there no more."""
_PRINTED = re.compile(
    rf"\b{_PAPER} (?:says|said|shows|has|calls|wants|lists|gives)\b|^page\b"
    rf"|\b(?:on|off|from|by) the (?:label|plate|sticker|box|{_PAPER})\b"
)
_BEFORE = re.compile(
    r"\bused to\b|(?<!like )(?<!same as )\blast (?:time|visit|call|shift)\b"
    r"|(?<!same as )\bbefore (?:i|we|he|she|they|it|that|this)\b"
    r"|\b(?:un)?til(?:l)? (?:a|an|just|this|last|i|we|he) \w+\b"
    r"|\bthen (?:it )?(?:changed|moved|jumped|dropped|shot|came|went|fell|swapped|switched)\b"
)
_ELSEWHERE = re.compile(
    r"^(?:well |yeah |so |but )*(?:all )?the other (?:machines|compressors|ones|two|three|heads) (?:get|gets|got|have|has)\b|"

    r"\b(?:in|from|out of|on) (?:my|the) (?:van|truck|box|bag|shop|shelf|bench)"
    r"(?= (?:reads?|is|was|shows?|has|says|measures?|gives?)\b)|"
    r"\b(?:at|in) the next (?:store|shop|site|building|room|rack|aisle)\b|^rack [a-f] has\b|"
    r"\bneighbou?r(?:'?s)?\b|\bnext door(?:'s)?\b"
    r"|^(?:no|nope|yes|yeah) the other (?:\w+ )?(?:the|one|guy|door|box|truck|van)\b|\bon (?:the|that|my) other \w+\b"
    r"|\bthe other (?:one|machine|compressor|rack|unit|panel|side)(?:'s| is| has| reads| shows| was)\b"
    r"|\bon the medium temp(?:erature)? (?:rack|side)\b|\bthat was (?:on|at) another\b|\bmy other meter\b"
)
_CHANGE = re.compile(
    r"\b(?:above|over|under|below|(?:less|more|higher|lower|hotter|colder|warmer|cooler) than) "
    r"(?=(?:the )?(?:crankcase|suction|head|discharge|air|ambient|normal|set ?point|usual|limit)\b)|"
    rf"\b(?:down|up|over|away) from {_FIGURE}\b|\b(?:subtract|add|minus another|plus another|another) {_FIGURE}\b"
    r"|\b(?:climbing|rising|going|dropping|falling|passing|heading|getting)(?: up| down)?"
    r" (?:past|towards?|through|for|close to)\b"
    r"|\b(?:dropped|fell|rose|climbed|jumped|gained|lost|went (?:up|down)|moved|changed|came (?:up|down))"
    rf"(?: by| about| maybe| another)* {_FIGURE}\b"
    r"|\b(?:higher|lower|more|less|hotter|colder|warmer|cooler|better|worse) than (?:before|it was|it had|last|yesterday|when)\b"
    r"|\bto go$|\btoo (?:many|much|high|low)$|\b(?:an|some) extra\b|\bminutes (?:until|before|till) (?:it|they|we)\b"
    r"|\b(?:give|gimme)(?: me)? \w+ (?:more )?(?:seconds?|minutes?)\b"
    rf"|\bdouble (?:what|that|the|{_IN_TENS})\b|\bhalf (?:of|what|that)\b"
)
_NOT_DONE = re.compile(
    r"\b(?:i|we) hope\b|^hope\b|\bhopefully\b|\bmy (?:foot|eye)$|\bcan't get\b"
    r"|\bwhen (?:i'm|i am|it's|he's|you)\b|\b(?:some|someb|anyb)(?:one|ody) said\b|\bi'm told\b|\bi'll be\b"
    r"|^you're\b|^getting(?= \w+$)|\babout to be\b"
    r"|\bon rack [a-f]\b|\bthen (?:some|one|two|a few|they|he|she)\b"
)
"""Beside a word that says what was done or seen."""
_HALF_DONE = re.compile(r"\b(?:kind|sort) of(?= \w+$)|\bkinda(?= \w+$)")
_HEARSAY = re.compile(
    r"\b(?:i|we)(?: was|'ve been| were) told\b|\b(?:i|we)(?:'d| would)? bet (?:they|he|she|it|it's|that|the)\b|\b(?:i"
    r"|we)(?:'ll|'d) wager\b|"
    r"\b(?:i|we)(?:'ve)? (?:heard|hear)(?: that)? (?:they|he|she|somebody|someone|it was|it's|it is|it got|it had|it's been)"
    r"(?! (?:click|hum|run|buzz|clos|open|snap|hiss|turn|spin|start|stop)\w*)\b"
    r"|\b(?:supposedly|allegedly|rumor|word is|so i hear|so they say|so i'm told|i'm told|from what (?:i hear"
    r"|they say|i was told))\b|"
    r"\b(?:he|my (?:partner|buddy|helper|apprentice|mate|boss)|the (?:kid|lad|apprentice|helper|other guy|manager))"
    rf" (?:gets|got|has|reads|sees|measured)(?: about| around| only| like)? {_FIGURE}\b|"
    r"\b(?:he|she|they|(?:the |store |night |day )*(?:clerk|manager|guy|cashier|owner|office|shift|kid|lady|deli"
    r"|butcher|boss|staff))"
    r" (?:says?|said|reckons?|swears?|told me|tells me|thinks?|thought|figures?|claims?) (?:that )?(?:it|they|that|the"
    r"|there|there's|it's)\b"
    r"|\b(?:last|previous|other|day|night|first) (?:guy|man|tech|crew|shift|fella|bloke) (?:wrote|noted|logged|left|put|said"
    r"|marked|had)\b|\b(?:wrote|noted|logged) (?:that )?(?:there was|there's|it was)\b|\bsaid something about\b"
    r"|\bcustomers? (?:says?|said|thinks?)\b|\b(?:kid|girl|guy|lady) (?:in|from|at) the \w+ (?:says?|said|thinks?)\b"
    r"|\bthey ordered\b"
    r"|\b(?:ain't|haven't|have not|didn't|not) (?:checked?|looked|measured?|tested|verified)(?: (?:it|that|them|yet|myself))*$"
    r"|\b(?:weather|forecast|radio|app)\b.*\b(?:says?|said|calls for)\b"
    r"|\b(?:varies|hovers|wanders) around\b"
    rf"|\b(?:thinks|claims|figures|reckons) (?:that )?(?:it|they)(?:'s|'re| is| are)\b|^(?:anything )?up to {_FIGURE}\b"
    rf"|\bif you (?:can )?(?:believe|trust) (?:it|that|the|this|my)\b|\bhe read {_FIGURE}\b"
    rf"|\bshould (?:read|show|say|get) {_FIGURE}\b"
)
_LIFE = (
    "phone|radio|knees?|elbow|shoulder|stomach|wife|husband|kids?|baby|dog|cat|milk|beer|coffee|lunch|dinner|breakfast|elevator"
    "|escalator|parking lot|car|traffic|game|movie|tv|weather|manager's car|bathroom|toilet|sandwich"
)
_OTHER_LIFE = re.compile(
    rf"\b(?:my|the|his|her|our|that|a) (?:{_LIFE})(?:'s|'re| is| are| was| has| got)\b"
    r"|\bmy (?:back|hands|feet)(?:'s|'re| is| are)\b(?! (?:both |all |well )*(?:out|clear|away|off)\b)"
    r"|\b(?:starved|starving) for (?:lunch|dinner|breakfast|food|a bite)\b|\bi'm (?:starved|starving|beat|wiped)\b"
    r"|\bparked\b|\bsee you\b|\bcall me (?:back|later|at|in)\b|\b(?:kids|bucks|dollars|sugars|beers)\b|\bthis thing weighs\b"
    r"|\b(?:done|home|back|there|finished) by (?:noon|one|two|three|four|five|six|seven|eight|nine|ten)\b"
    r"|\bbeen (?:up|awake|here) since\b|\bi turned \w+(?: last| this|$)|\brunning late\b"
    r"|\b(?:off|closed) on (?:sun|mon|tues|wednes|thurs|fri|satur)days?\b"
    r"|\b(?:he|that kid|the kid|the guy)(?:'s| is) (?:running|off|out|down|dead)\b"
    r"|\bgone home\b|\bgood for (?:you|him|her|them|nothing)\b|\bquarter past\b"
    r"|\blow on (?:gas|gloves|fuel|coffee|time|sleep|battery)\b"
    r"|\b(?:hot|cold|warm|freezing) in here\b|\bthe alarm on my\b"
)
"""What is talk with a colleague, of anything but the machine."""
_OF_IT = {
    "ambient_temperature": ("outside", "outside's"),
    "suction_set_point": ("set", "setting"), "head_set_point": ("set", "setting"),
    "cutout_pressure": ("set", "setting", "trips", "cuts", "opens", "rated"), "control_trip_pressure": ("tripped", "opened"),
}  # fmt: skip
"""Words that belong to a reading itself."""
_NOT_IT = re.compile(
    rf"\bnumber {_FIGURE} (?:went|tripped|was|did|has|had|quit|dropped|is (?:off|down|out|first))\b|"
    rf"\b(?:isn't|is not|wasn't|aren't|ain't)(?: quite| at| reading| showing)? {_FIGURE}\b|\brated\b|\b(?:normally"
    rf"|usually|typically)\b"
    r"|^(?:normal|usual)(?:'s| is)?\b|\bon a good day\b|\b(?:has|have|had|got|ought) to be\b|\boughta be\b|\b(?:it|that"
    r"|they)'d be\b"
    rf"|\b(?:started|began|peaked|topped out|maxed out|bottomed out|tripped|died|quit) (?:out )?at\b|\btwice {_FIGURE}\b"
    rf"|\bshy of\b"
    rf"|\b(?:past|passing|passed) {_FIGURE}\b|\boff by\b|\bit takes {_FIGURE}\b"
)
"""Of a number: what it is not, what it mostly is, where it began or went to."""
_MOVED = re.compile(rf"\b{_FIGURE} (?:off|short)$|^(?:it's |it is |they're |gone |went )?(?:down|up) {_FIGURE}\b")
"""Of what is measured, by how much it changed."""
_A_MACHINE = re.compile(
    rf"\b(?:compressor|machine|unit|number|rack) (?:number )?({_FIGURE})\b(?! (?:hours?|minutes?|days?|weeks?|times|of)\b)"
)
"""A machine by its number, which counts nothing."""
_ONE_OF_THEM = re.compile(
    r"\b(?:worst|warmest|coldest|hottest|lowest|highest|weakest|best|this|that|the|last|other|first|second|third|next"
    r"|bad|good|which"
    r"|each|every|any|same|only|end|middle|left|right|big|small|new|old) one\b(?! (?:hundred|point|oh|and|degrees?"
    r"|volts?|ohms?|amps?"
    r"|pounds?|psi|percent|meg|k|\w+teen|\w+ty)\b)"
)
"""A one that counts nothing: "the worst one"."""
_ONE_STANDS = re.compile(
    r"\bonly one(?= (?:down|off|out|tripped|of|that|went)\b)|\b(?:just )?one (?:down|off|out|tripped)\b|^one$"
    r"|\bone(?= (?:\w+ )?(?:\w+ )?(?:minutes?|hours?)(?: ago)?$)|"
    r"\bone(?:'s| is| was| feels| looks) (?:\w+ )?(?:cold|hot|warm|cool|dead|open|off|on|out|bad|good|closed|stuck)\b"
)
"""One of several that stands so."""
_PROVED_AT = {"power": re.compile(r"\bpower\b"), "control": re.compile(r"\bcontrol\b"), "drive": re.compile(r"\b(?:drive|bus)\b")}
_OF_A_MACHINE = frozenset(("running_now", "running_count", "lead_running"))
"""What is told of machines, and never by who says where he goes himself."""
_STILL_RUN = re.compile(
    r"\b(?:there's|there are|we've got|i've got|i got|got|have|and) \w+ (?:of them )?(?:still )?(?:going|running"
    r"|left running|up)\b"
)
"""How many run, which is not the one that went first."""
_A_UNIT = re.compile(r"\ban? (?:pounds?|degrees?|volts?|ohms?|amps?|psi|quart|percent|meg|k|gallon|kilo|bar)\b")
_MISSING = re.compile(
    r"^(?:well |no |yes |yeah )*(?:it|that|she|they|the (?:\w+ )?fan|fan)(?:'s|'re| was| is| were) (?:\w+ )?missing\b"
)
"""What is not there does not run, though it ends like what does."""
_TWICE = re.compile(r"\b(one|two|three|four|five|six|seven|eight|nine) \1\b(?= (?:\w+s|psi|percent)\b)")
"""A digit said twice before its unit: the one, or eighty eight."""
_LEFT_ALONE = re.compile(
    r"\b(?:did not|didn't|never|haven't|have not)(?: even)? (?:touch|move|change|adjust|disturb|mess with|look at|check"
    r"|do)(?:ed|d|ing)?"
    r"(?: (?:it|them|that|this|anything|a thing|nothing|any of (?:it|them)))?\b"
)
"""What somebody did not do is not how a thing stands."""
_SAYS_NO = re.compile(r"\b(?:no|not|nope|nah|none|never|nothing|off|stopped|dead|out|idle|still|standing|negative)\b|n't\b")
_RECKONED = re.compile(r"\b(?:i|we)(?:'d| would)? (?:reckon|guess|think|figure|suppose|imagine)\b|\bif i had to\b")
_MOVES = re.compile(
    r"\b(?:bounc|jump|swing|hunt|mov|wander|fluctuat|flick|going|goes|drift|danc|cycl|surg|puls|all over|up and down)\w*"
)
_SOMEWHERE = re.compile(r"\bsomewhere\b|\banywhere\b|\banything\b")
"""Where it may be, which is no reading that moves."""
_BETWEEN = frozenset("of on the it is that at to and if in you my one other for from by they up down".split())
"""What stands between words: in a prompt it makes nothing its own."""
_THIS_ONE = re.compile(r"\b(?:this one|mine|ours)\b")
_THE_OTHER_IS = re.compile(
    r"^(?:(?:and|but|well|so|yeah|no) )*(?:the )?(?:other|next) (?:one|machine|compressor|unit)(?:'s| is)\b"
    r"(?!.*\b(?:this one|mine|ours|it's|she's)\b)|^\w+ on the (?:other|next) (?:rack|one|machine|side)$"
)
"""How another one stands tells nothing of this one."""
_OF_A_NEIGHBOUR = re.compile(r"^others_|\.like$|^first_to_trip$")
_OF_A_PAPER = re.compile(r"_label$")
_OF_A_CHANGE = re.compile(r"rise|drop|difference|added|lost")


def _of_another_place(question: Question, text: str) -> bool:
    """Whether what is proved dead is named, and it is not what was asked about: "point one on the power" at the control."""
    kind, _, place = question.asking.partition(".")
    if kind != "dead_volts" or place not in _PROVED_AT or _PROVED_AT[place].search(text):
        return False
    return any(named.search(text) for other, named in _PROVED_AT.items() if other != place)


_NO_TOOL = re.compile(
    r"\bno (?:scales?|ladders?|gauges?|hoses?|cylinders?|jugs?|bottles?|recovery \w+|(?:vacuum )?pumps?|nitrogen|access"
    r"|way (?:in|up|to)|lights?|flashlight|clamps?|thermometers?|testers?|ports?|step|lift|machines?"
    r"|drums?)\b|\bnothing to \w+(?: it)? with\b"
)
"""What is missing to measure with: no reading of none."""
_NOTHING_TOLD = re.compile(
    r"\b(?:nothing|nobody|no one) (?:is |was |got |has )?(?:written|noted|logged|recorded|marked|new|else|unusual"
    r"|special|odd|strange|in the (?:log|book|logbook|history))\b"
)
_NO_OTHER = re.compile(r"(?:\bthere(?:'s| is| are)|^(?=no leaks?\b)) ?no (?P<what>[a-z]{3,})\b")


def _no_other(question: Question, text: str) -> bool:
    """Whether what there is none of is something else than was asked for: "there is no heater", nothing written down."""
    if _NOTHING_TOLD.search(text):
        return True
    match = _NO_OTHER.search(text)
    own = {word.removesuffix("s") for word in {*question.about, *own_words(question)}}
    return match is not None and match["what"].removesuffix("s") not in own | _OF_A_READING


_OF_A_READING = frozenset(
    "reading voltage volt power current amp drop difference rise change pressure thing need sign trace one load juice click"
    " frost oil such more way draw flow movement".split()
)
_NOT_WEIGHED = re.compile(
    r"\b(?:no|without a|without) scales?\b|\bscales?(?:'s| is| are) (?:broken?|dead|off|flat|out)\b|\b(?:couldn't|can't) weigh\b"
    r"|\b(?:cylinder|drum|bottle)(?:'s| is) full\b"
    r"|\bscales?(?:'s| is| was)? (?:drift\w*|jump\w*|wander\w*|not (?:zeroed|level|working)|acting up|off)\b"
    r"|\bnothing to weigh\b|\b(?:guess(?:ed|ing)?|eyeball(?:ed)?|by (?:feel|eye|ear|the gauges?|the glass))\b"
)
_ROUGHLY = re.compile(
    r"\bestimat\w+\b|\bby the (?:sight glass|bubbles|book|label|sticker)\b|\b(?:label|sticker|book) (?:says|said)\b"
    r"|\b(?:roughly|approximately|or so|ish|give or take|ballpark)\b"
)
"""Of refrigerant, which the law wants weighed; food that is lost may be guessed at."""
_A_GAS = re.compile(
    rf"\b(?:cylinder|jug|bottle|tank|label)(?:'s| is| says| reads)? (?:an? )?(?:r )?{_FIGURE}|\br {_FIGURE}|\b{_FIGURE} [a-d]\b"
)
"""A refrigerant by its number, which weighs nothing."""
_THE_ONE = re.compile(r"\bthe (?:old|new|bad|good|same|first|last|other|right|wrong) one\b|\bno ?body\b|\b(?:no|some|any) ?one\b")
"""A thing or a person, and no number."""
_UNSURE = re.compile(r"\b(?:i think|i believe|i suppose|i reckon|i'd say|seems like)\b")
_TIMES = frozenset(("minutes", "seconds", "hours", "days"))
_SO_MANY = re.compile(
    rf"\b(?:other|those|these) {_FIGURE}(?! (?:seconds?|minutes?|hours?|days?|weeks?)\b)"
    rf"|\b{_FIGURE}(?= (?:are|is|left|of them|of those|running|off|down|tripped|still|compressors?|machines?|units?|racks?)\b)"
)
"""How many machines, where a time is asked for."""
_LETS_HANDS_IN = re.compile(r"^dead_volts\.|^panel_tag$|^isolated_pressure$|^shell_pressure$")


def without_counts(question: Question, words: str) -> str:
    """The words without how many machines stand how, where nothing but a time is asked for.

    >>> without_counts(Question("alarm_minutes_ago"), "about an hour, other two are still on")
    'about an hour, they are still on'
    """
    kinds = {vocabulary()[id].kind for id in (question.asking, *question.also) if id in vocabulary()}
    return _SO_MANY.sub("they", words) if kinds and kinds <= _TIMES else words


def weighed(question: Question, text: str, said: Meaning) -> Meaning:
    """What was added or recovered is weighed (trade.md, section 11): guessed, or without a scale, it is no number of pounds."""
    if kind_of(question.asking) != "mass":
        return said
    roughly = question.asking.startswith("refrigerant_") and _ROUGHLY.search(text)
    if isinstance(said, Answer | NotUnderstood) and (roughly or _NOT_WEIGHED.search(text)):
        return AskFor(SENTENCES["weigh"])
    return NotUnderstood() if isinstance(said, Answer) and _A_GAS.search(text) else said


def of_the_other(text: str) -> bool:
    """Whether all that is told is how another machine stands.

    >>> of_the_other("the other one is off"), of_the_other("the other one is off and mine's running")
    (True, False)
    """
    return bool(_THE_OTHER_IS.search(text))


def here_and_now(question: Question, text: str, said: Meaning) -> Meaning:
    """The meaning, unless the sentence says that nobody read it here and now.

    Args:
        question: what was asked.
        text: normalised, the whole sentence.
        said: what it was taken for.

    >>> taken = Answer((Part("product_temperature", 90.0),))
    >>> here_and_now(Question("product_temperature"), "i doubt it's ninety", taken)
    NotUnderstood()
    >>> here_and_now(Question("product_temperature"), "it's ninety if you ask me", taken) == taken
    True
    """
    if isinstance(said, Answer) and _THE_ONE.search(text):
        said = Answer(tuple(part for part in said.parts if not _a_thing(part)))
        if not said.parts:
            return NotUnderstood()
    if isinstance(said, Confirmed) and said.instead and _a_thing(said.instead) and _THE_ONE.search(text):
        return NotUnderstood()  # "no one to tell"
    if " " not in text or text in phrases(question) or text in question.other_words or text in question.go_ahead:
        return said
    if isinstance(said, Answer) and _of_another_place(question, text):
        return NotUnderstood()
    if isinstance(said, Answer) and goes_himself(text):
        said = Answer(tuple(part for part in said.parts if part.id not in _OF_A_MACHINE))
        if not said.parts:
            return NotUnderstood()
    if isinstance(said, Answer) and of_the_other(text):
        said = Answer(tuple(part for part in said.parts if part.id != "running_now"))
        if not said.parts:
            return NotUnderstood()
    plain = MANNER.sub("", text)
    free = kind_of(question.asking) == "free"
    if not free and isinstance(said, Answer | Command) and _OTHER_LIFE.search(plain):
        return said if isinstance(said, Command) and said.name != "continue" else NotUnderstood()
    said = weighed(question, text, said)
    if isinstance(said, Command) and said.name == "continue":
        if "dead" not in question.about and "locked" not in question.about and _HOW_CHECKED.search(plain):
            return NotUnderstood()
        against = [_DOUBTED, _ONLY_POSSIBLE, _WANTED, _BEFORE, _PRINTED, _NOT_DONE, _HEARSAY]
        against += [] if {"other", "others"} & set(question.about) else [_ELSEWHERE]
        against += [] if question.look else [_HALF_DONE]  # a shell may be kind of hot
        return NotUnderstood() if any(_hit(pattern, question, plain) for pattern in against) else said
    if not isinstance(said, Answer):
        return said
    asked = [part for part in said.parts if part.id in (question.asking, *question.also)]
    if not asked or any(vocabulary()[part.id].kind == "free" for part in asked):
        return said
    if any(_hit(pattern, question, plain) for pattern in _against(asked, plain)):
        return NotUnderstood()
    history = any(part.id in HISTORY for part in asked)
    if not history and any(isinstance(part.value, float) for part in asked) and _OLD_ONE.search(plain):
        return NotUnderstood()
    said = _without_unread(said, plain)
    if question.asking != "live_or_dead" and _HOW_CHECKED.search(plain):
        return NotUnderstood()
    of_none = any(part.value in (0, "none_present", "none") for part in asked if part.id != "ladder_kind")
    if of_none and (_NO_TOOL.search(plain) or _no_other(question, plain)):
        return NotUnderstood()
    names = set(_A_MACHINE.findall(plain))
    said = Answer(tuple(part for part in said.parts if not (_a_name(part, names) or _says_nothing(question, part, plain))))
    if not said.parts:
        return NotUnderstood()
    told = not any(part.id in HISTORY for part in asked) and bool(_HEARSAY.search(plain) or _HEARSAY.search(text))
    ranged = any(part.low is not None for part in said.parts)
    somewhere = bool(_SOMEWHERE.search(plain)) and not _MOVES.search(plain)
    told = told or (ranged and (somewhere or bool(_RECKONED.search(plain))))
    twice = any(isinstance(part.value, float) and 10 < part.value < 100 for part in asked) and bool(_TWICE.search(plain))
    unsure = told or twice or (_UNSURE.search(text) and any(_LETS_HANDS_IN.search(part.id) for part in asked))
    return Answer(tuple(replace(part, doubt=part.doubt or ".") for part in said.parts)) if unsure else said


_NOT_TAKEN = re.compile(
    r"\b(?:can't|cannot|couldn't|didn't|haven't|don't|won't|not able to|unable to|no way to|not|never)(?: \w+)?"
    r" (?:read|see|get|got|reach|check|checked|measure|measured|clamp|take|taken|tell|have|make out)(?: (?:the|my|any|at))*"
    r" (?:amps?|amperage|volts?|voltage|suction|discharge|head|current|temp\w*)\b"
    r"|\bno (?:amps?|volts?|amperage|current)(?: reading)? (?:from (?:here|where)|yet|up here|down here|out here"
    r"|over here|right now|at the moment)\b"
    r"|\bno clamp\b"
)
"""Which of several readings was not taken."""


def _without_unread(said: Answer, text: str) -> Answer:
    """The answer without the nought of a reading that could not be taken: "I can't read amps from here"."""
    if len(said.parts) < 2 or not _NOT_TAKEN.search(text):
        return said
    kept = tuple(part for part in said.parts if part.value != "none_present")
    return Answer(kept) if kept else said


def _a_thing(part: Part) -> bool:
    """Whether its number may be but the one of "the old one", or of "nobody"; a count may be just that."""
    number = isinstance(part.value, float) and part.value in (0, 1)
    return number and (vocabulary()[part.id].kind != "count" or part.id.startswith("follow_up"))


def _says_nothing(question: Question, part: Part, text: str) -> bool:
    """Whether all that a value rests on is which one it is, or that somebody left it alone."""
    kind = vocabulary()[part.id].kind
    if part.value == "none" and kind == "choice" and part.id not in HISTORY and _NOBODY.search(text):
        return True
    if (kind == "pressure" and _OF_FOOD.search(text)) or (part.id == "alarm_minutes_ago" and _WITHIN.search(text)):
        return True
    if isinstance(part.value, float) and (named := _LETTERED.search(text)) and spoken_number(part.value) == named[1]:
        return True
    if part.id.endswith("_running") and part.value == "yes" and _MISSING.search(text):
        return True
    if part.id == "first_to_trip" and _STILL_RUN.search(text):
        return True
    if kind == "count" and part.value and HOW_SET & set(text.split()) and counts_another(part.id, text):
        return True
    if kind == "yes_no" and part.value == "no" and not {"did", "cleaned", "repaired"} & set(question.about):
        return bool(_LEFT_ALONE.search(text)) and not _SAYS_NO.search(_LEFT_ALONE.sub("", text))
    if not isinstance(part.value, float) or part.value != 1.0 or kind == "count":
        return False
    if not _ONE_OF_THEM.search(text) and not _ONE_STANDS.search(text):
        return False
    rest = _ONE_STANDS.sub("", _ONE_OF_THEM.sub("", text))
    return not {"one", "1"} & set(rest.split()) and not _A_UNIT.search(rest)


def _a_name(part: Part, named: set[str]) -> bool:
    """Whether a count is but the number that a machine is called by: "compressor three tripped"."""
    count = isinstance(part.value, float) and vocabulary()[part.id].kind == "count"
    return count and bool(named & {spoken_number(float(part.value)), f"{part.value:g}"})


def _against(asked: list[Part], text: str) -> list[re.Pattern[str]]:
    """What, said beside these readings, makes them none: not what belongs to such a reading by itself."""

    def one_is(of: re.Pattern[str]) -> bool:
        return any(of.search(part.id) for part in asked)

    if any(part.id in HISTORY for part in asked):
        return [_DOUBTED, _WANTED, _ONLY_POSSIBLE]
    number = any(isinstance(part.value, float) for part in asked)
    where = {
        _ELSEWHERE: not _THIS_ONE.search(text) and not one_is(_OF_A_NEIGHBOUR),
        _PRINTED: not one_is(_OF_A_PAPER),
        _NOT_DONE: any(part.value is True for part in asked),
        _HALF_DONE: any(part.value is True for part in asked),
        _SET: number,
        _NOT_IT: number,
        _MOVED: number and not one_is(_OF_A_CHANGE) and not any(vocabulary()[part.id].kind == "count" for part in asked),
        _CHANGE: number and not one_is(_OF_A_CHANGE),
    }
    return [_DOUBTED, _ONLY_POSSIBLE, _WANTED, _BEFORE, *(pattern for pattern, holds in where.items() if holds)]


def _hit(pattern: re.Pattern[str], question: Question, text: str) -> bool:
    """Whether it stands there, and not as words of the reading itself or of its prompt."""
    own = {*_OF_IT.get(question.asking, ()), *question.about} - _BETWEEN
    return any(not own.intersection(match[0].split()) for match in pattern.finditer(text))
