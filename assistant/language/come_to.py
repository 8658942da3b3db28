"""How a value comes about, told around it: where it went and stayed, what it was put right to, what three of a kind read alike.

What is found is a plainer sentence, which is then understood as any other: nothing is taken here. The patterns are the project's
own reading of how people tell what a needle does.
"""

import itertools
import re
from collections.abc import Iterator

from assistant.language.grammar import commas_apart
from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.narrated import narrates
from assistant.language.numbers import DIGITS, told_number
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

_N = rf"(?:a hundred|{'|'.join(sorted(FIGURES))}|\d)"
_EMPTIED = ("isolated_pressure", "shell_pressure")
"""What must stand at zero before it is opened or tested."""
_VALUE = (
    rf"(?:(?:a|just|only|exactly|dead) )*{_N}(?: (?:(?<=hundred )and |(?!and (?!a half|half)))[\w.]+| and a half|"
    rf" and half)*?"
)
_NEAR = r"(?:(?:about|around|roughly|right(?: about| around| at)?|just(?: about)?|pretty much|close to) )*"
_IT = (
    r"(?:(?:and|so|okay|yeah|yes|well|oh|now|there|it|it's|it has|she|she's|that|the|my|this|gauge|needle|meter"
    r"|level|pressure|rack|only|just"
    r"|header|reading|temp|temperature|display|pump|is|has|'s) )*"
)
_MOVES = (
    r"(?:goes|went|gone|going|comes|came|come|coming|drops|dropped|drop|pulls|pulled|gets|got|falls|fell|fallen|sinks|sank|climbs"
    r"|climbed|bottoms|bottomed|stops|stopped|settles|settled|holds|held|holding|levels|leveled|hangs|hung"
    r"|hanging|sits|sat|sitting"
    r"|stays|stayed|stalls|stalled|creeps|crept|rises|rose|risen|draws|drew|up|down|back|steadies|steadied|lands"
    r"|landed|ends|ended)"
)
_WAY = r"(?: (?:right|down|up|out|back|all the way|off|in|there|slowly|slow|and holds|and stops|and stays|and sits))*"
_STAYS = (
    r"(?:(?:,|and|then|now|it|but|she|that's|just|right|there|here|steady|where|stays?|stayed|stops?|stopped|holds?|held|holding"
    r"|sits?|sat|sitting|sticks?|stuck|quits?|hangs?|stalls?|no lower|not any lower|not moving|no more|no further"
    r"|all|as low as|it'll|gets"
    r"|(?:won't|will not|doesn't|does not|wouldn't|didn't|can't) (?:go|pull|get|come|drop|move|budge)(?: it)?(?:"
    r" (?:any|no|much))?"
    r"(?: (?:lower|further|farther|down|deeper|below that|under that|past that|more))?) ?)*"
)
_COMES_TO = re.compile(
    rf"{_IT}{_MOVES}{_WAY} (?:(?:to|at|around|about|on|off at|by) )+{_NEAR}(?P<value>{_VALUE})(?:,? {_STAYS})?"
)
_UP_TO_NOW = re.compile(
    rf"{_IT}(?:up|back up|down|back down|back|come up|come down|gone up|got up) to {_NEAR}(?P<value>{_VALUE}),? now"
)
_AT_NOW = re.compile(
    rf"(?:(?:it's |it |still |just |slowly )*(?:creeping|coming|climbing|building|rising|keeps coming|keeps"
    rf" creeping)(?: back)*(?: up| back)? ?,? (?:and )?)?"
    r"(?:(?:it |gauge |pressure )*(?:reads?|reading|at|shows|sitting at|sits at|it's at|it's|stands at) )?"
    r"(?:(?:just |only |like )*(?:a |one )?(?:hair|bit|touch|tad|little|whisker|smidge)(?: bit)? (?:above|over) (?:zero|nothing)"
    r" ?,? (?:and )?(?:i'd |let's |so )*(?:call it|say|maybe|about|like) (?:about )?)?"
    rf"(?P<value>{_VALUE})(?: on it)?(?: now| already)?(?: ?,? (?:and )?(?:it )?(?:keeps (?:coming|creeping"
    rf"|climbing|building)(?: back)*(?: up)?"
    r"|comes back|came back|(?:it's |still |slowly |just )*(?:coming|creeping|climbing|rising|building)(?: back)?(?: up)?"
    r"(?: (?:a )?(?:hair|bit|little|touch|slow|slowly))*|won't (?:stay|hold)(?:"
    r" down)?|not holding))?"
)
"""What stands there though it was to be empty."""
_CREPT = re.compile(
    rf"(?:it |gauge )?(?:was|read|had)(?: at| down to| good at)? (?:zero|nothing|flat|empty) ?,? (?:and |but )*(?:it's "
    rf"|it |then |keeps |now |just )*(?:creeping"
    rf"|creeps|crept|climbing|coming|rising|built|building|moving)(?: back)?(?: up)? ?,? (?:and |to |up to |it's |reads"
    rf" |now |at |back at )*(?P<value>{_VALUE})"
    r"(?: now| already)?"
)
_READ_AFTER = re.compile(
    rf"(?P<told>[a-z' ]+?) ?,?(?: and| then| now)* (?:i|we)(?:'ve|'m| am)?(?: now| just)? (?:got|get|have|read|see"
    rf"|reading|getting) {_NEAR}(?P<value>{_VALUE})"
)
"""What hands did, and what was read then."""
_LEGS = r"(?:leg|line|phase|fuse|winding|pair)"
_ALL = (
    rf"(?:(?:all(?: the)?(?: three)?|each(?: one| {_LEGS})?|every (?:one|{_LEGS})|the three)(?: of (?:them|'em|the"
    rf" three|the {_LEGS}s))?"
    rf"(?: {_LEGS}s| ways)?)"
)
_ALIKE = (
    r"(?:'s|'re| is| are| about| right| around| at| reading| read| reads| showing| shows| show| sitting| sits|"
    r" come in| comes? out"
    r"| the| same| alike| even| balanced| identical| equal| pulling| drawing| pull| pulls| draw| draws| dead on|"
    r" near enough| pretty much| all| give"
    r"| gives| getting| get| ,)*"
)
_ALL_FIRST = re.compile(
    rf"(?:(?:they're|they|it's|i've|i|get|got|have|we|so|okay|yeah|yes|and|well) )*{_ALL}{_ALIKE} (?P<value>{_VALUE})"
)
_SAME_FIRST = re.compile(
    rf"(?:(?:they're|they|it's|all|the|about|pretty much|dead|exactly) )*same(?: all (?:round|around)| across(?:"
    rf" the board)?| ,)* (?P<value>{_VALUE})"
)
_ALL_LAST = re.compile(
    rf"(?:(?:it's|i've|i|get|got|have|we|so|okay|yeah|yes|and|well|about|around|a|call it) )*(?P<value>{_VALUE}),?"
    rf" (?:(?:on|for|at|across|in|through|to|and|it's|the|same|,) )*(?:{_ALL}|all|each)"
    r" ?(?:legs|lines|phases|fuses|windings|pairs|of them|the same|alike|three|around|round)*"
)
_RUN = rf"(?:{'|'.join(sorted(FIGURES))}|\d[\d.]*)(?:(?: and)? (?:{'|'.join(sorted(FIGURES))}|\d[\d.]*))*"
_STANDS = r"(?:'s|'re| is| are| both| at| reads?| reading| show| shows| come in at| came in at| the same(?: at)?| about)*"
_TWO_AND_ONE = re.compile(
    rf"(?:(?:the )?first two|one and two|the first and second){_LEGS}?s?{_STANDS} (?P<two>{_RUN}) ?,? (?:and |but )?"
    rf"(?:the )?(?:third|last|other)(?: one| {_LEGS})?{_STANDS} (?P<one>{_RUN})(?P<tail> , .*)?"
)
_ONE_AND_TWO = re.compile(
    rf"(?:(?:the )?first(?: one| {_LEGS})?|one to two|line one){_STANDS} (?P<one>{_RUN}) ?,? (?:and |but )?"
    rf"(?:the )?(?:other|last) two(?: {_LEGS}s)?{_STANDS} (?P<two>{_RUN})(?P<tail> , .*)?"
)
""" "First two are two ten, third is one ninety, that's low": behind it anything but another number."""
_A_NUMBER_SAID = re.compile(rf"\b{_RUN}$")
_RIGHTS = (
    r"(?:(?:no|wait|sorry|actually|i mean|rather|or rather|correction|scratch that|oops|hang on|hold on|make"
    r" (?:it|that)|call (?:it|that)|say"
    r"|well|let's (?:say|call it)|i'd (?:say|call it)|so|now|now it's|it's now|it's|that's|well|my bad|my mistake|but"
    r"|then|okay|(?:it |that )?(?:has |'s )?(?:settled|steadied|leveled off|came to rest|stayed) (?:on|at|down to)|misread"
    r"|i misread(?: (?:that|it))?|misread (?:that|it)|(?:the )?(?:scale|meter|gauge|display"
    r"|screen)(?: says| reads| shows)) ?)+"
)
_ONLY_RIGHTS = re.compile(
    rf"(?:{_RIGHTS})?(?:(?:that|it)(?:'s| was| is) (?:the |a )?(?:\w+ ){{0,2}}(?:suction|head|discharge|other"
    rf" (?:one|gauge)|wrong (?:one|gauge|line|scale)|oil|crankcase|liquid"
    r"|setting|set ?point)|(?:wrong|other) (?:gauge|one|line|scale)|(?:i )?(?:read|misread|looked at) (?:the"
    r" )?(?:wrong|other) (?:one|gauge|line|scale))?"
)
_BEGINS_RIGHT = re.compile(rf"{_RIGHTS}(?P<value>{_NEAR}{_VALUE})")
_SETTLES = re.compile(
    r"\b(?:no|well|wait|sorry|actually|mean|rather|correction|scratch|oops|make|call|say|says|reads|shows|call it|misread|now"
    r"|settled|steadied|leveled)\b"
)
_A_NUMBER = re.compile(
    rf"(?:(?:(?:it |she |that )?(?:let go|tripped|opened|kicked out|kicked|popped|cut out|went|broke|dropped out) (?:at"
    rf"|around)|i'd say|i'm at|i've got|i've|i get|i got|it's|it|was|at|is|got|say|that's|around|about|like|just|one side"
    rf"|the|first|first it was|reads?|reading|uh|um|we're|oh) )*"
    rf"{_VALUE}(?: (?:or so|i think|i'd say|at first|before|there|on it))*"
)
_ONE_MORE = re.compile(
    r"(?:and |because |'cause )*(?:there's|there is|i see|i forgot|forgot|missed|i missed|didn't see|i didn't"
    r" (?:see|count)) (?:one|another|another one|the one|that one|a second one)"
    r"(?: (?:more|other|behind|up top|in the back|on (?:the )?(?:end|top)|there|back there|over there|round the"
    r" back|around back))*"
    r"|(?:i )?(?:miscounted|counted wrong|forgot one|missed one|can't count)"
    r"|(?:one|another)(?: one)?(?: more)?(?:'s| has)?(?: just)? (?:came|come|kicked|cut|dropped|cycled|staged) (?:on|in|out|off)"
)
"""Why it is another count than was said first."""
_MOVING = re.compile(
    r"(?:it's |it is |still |needle's |okay |and |just )*(?:climbing|rising|dropping|falling|moving|bouncing|drifting"
    r"|creeping|going"
    r"|coming|jumping|waiting|wait|watching|hunting|swinging)(?: (?:up|down|around|back|on it|it|a bit|still|slow|slowly))*"
)
_RESTS = re.compile(r"\b(?:settled|settles|steadied|stopped|stops|steady|holds|holding|held|stays|stayed|stuck|there it is)\b")
_THE_LAST = re.compile(
    r"^(?:and )?(?:the )?(?:last|third|second|first|middle)(?: one| leg| line| winding| pair| fuse)?(?:'s| is| was)? (?="
    + _N
    + ")"
)


def come_to(question: Question, words: str) -> Iterator[str]:
    """The words as plainer ones, where a value's story is told around it; none where there is no such thing.

    Args:
        question: what was asked.
        words: as typed, with their commas.

    >>> list(come_to(Question("pump_down_low"), "stops at eight, won't go lower"))
    ['eight']
    >>> list(come_to(Question("starts_last_hour"), "six, no, seven, there's one more up top"))
    ['seven']
    >>> list(come_to(Question("line_amps.a", ("line_amps.b", "line_amps.c")), "thirty eight on each of them"))
    ['all three thirty eight']
    """
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    if not ids or not all(vocabulary()[id].kind in NUMBER_KINDS for id in ids) or any(id.startswith("dead_volts") for id in ids):
        return
    text = commas_apart(words)
    if alike(question):
        for way in (_ALL_FIRST, _SAME_FIRST, _ALL_LAST):
            if (match := way.fullmatch(text)) and _is_number(match["value"]):
                yield f"all three {match['value']}"
        for way, order in ((_TWO_AND_ONE, ("two", "two", "one")), (_ONE_AND_TWO, ("one", "two", "two"))):
            match = way.fullmatch(text)
            if match and not FIGURES & set((match["tail"] or "").split()):
                yield " , ".join(match[name] for name in order)
    pieces = [piece.strip() for piece in text.split(",") if piece.strip() and not is_sound(piece.strip())]
    if not pieces:
        return  # nothing but sounds
    if righted := (_of_several_righted(pieces) if question.also else _righted(pieces)):
        yield righted
    if not question.also and len(pieces) == 2 and _flickers(*pieces):
        yield pieces[-1]
    if not question.also:
        yield from _went_to(question, text)
        if len(rested := _moving_left_out(pieces)) < len(pieces):
            yield rested[-1]
        match = _READ_AFTER.fullmatch(text)
        if match and narrates(match["told"].replace(" ,", "")) and _is_number(match["value"]) and question.asking not in _EMPTIED:
            yield match["value"]


def alike(question: Question) -> bool:
    """Whether it asks for three of a kind: windings, lines, fuses."""
    ids = (question.asking, *question.also)
    return len(ids) == 3 and len({id.split(".")[0] for id in ids}) == 1


def _went_to(question: Question, text: str) -> Iterator[str]:
    """Where it went and stayed; what must stand at zero, only that it does not."""
    if question.asking == "probe_pipe_temperature":
        return
    if question.asking in _EMPTIED:
        match = _AT_NOW.fullmatch(text) or _CREPT.fullmatch(text)
        if match and _is_number(match["value"]) and not re.match(r"zero\b|oh\b|0", match["value"]):
            yield match["value"]
        return
    ways = (_COMES_TO, _UP_TO_NOW) if question.asking == "pump_down_low" else (_UP_TO_NOW,)
    for way in ways:
        if (match := way.fullmatch(text)) and _is_number(match["value"]):
            yield match["value"]


def _is_number(text: str) -> bool:
    return told_number(text) is not None


def said_again(question: Question, words: str) -> str:
    """The words without a number that is said twice in a row, where one number is asked for: "no sixteen, sixteen" is no 1616.

    >>> said_again(Question("suction_pressure"), "fourteen, no sixteen, sixteen")
    'fourteen , no sixteen'
    """
    entry = vocabulary().get(question.asking)
    if entry is None or entry.kind not in NUMBER_KINDS or "," not in words:
        return words
    kept: list[str] = []
    more = words.count(",") > len(question.also)  # numbers than are asked for: one of them only spells another
    for piece in (piece.strip() for piece in words.split(",")):
        if kept and more and _figure_by_figure(kept[-1], piece):
            continue
        again = not question.also and bool(kept) and (kept[-1] == piece or kept[-1].endswith(f" {piece}"))
        if not (again and piece and piece.split()[0] not in DIGITS and _is_number(piece)):
            kept.append(piece)
    return " , ".join(kept) if len(kept) < len(words.split(",")) else words


_LAST_FIGURES = re.compile(r"(?:(?:that's|it's|so|as in|i mean) )*(?P<figures>\w+(?: \w+)*?)(?: (?:at|on) the end)?")


def _figure_by_figure(before: str, piece: str) -> bool:
    """Whether a piece spells the last figures of the number before it: "two seventeen, one seven at the end"."""
    match, said = _LAST_FIGURES.fullmatch(piece), _A_NUMBER_SAID.search(before)
    figures = match["figures"].split() if match else []
    value = told_number(said[0]) if said else None
    if value is None or value != int(value) or len(figures) < 2 or not set(figures) <= set(_SPELLED):
        return False
    return str(int(value)).endswith("".join(_SPELLED[figure] for figure in figures))


_SPELLED = dict(zip("zero one two three four five six seven eight nine oh".split(), "01234567890", strict=True))


def _righted(pieces: list[str]) -> str:
    """The number that was settled on last, where all before it are numbers and what puts them right."""
    pieces = _moving_left_out(pieces)
    sorry = False
    while len(pieces) > 1 and (_ONE_MORE.fullmatch(pieces[-1]) or _ONLY_RIGHTS.fullmatch(pieces[-1])):
        sorry = sorry or bool(_SETTLES.search(pieces[-1]))
        pieces = pieces[:-1]
    if len(pieces) < 2:
        return ""
    last, before = pieces[-1], pieces[:-1]
    match = _BEGINS_RIGHT.fullmatch(last)
    led = match is not None and bool(_SETTLES.search(last))
    between = list(itertools.takewhile(_ONLY_RIGHTS.fullmatch, reversed(before)))
    alone = any(_SETTLES.search(piece) for piece in between)
    value = match["value"] if match else last
    if not (led or alone or sorry) or not _is_number(re.sub(rf"^{_NEAR}", "", value)):
        return ""
    told = [_A_NUMBER.fullmatch(piece) or _BEGINS_RIGHT.fullmatch(piece) or _ONLY_RIGHTS.fullmatch(piece) for piece in before]
    return value if all(told) and any(FIGURES & set(piece.split()) for piece in before) else ""


def _flickers(one: str, other: str) -> bool:
    """ "Two oh eight, uh, two oh nine": two values so near each other that the reading is but read once more."""
    read, again = (_size(match["value"]) if (match := _READ.fullmatch(piece)) else None for piece in (one, other))
    if read is None or again is None:
        return False
    finer = read == int(read) == int(again)  # "around twenty two, twenty two point four"
    return finer or abs(again - read) <= _NEAR_SHARE * max(abs(read), abs(again))


def _size(text: str) -> float | None:
    """The number in the unit without a prefix: "eighteen point one k" is eighteen thousand one hundred."""
    read, prefix = told_number(text), text.split()[-1]
    return None if read is None else read * {"k": 1e3, "kay": 1e3, "meg": 1e6}.get(prefix, 1.0)


_READ = re.compile(rf"(?:(?:i've|i|it's|got|get|reads?|reading|at|about|around|now|okay) )*(?P<value>{_VALUE})")
_NEAR_SHARE = 0.01
"""What a last digit that jumps makes of a reading; common practice."""


def _moving_left_out(pieces: list[str]) -> list[str]:
    """The pieces without what only tells that it moves, where the last says that it has come to rest."""
    return [piece for piece in pieces[:-1] if not _MOVING.fullmatch(piece)] + pieces[-1:] if _RESTS.search(pieces[-1]) else pieces


def _of_several_righted(pieces: list[str]) -> str:
    """Several numbers, one of them put right as soon as it was said: "forty one, forty two, no sorry forty"."""
    kept: list[str] = []
    righted = False
    for piece in pieces:
        plain = _THE_LAST.sub("", piece)
        match = _BEGINS_RIGHT.fullmatch(plain)
        if kept and match and _SETTLES.search(plain.removesuffix(match["value"])):
            kept[-1] = match["value"]
            righted = True
        else:
            kept.append(plain)
    return " , ".join(kept) if righted and all(_is_number(piece) for piece in kept) else ""
