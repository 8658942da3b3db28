"""How somebody to what he answers, told beside it: "pulled the one lead off and zeroed them first".

The words are the project's own reading of how technicians tell what their hands and eyes did.
"""

import re

_DID = frozenset(
    "pulled lifted put held stuck clipped zeroed nulled wiped went walked hit pushed pressed waited watched climbed stood sat set"
    " touched moved clamped shone pointed peeled scraped rubbed brushed checked looked read measured metered tested tried turned"
    " spun rocked wiggled tugged listened felt counted rang called asked took got grabbed swapped switched hooked landed"
    " probed laid ran traced followed squeezed knelt crawled leaned backed opened closed cracked unscrewed popped snapped slid"
    " tapped gave let kept left had dug fetched brought found cleaned dried warmed cooled calibrated compared crouched swept"
    " reset shook twisted cupped crossed isolated unplugged plugged strapped taped bled drained purged"
    " knocked banged dusted wrapped hung cut pressed straddled dipped lowered raised angled tilted aimed swung poked bent ducked"
    " reached stretched used leant zipped rested hovered"
    " shut flipped threw worked came saw heard double triple timed been".split()
)
_SUBJECT = r"(?:and |then |so |but |well |just |first |i |we |i've |we've |have |had to |did |only |also |finally |already )*"
_BEGINS = re.compile(rf"{_SUBJECT}(?:(?:went and|had to go and|went ahead and) )?(?P<did>[a-z]+)\b(?P<rest>.*)")
_HAD_TO = re.compile(rf"{_SUBJECT}(?:i |we )?had to (?:go |really )?[a-z]+\b")
_LASTING = re.compile(
    r" (?:till|until) (?:it|they|she|i|the \w+) (?:quit|stopped|settled|steadied|had|got|was"
    r"|were|could|came|went)\b.*$"
)
_TURNS = re.compile(
    r"\b(?:not|no|never|nothing|none|nobody|without|maybe|probably|if|unless|until|till|or|either|whether|other|others|another"
    r"|neighbor\w*|yesterday|earlier|last (?:week|month|time|night|year|visit)|before|wrong|mistake|almost|nearly|half|partly"
    r"|jump\w*|bypass\w*|bridg\w*|short\w*|vent\w*|forced?|hammer\w*|bare|wet|spark\w*|burn\w*|hurt|should|could|would|might"
    r"|bigger|larger|one in|used to|tomorrow|later|soon|again|him|his|her|their|somebody|someone|except|but|back (?:on"
    r"|off|out)|guess\w*|think)\b|n't\b"
)
_COUNTED = re.compile(
    r"\b(?:a |the |each |my |that |this |all |both |of |full |good |other )*"
    r"(?:one|two|three|four|five|six|ten|fifteen|twenty|thirty|a couple of|a few|couple|few)(?: (?:full|good|whole|more))?"
    r" (?:leads?|wires?|clips?|sides?|ends?|fingers?|hands?|screws?|bolts?|covers?|posts?|minutes?|seconds?|hours?|times|turns?"
    r"|goes|tries|legs?|pairs?|terminals?|probes?|spots?|places|inches|feet|meters|cases|packs|rows|lugs?|boxes|bags"
    r"|trays|shelves|layers|sheets)\b"
)
"""What is counted of something else than was asked for."""
_WHICH_ONE = re.compile(r"\b(worst|warmest|coldest|hottest|lowest|highest|weakest|only|same|last|end|far|near) one\b")
"""No count at all."""


def narrates(clause: str) -> bool:
    """Whether a clause only tells what its speaker did with hands and eyes to come to what he answers.

    >>> narrates("pulled the one lead off"), narrates("i held the button down a full minute till it quit climbing")
    (True, True)
    >>> narrates("pulled it off the other one"), narrates("i jumped it out"), narrates("it held")
    (False, False, False)
    """
    plain = uncounted(_LASTING.sub("", clause))
    match = _BEGINS.fullmatch(plain)
    did = bool(match and match["did"] in _DID) or bool(_HAD_TO.match(plain))
    return did and not _TURNS.search(plain)


def uncounted(clause: str) -> str:
    """The clause without what is counted in it.

    >>> uncounted("put one lead each side of it")
    'put it each side of it'
    """
    return _COUNTED.sub("it", _WHICH_ONE.sub(r"\1", clause))


_OF_OTHERS = re.compile(
    r"(?:and |but |so |while |whereas |then )*(?:all |both |every one |each |none |most )?(?:of )?(?:the |them |my |all the )?"
    r"(?:others|rest|other (?:ones|two|three|four|five|machines|heads|fans|contacts|circuits|compressors|units)|rest of them)\b.*"
)
"""What is told of the others, where not they were asked about."""
_WHICH_IT_IS = re.compile(
    r"(?:and |it's |that's )*the (?:\w+ )?(?:one|ones|side|end) (?:nearest|closest|next|by|near|at|on|furthest|farthest"
    r"|over|in|with|to|toward)\b.*"
)
_WORST_IS = re.compile(
    r"(?:and |but |so )*(?:the |my )?(?:worst|warmest|coldest|hottest|lowest|highest|weakest)(?: \w+)?"
    r"(?: (?:that )?(?:i|we)(?: could| can)? (?:found|find|got|saw|see|had|have|read|measured))?"
    r"(?:'s| is| was) (?:the|that|this|in|on|at|over|our|one)\b(?: [a-z']+)*"
)
"""Which of several was the worst, told before what it reads."""
_CONCEDES = re.compile(r"(?:and |but )?even (?:though|when|with|if|after|at)\b.*")
_PERCEIVES = re.compile(
    r"(?:and |so |but |because |since )*(?:i|we|you)(?: just| hardly| barely| actually| even| still| clearly| only)*"
    r"(?: (?:can|could)(?: just| hardly| barely| easily| even| still| only)* (?:hold|keep|put|get|touch|lay|rest|leave)"
    r"|(?: can| could|'m)?(?: just| hardly| barely| even| still| only)* (?:see|feel|hear|smell|read|tell|watch|count"
    r"|seeing|feeling"
    r"|hearing))\b.*"
)
_HOW_READ = re.compile(
    r"(?:and |so )*(?:that's|this is|it's|that was|it is) (?:with|by|from|off|what|where|right|after|on|using|straight|taken) .*"
)
_CONCLUDES = re.compile(r"so (?:it|that|they|she|this|there|must|i'd|we|i)(?:'s|'re|'ve)?\b.*")
_TAKEN_BACK = re.compile(
    r"\b(?:wait|actually|sorry|hold on|hang on|scratch|i mean|correction|oops|misread|wrong|maybe|probably|might|guess|not sure"
    r"|could be|unless|or|either|should be|let me|give me|gonna|will|ask|don't know|tell me|told|said|says he|if|can't "
    r"(?:see|read"
    r"|tell)|again|yesterday|last|earlier|before|used to|was|were|neighbor\w*|supposed|normally|usually|jump\w*"
    r"|bypass\w*)\b|'ll\b"
)


def explains(clause: str, of_others: bool) -> bool:
    """Whether a clause behind an answer only tells how it shows, which one it is or how the others are.

    Args:
        clause: normalised words.
        of_others: whether the others were asked about: then what is told of them is an answer.

    >>> explains("all the others beep", False), explains("i can hardly see a line", False), explains("i can't see it", False)
    (True, True, False)
    """
    plain = uncounted(clause)
    if _CONCEDES.fullmatch(plain) or (_WORST_IS.fullmatch(plain) and not _TURNS.search(plain)):
        return True
    if _TAKEN_BACK.search(plain):
        return False
    ways = (_WHICH_IT_IS, _PERCEIVES, _HOW_READ, _CONCLUDES, *(() if of_others else (_OF_OTHERS,)))
    return any(way.fullmatch(plain) for way in ways)


_VERIFIES = re.compile(
    r"(?:and |so |then |i |we |i've |we've |just |also |even |then |did |do )*"
    r"(?:(?:give|gave|given) (?:it|them|each one|every one|each|that|the \w+) (?:all )?(?:a |an )?(?:good |quick |little "
    r"|last |hard )?"
    r"(?:pull|tug|shake|wiggle|push|yank|twist|once over|look|check|try)(?: too| as well| each)?"
    r"|(?:went|walked|checked) (?:round|around|over|by|past|along|through|back over) (?:them|it|each|every|all)(?: \w+){0,4}"
    r"|(?:put|laid|had|got|with|using) (?:my|a|both) (?:own )?(?:hands?|eyes?|fingers?|light|torch) on (?:it|them|each"
    r"|every|all|that)"
    r"(?: (?:one|of (?:it|them)|valve|cover|lead|wire|screw|clip|door))?(?: and (?:checked|looked|felt|tried)(?: (?:it|them))?)?"
    r"|(?:went|gone|been|walked) (?:back )?(?:over|through|round|around) (?:it|them|each|every|all)(?: \w+){0,2}"
    r"|(?:it |she |he |they )?(?:passed|held|holds|passes) (?:the |its |a )?(?:\w+ )?test(?: without (?:losing"
    r"|dropping) (?:anything|a thing"
    r"|a pound))?"
    r"|(?:she|it|he|machine|compressor)(?:'s| is) (?:purring|humming along|ticking over|running (?:nice|sweet|smooth|good|fine)"
    r"|singing)(?: (?:like a kitten|along|away|nicely|now))?"
    r"|(?:running|purring|humming) (?:sweet|nice|smooth|along)(?:ly)?"
    r"|(?:she|he|they|manager)(?:'s|'re| is| are) (?:right|fine|okay|good|cool|happy|all right|on board)(?: with (?:it"
    r"|that|this|us))?"
    r"|(?:double|triple) checked(?: \w+){0,3}"
    r"|(?:it |they )?(?:has|have|'s|'ve) been (?:since (?:i|we) (?:got|came|pulled|walked)(?: \w+){0,3}"
    r"|all (?:day|night|morning|along))"
    r"|(?:he|she|they|the boss|the manager) (?:wasn't|weren't|was|were|isn't|is) (?:too |very |so |real |really |exactly )*"
    r"(?:happy|tickled|thrilled|pleased|keen|amused|glad)(?: (?:about|with) (?:it|that|me))?"
    r"|(?:there's |there is |i see )?no (?:newer |other |new |second )?stickers?(?: \w+){0,3}"
    r"|(?:read|checked|looked at|got) (?:it|that|them) (?:off|on|from|against) (?:the|its) (?:\w+ )?"
    r"(?:collar|label|plate|cylinder|bottle|sticker|tag|shoulder|neck|side)"
    r"|checked (?:it|them|each|each one|every one|all)(?: \w+){0,2}"
    r"|(?:can |could )?(?:still )?(?:feel|see|hear) (?:it|the warmth|the heat|it warm|it's warm|them|the lamp|the light"
    r"|it glow|it running)(?: \w+){0,2}"
    r"|(?:can |could )?(?:see|read) (?:it|the (?:number|reading|display|screen|meter|lamp|light))(?: from here| fine| okay)?"
    r"|(?:it's |they're |all |just )*(?:how|as|like|where|the way) (?:it|they) (?:was|were)(?: before)?"
    r"|so (?:i'll |we'll |let's )?(?:call|say) it that"
    r"|that(?:'s| is| was) (?:all|it|the lot|everything)(?: (?:of it|i got|it had|she had|it gave|there (?:is|was)"
    r"|(?:it|she|they|i|we)(?:'s|'ll| is| was| will| could| can| would)*(?: (?:gonna|going to))? (?:give|get|give up|have|let go"
    r"|hold|held|gave|gave up|got|do|coming out|come out)))?"
    r"|(?:just )?to (?:be|make) (?:sure|certain)|for good measure"
    r"|(?:i've |i )?(?:been|went) (?:round|around) (?:it|them|all|every)(?: \w+){0,4}"
    r"(?: to make sure i (?:didn't|hadn't) (?:skip|miss)(?:ped|ed)?(?: \w+){1,3})?"
    r"|(?:after )?(?:waiting|i waited|we waited) (?:out )?(?:the |its |my )?(?:full |whole )?\w+ minutes"
    r"(?: (?:that )?(?:the label|it|the drive)(?: asks| says| wants| calls)(?: for)?)?"
    r"|waited (?:the |out |all )*(?:four times|full time|whole time|time)(?: (?:it|the label|the sheet) (?:says|asks for|wants))?"
    r"|(?:it |they )?(?:didn't|hasn't|haven't|doesn't|don't) (?:pop|popped|come|jump|jumped|kick|kicked|trip|tripped)"
    r"(?: back| right)*(?: out| off)?(?: again)?"
    r"|nobody (?:got|was|is) hurt"
    r"|(?:she|he|they|the \w+)(?: was| were| is| are|'s|'re)?(?: not|n't|wasn't|weren't|isn't|aren't)*"
    r"(?: wasn't| weren't| isn't| aren't| was| were)?(?: too| very| exactly| so| real| really| all that)*"
    r" (?:thrilled|happy|pleased|amused|impressed|delighted|best pleased|surprised)(?: (?:about|with) (?:it|me|that))?"
    r"|which (?:tells (?:you|me|us)|says|explains) (?:all|it all|everything|a lot|plenty)(?: (?:you|i|we) need to know)?"
    r"|(?:it |it's |they |needle )*(?:hasn't|haven't|didn't|not) (?:budged?|moved?|moving|changed?|dropped|risen|climbed"
    r"|crept|fell)"
    r"(?: (?:at all|an inch|a hair|a bit))?(?: since(?: .*)?)?"
    r"|(?:didn't|haven't|never|did not) (?:touch|touched|move|moved|change|changed) (?:anything|a thing|nothing)(?: else)?)"
    r"(?: (?:to (?:be|make) (?:sure|certain|positive)|for good measure|twice|one by one|too|myself|with my own (?:eyes|hands)))*"
)


_PUT_BACK = re.compile(
    r"(?:and |so |i |i've |we )*(?:(?:put|got|landed) )?(?:the |both |all |two |three |my )*(?:wires?|leads?|conductors?|circuit)"
    r"(?:'s|'re| is| are)?(?: all| both)*(?: put| landed)? back(?: in| on| to)*"
    r"(?: (?:(?:where|how|the way|like) (?:they|it|i) (?:were|was|had (?:it|them)|found (?:it|them)|came off)"
    r"|(?:on )?(?:their|the|its)(?: own| same| right| old)* (?:terminals?|screws?|posts?|places?|studs?|lugs?)"
    r"(?: they (?:came|were) (?:off of|off|on|from))?|under (?:the|its|their)(?: own| same)? (?:screws?|terminals?|clamps?)))?"
    r"|(?:and )?(?:the |its |both |all |my )*(?:wires?|leads?|circuit)(?:'s|'re| is| are)(?: all| both)* (?:landed"
    r"|relanded|reconnected"
    r"|hooked back up|back together|back where (?:it|they) (?:was|were|belongs?|goes?))(?: (?:on|under) (?:the|its"
    r"|their) (?:\w+ )?"
    r"(?:screws?|terminals?))?"
)
"""Where what was taken off is again; a jumper is none of it."""


def verifies(clause: str) -> bool:
    """Whether a clause only tells that its speaker made sure; passed over even where safety hangs on the answer.

    >>> verifies("i gave it a pull"), verifies("i went round them twice to be sure"), verifies("gave it to him")
    (True, True, False)
    """
    plain = re.sub(r"\b(?:didn't|never|haven't|hasn't|not)\b", "", clause)
    return bool(_PUT_BACK.fullmatch(clause)) or (bool(_VERIFIES.fullmatch(clause)) and not _TURNS.search(plain))
