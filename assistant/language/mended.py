"""That a repair is done, told by what hands did: "found the lead rubbed through, so I replaced it and put a new fuse in".

Each clause must tell a repair that is over, what was found, or how it is now; what is made up, put off or left half is none.
Typed words only. The patterns are the project's own reading of how people tell what they mended.
"""

import re

from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question

_LEAD = (
    r"(?:(?:well|so|yeah|yes|yep|okay|okay so|and|then|also|alright|right|now|uh|um|it's|it is|that's|i|we|i've|we've|i"
    r" have|just|already|finally|went ahead and|had to|both|all) )*"
)
_DID = (
    r"(?:replaced|renewed|changed|swapped|fixed|repaired|mended|nipped|snugged|fitted|installed|rewired|spliced|crimped"
    r"|soldered|brazed"
    r"|tightened|retightened|cleaned"
    r"|cleared|freed|rebuilt|reterminated|reseated|refitted|resealed|sealed|sorted|hosed|washed|rinsed|blew|brushed|vacuumed"
    r"|scrubbed|unblocked|flushed"
    r"|put(?: in)?(?= (?:a|an|the|two|three) (?:brand )?new\b))"
)
_THING = (
    r"(?:coils?|probes?|sensors?|fuses?|wires?|leads?|wiring|cable|connectors?|connection|terminals?|lugs?|valve|solenoid"
    r"|stem|strainer|screen|filters?|drier"
    r"|cores?|module|relay|contactor|contacts?|control|motor|fans?|blades?|capacitor|flares?|nut|fitting|gaskets?|seal|joint"
    r"|leak|line|tube|regulator|float"
    r"|reservoir|condenser|face|fins|cases?|belt|breaker|transformer|compressor|schrader|caps?|body|head fan|head|elbow|union)"
)
_OF_IT = (
    r"(?:the|that|a|an|its|both|two|one|my|bad|old|new|burnt|burned|chafed|frayed|pinched|corroded|broken|blown|rubbed|open"
    r"|dirty|loose|brand|whole"
    r"|injection|discharge|output|control|oil|suction|condenser|head|fresh|probe|coil|flare|fan|liquid|case|filter|line|drier)"
)
_HOW = (
    r"(?: (?:with (?:a |the |an )?(?:new|right|same|proper|original|correct|brand new)(?: (?:one|ones|part|rating|size"
    r"|type))?|off|out|up|back|down|in|on|again"
    r"|over|tight|right|good|all|properly|now|there|then|through|(?:at|on|from|near|by) the (?!bench|truck|van|floor"
    r"|table|cart|roof)\w+(?: \w+)?"
    r"|on it|in it|from (?:the|my) (?:van|truck|stock)|from (?:the )?inside(?: out)?|inside out|with water|with a hose))*"
)
_DEED = re.compile(
    rf"{_LEAD}(?:{_DID}(?: (?:out|up|off|in))?(?: (?:it|that|them|both|this|those|the whole thing|everything))?{_HOW}"
    rf"|{_DID} and {_DID}(?: (?:it|that|them|the whole thing))?{_HOW}|(?:it's |it is "
    rf"|now )*all (?:nice and )?clean(?:ed)?(?: now)?"
    rf"|(?:the |a )?{_THING}(?:'s| is| are| has been) (?:all )?(?:cleaned|washed|cleared|hosed) (?:up|out|off|down)(?: now)?"
    rf"|{_DID}(?: (?:in|on))? (?:a|the|two|an) (?:brand )?new ones?{_HOW}|{_DID}(?: (?:out|up|off|in))?(?:"
    rf" {_OF_IT})* {_THING}(?: and(?: {_OF_IT})* {_THING})*{_HOW}|(?:the |a )?(?:new"
    rf" )?{_THING}(?:'s| is| are| has been)? (?:taped(?: up)?|replaced|renewed|changed|swapped|fitted|cleaned|washed|cleared"
    rf"|brazed"
    rf"|tightened|new)(?: now)?|made (?:it|that"
    rf"|them) (?:tight|good|right|up)(?: again)?"
    rf"|(?:a |the )?(?:brand )?new(?: {_OF_IT})* {_THING}(?:'s| is| are)?(?: all)? (?:in|on|fitted|installed)"
    r"(?: (?:and|it|tight|snug|seated|wired|up|there|now))*)"
)
_FOUND = re.compile(
    rf"{_LEAD}(?:it was (?:just |only )?(?:the|that|a) {_THING}|found|saw|had|there was|it was|the \w+(?: \w+)? (?:was|were"
    rf"|had)|(?:a|one) (?:\w+ ){{1,3}}(?:was|had)"
    rf"|turned out)\b.*"
    r"|(?:it |the \w+ )?(?:was|were|had) .+"
    rf"|(?:the )?{_THING} (?:was|were|had) .+"
)
_FIGURE = rf"(?:{'|'.join(sorted(FIGURES))})"
_AS_IT_IS = re.compile(
    r"(?:the )?same (?:rating|type|size|one|part|model|kind|number|volts|voltage|amps|amperage)(?: \w+){0,3}"
    r"|(?:it's |that's |all |everything's "
    r"|now it's |and |nice and |it )*(?:good|tight|dry|clean|fixed"
    r"|sound|solid|holding|done|good as new|like new|back together|buttoned up|sorted|mended|repaired|works|working"
    r"|closed up|good to go|ready to go)(?: (?:now|again|to go|too|and"
    r"|tight|dry|good|as it should))*"
    r"|(?:it |they )?(?:looks?|feels?|sounds?|reads?) (?:good|fine|right|okay|normal|great|clean|new|like it should"
    r"|like new)(?: (?:now|too|to me))?"
    r"|(?:it |we |i )?(?:held|holds|pulled|pulls)(?: (?:it|down|a|an|two|three|one|hundred|fifty|of|on|with|nitrogen"
    r"|pressure|vacuum|test|fine|good|steady|okay"
    r"|psi|pounds|microns|solid|for|an hour|minutes|ten|twenty|thirty))*|(?:soaped|bubble tested|leak tested|pressure"
    r" tested|sniffed) (?:it|them)(?: \w+){0,3}"
    r"|(?:the |both )?(?:wires?|leads?|cover|plug)(?:'s| is| are)? (?:back|back on|on|landed|landed back|tight)(?: (?:too"
    r"|again|now|on))*"
    rf"|(?:the )?{_THING}(?:'s| is| are) (?:all )?(?:good|fine|okay|tight|clean|dry|cleaned|washed)(?: (?:up|off|out|now|again))*"
    r"|(?:i )?(?:killed|shut off|shut down|locked out|stopped) the fans(?: first)?"
    r"|(?:right|proper|correct|original|oem) (?:part|one|rating|size)|(?:a |the )?(?:brand )?new(?: \w+){1,2}"
    rf"|(?:it |now |reads |measures |at |about )*{_FIGURE}(?: (?:{_FIGURE}|k))* ohms(?: now)?"
    r"|(?:off|from|out of) (?:the|my) (?:van|truck|stock)"
    rf"|(?:put|added|topped up with|poured)(?: in| it up)? (?:about )?(?:a|half a|{_FIGURE})(?: and a half)? (?:quarts?"
    rf"|pints?|liters?|litres?|ounces?)"
    r"(?: of oil)?(?: in| back in| to it)?"
)
_AGAINST = re.compile(
    r"\b(?:not|no|never|nothing|none|without|except|but|half|partly|part way|almost|nearly|mostly|some|kind of|sort of"
    r"|maybe|probably|should|would"
    r"|could|might|hope|hopefully|think|guess|try|tried|trying|if|unless|until|till|when|later|tomorrow|tonight|soon"
    r"|yet|still|going to|gonna|will|need|needs"
    r"|want|wanted|order|ordered|waiting|jump\w*|bypass\w*|bridg\w*|short(?:ed)? (?:it|out|across)|tape|taped (?!up$)|zip"
    r"|wedged|temporar\w*|makeshift|borrowed|for now"
    r"|rigged|held open|propped|patched|he|she|they|somebody|someone|another|other|wrong|leaking|leaks|loose again"
    r"|again tripped|last (?:week|month|year|time)"
    r"|yesterday|earlier|before|years?|months?|weeks?|ago|used to|broke|broken off|dropped|lost|stripped|cracked it"
    r"|reset it|drip\w*|weep\w*|hiss\w*|bubbl\w*|spark\w*|smok\w*|nois\w*|hot|wet|warm)\b|n't\b|'ll\b"
)


def mended(question: Question, words: str) -> str:
    """The word of a look for a repair that is done; empty where the words do not say so for sure.

    Args:
        question: what was asked; only a look with that word.
        words: as typed, with their commas.

    >>> look = Question("command", look=True, go_ahead=("repaired", "leave it locked"))
    >>> mended(look, "it is repaired, i changed the flare and i made it tight"), mended(look, "changed it, but it still leaks")
    ('repaired', '')
    """
    asked = question.asking == "leak_repaired" or (question.look and "repaired" in question.go_ahead)
    if not asked or words.rstrip().endswith("?"):
        return ""
    pieces = [" ".join(piece.split()) for piece in re.split(r",|\band (?:then )?(?=(?:i|put|made|changed|replaced|it"
        r"|now|pulled|held|cleaned|washed|hosed|brushed|blew|tightened|fixed|new|good|the \w+ (?:is|was))\b)|\bso (?=i\b"
        r"|it\b)", words.lower().replace("-", " "))]
    clauses = [piece for piece in pieces if piece and not is_sound(piece)]
    if _AGAINST.search(" ".join(clauses)):
        return ""
    deeds = [bool(_DEED.fullmatch(clause)) or clause == "repaired" for clause in clauses]
    beside = (_FOUND.fullmatch(clause) or _AS_IT_IS.fullmatch(clause) or clause in _SAID for clause in clauses)
    return "repaired" if any(deeds) and all(deed or told for deed, told in zip(deeds, beside, strict=True)) else ""


_INTENDS = re.compile(
    r"(?:(?:okay|well|so|yeah|right|no|not yet|and|then) )*(?:(?:i've got|i have|i got|there's|got) (?:a|an|one|the|another"
    r"|some) [\w ]{0,30}?"
    r"(?:in|on) (?:the|my) (?:van|truck|stock) (?:so |and )?)?(?:i can (?=(?:clean|fix|replace|change|mend|repair|swap|do"
    r"|wash) (?:it|that|them|this)"
    r"(?: right)? now\b)|i'll|i will|i'm (?:gonna|going to|about to|just|still)"
    r"|we'll|gonna|going to|let me|i (?:need|have) to"
    r"|i've got to|i gotta|first i (?:must|have to|need to)|i must)\b(?!.*\b(?:leave|order|lock|come back|tomorrow)\b).*"
)


def to_be_mended(question: Question, words: str) -> bool:
    """Whether somebody says that he is going to mend it: the call holds until he is back.

    >>> look = Question("command", look=True, go_ahead=("repaired", "leave it locked"))
    >>> to_be_mended(look, "i'll put a new coil on, got one in the van"), to_be_mended(look, "i'll leave it locked")
    (True, False)
    """
    first = " ".join(words.lower().replace(",", " ").split())
    return question.look and "repaired" in question.go_ahead and "?" not in words and bool(_INTENDS.fullmatch(first))


_SAID = frozenset(("repaired now", "done now", "fixed now")) | frozenset("yes yeah yep okay well so done repaired fixed"
    " sorted mended".split())
