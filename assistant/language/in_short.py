"""The words of a question for what people call by a shorter name: "temp is two twenty two", "chart is four oh seven a".

What is found is a plainer sentence, which is then understood as any other: nothing is taken here. The words are the project's own
reading of how people name what they have before their eyes.
"""

import re
from collections.abc import Iterator
from typing import NamedTuple

from assistant.language.another_machine import BESIDE
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.names import names
from assistant.language.typed_numbers import label_in_words
from assistant.language.vocabulary import vocabulary

_FIGURE = "|".join(sorted(FIGURES))
_OF_A_KIND = {
    "temperature": r"(?<!suction )(?<!discharge )(?<!liquid )(?<!return )(?<!oil )(?<!air )(?:temp|temps|temperature|pipe temp"
    r"|line temp|pipe|thermometer|thermocouple)",
    "pressure": r"(?<!suction )(?<!discharge )(?<!liquid )(?<!oil )(?<!head )(?<!net )(?<!crankcase )pressure",
}
"""What a reading is called by its kind, where only one of that kind is asked for."""
_LABELS = ("refrigerant_label", "controller_refrigerant")
_ROUND_A_GAS = re.compile(
    r"(?:(?:yeah|yes|okay|so|well|it|it's|the|this|chart|p t|table|controller|display|screen|page|setup|menu|label|tag"
    r"|sticker|plate"
    r"|is|set|on|to|for|at|says|say|shows|reads|running|using|got|has|i see|see|i've got|it's on|set up|refrigerant|gas|that's"
    r"|loaded|with|up|here|'s) )*(?P<gas>(?:r )?[a-z0-9 ]+?)(?: (?:in|on|under|by|from) (?:the|its) (?:\w+ ?){1,3})?"
)
_WHICH_OTHER = re.compile(
    r"\b(?:(?:on|at|for|of) )?(?:the )?(?:(?:number|machine|compressor|unit) (?:one|two|three|four|five|six)|next one|other one"
    rf"|one)(?:'s)? {BESIDE}(?!\w)|\b(?:(?:on|at) )?the next one over\b|\b(?:number|machine|compressor|unit) (?:one|two"
    rf"|three|four|five"
    r"|six)(?= (?:is|reads|shows|has|sits|runs|at)\b)"
)
_DEFROST = re.compile(
    r"\b(?:it |they |we |she )?(?:(?:just )?had (?:a|one|its|their|the last|one)|(?:the |its |their )?last|got a"
    r"|came (?:off|out)(?: a| of a| of)?|one"
    r"|finished(?: a| its)?|there was a) defrost(?: (?:was|finished|ended|came|ran|over|done))*"
    rf" (?=(?:within|inside|in|about|around|less|more|over|under|an|half|just|{_FIGURE})\b)"
)
_INSIDE = re.compile(r"\b(?:inside|in|within) (?:the|this|an|the last|the past|the past last) hour\b")
_TAG_SAYS = re.compile(
    r"(?:yeah |okay |no |so )*(?P<tag>(?:rack )?[a-z] (?:one|two|three|four|five|six|seven|eight|nine|ten))(?: (?:it"
    r" says|says|is what it says|on it|it reads|right here"
    r"|on the tag|that's it|(?:and )?(?:i've (?:got )?(?:the|my)(?: own)? lock (?:back )?on|(?:my |the )?(?:own"
    r" )?lock's (?:back )?on)(?: it)?))+"
)
_WRITTEN = re.compile(
    r"(?:(?:yeah|okay|well|so|is|let's see|uh|dirty|faded|hard to read|it|it's|it is|tag|the tag|that|that's|there's a"
    r" (?:tag|sticker|label)|sticker"
    r"|the sticker|label|the label|written|printed|marked|stamped|painted|labeled|labelled|says|reads|said|on it|but|it's got) )+"
    r"(?P<tag>(?:rack )?[a-z] (?:one|two|three|four|five|six|seven|eight|nine|ten))"
)
_CALLED_BUT = re.compile(
    r"(?P<called>one|two|three|four|five|six|seven|eight)(?: of them)?(?: are| is)? called(?: for)?(?: but| and)? (?:i (?:only"
    r" )?see |only |just )*(?:one|two|three|four|five"
    r"|six|seven|none)(?: of them)?(?: (?:are|is|they))? (?:turning|running|spinning|going|turn|run|spin)"
)
_MACHINE = re.compile(r"(?:it was |it's |i think it was |the )*(?:machine|compressor|unit)(?: number)? (?P<which>one"
    r"|two|three|four|five|six)")
_PROBE_BETWEEN = re.compile(
    r"\b(?:the |my )?(?:probe|thermometer|gun|infrared) (?:between|in|into|on|under|at) (?:the |a |two |some"
    r" )*(?:\w+ )?\w+ (?:says|reads|shows|is(?: at)?|gives) "
)
_JUST_THE_ONE = re.compile(r"\b(?:one )?(?:just|only) (?:the |this )?one(?:'s| is)? (?:off|down|out|tripped)\b|\bone"
    r" just the one\b")
_RAN_TILL = re.compile(
    r"\b(?:it |she |this one )?(?:was |had been )?(?:still )?(?:running|going|on)(?: fine)? (?:till|until|up to when"
    r"|right up to when|when) it"
    r" (?:dropped out|tripped|quit|cut out|went (?:off|out|down)|stopped|kicked (?:off|out)|died)\b"
)
_OFF_TRIPPED = re.compile(
    r"\b(?:it's |it is |she's |he's |this one's |this one is )?(?:off|down|out)(?: and)?(?: (?:it|he|she)(?:'s| is| has| has"
    r" been)?)? tripped\b|\b(?:it's |it )?tripped (?:and )?off\b|\boff on (?:a |the |its )?trip\b"
)
_NOT_RUNNING = re.compile(
    r"\b(?:this one|it|he|she)(?:'s| is) not running(?: and| but)? (?:it's|it is|it|he's|he is|she's|it has) (?:just )?tripped\b"
)
_ONLY_ONE_RUNS = re.compile(
    r"\b(?:and )?(?:just |only )?(?:number|machine|compressor) (?:one|two|three|four|five|six)(?:'s| is) "
    r"(?:the only one )?(?:still )?(?:running|up|going|on)\b(?=$| ,)"
)
_IN_TURN = re.compile(r",? ?(?:they )?(?:all )?(?:went (?:down|off|out) )?one after (?:the other|another)(?: one)?\b")
_NOT_LIVE = re.compile(
    r"(?:dead|dead check|dead one)\b(?!.*\b(?:but|except|first then|or)\b).*\b(?:don't|do not|not|never|rather not|no)\b"
    r"(?: \w+){0,3}? live\b.*|dead\b.*\bnot have(?: \w+){0,2} live\b.*"
)
_STARTS_AT = re.compile(rf"(?:so |okay |it |the string |we )*starts?(?: out| off)?(?: at| with)? (?P<value>(?:{_FIGURE})\b.*)")
_GOES_DEAD = re.compile(
    r"(?:and |it |then |that's where it |she |just )*(?:goes|went|drops|dropped|falls|fell|dies) to (?P<value>zero|nothing)"
    r"(?: (?:volts|here|there|past|after|behind|right|at|on|that|this|it|one|contact|point))*"
)
_SOME = r"(?:one|two|three|four|a couple|a few|some|half|most|both|all)(?: of)?(?: them| 'em| the fans| the cases| those)?"
_SOME_BACKWARDS = re.compile(
    rf"(?:{_SOME}|they|fans?)(?:'s|'re| is| are)?(?: (?:going|turning|running|spinning))* (?:backwards?|the wrong way)"
)
_SOME_ICED = re.compile(
    rf"(?:yeah |so |and |well )*{_SOME}(?:'s|'re| is| are)(?: all| pretty| real| really)* (?P<how>iced|frozen|frosted"
    rf"|snowed)(?: (?:up|over|solid|in|pretty"
    r"|bad|badly|good|real))*"
)
_SOME_OFF = re.compile(
    rf"(?:yeah |so |and |well )*(?:(?:somebody|someone|they|the store|he|she)(?:'s| has| had)? )?(?:(?:switched|turned|shut)"
    rf" (?:{_SOME}) off|(?:half|most|some|all|a lot)(?: of)?(?: them| 'em| the cases| those)(?:'s|'re| is| are)(?: switched"
    r"| turned| shut)? off(?: ?(?:and )?(?:somebody|someone|they|the store)(?:'s| has| had)? (?:switched|turned|shut)"
    r" (?:them|it) off)?)"
)
_LEFT_IN = re.compile(
    r"(?:(?:yeah|yes|yep|well|so|just|only|oh|okay) )*(?:(?:it's got|there's|there is|it's|that's|we've got|i've got|i left"
    r"|we left|left|got|i used"
    r"|i put in|put in|with|still) )*(?:just |still )*(?:(?:a|an|one|the|this|that|my) (?:[a-z]+ )?)?"
    r"(?P<what>borrowed|substitute|temporary|makeshift|loaner|generic|stand in)"
    r"(?: (?!no\b|not|order|on order|due|took|taken|out\b|removed|gone|came|back\b|was\b|ordered|coming|needed|none)[a-z]+)*"
)
_WHAT_IT_IS = {"makeshift": "temporary", "loaner": "borrowed", "generic": "substitute", "stand in": "temporary"}
_FOR_A_LEAK = re.compile(
    r"(?:(?:yeah|well|so|it|that|this|it's|was|that's|they|we|had|to make up|added it|topped it up|add) )*"
    r"(?:for|because of|due to|after|from) (?:a|the|that|some|another) (?:[a-z]+ )?leak(?: (?:at|on|in|by|near|behind"
    r"|under|of) .+)?"
)
_RUN_TOGETHER = re.compile(
    r"\b(one|two|three|four|five|six) (?:of (?:them|us|the machines) )?(?:still )?(?:run|runs|running|going)(?: (?:all "
    r"|right )*(?:together"
    r"|with it|along|beside it|on the rack|at once|right now))+"
)
_NOT_GOT = (
    r"(?: and| but)?(?: i| we)?(?: (?:don't|do not|didn't|haven't|can't|couldn't)) (?:have|got|get|read|see"
    r"|reach)(?: to)? (?:the |a |its )?"
    r"(?P<what>[a-z ]+?)(?: (?:just|yet|from here|right now|at the moment|reading|temp|number))*"
)
"""One of several that is still to come, as a clause of its own."""


def without_missing(question: Question, words: str) -> str:
    """The words without a last clause that only says that another of the readings is still to come.

    >>> asked = Question("rack_suction_pressure", ("crankcase_temperature",))
    >>> without_missing(asked, "suction's fifteen , I don't have the crankcase just yet")
    "suction's fifteen"
    """
    head, comma, tail = words.rpartition(",")
    match = re.fullmatch(_NOT_GOT, f" {tail.strip().lower()}")
    if not comma or not question.also or match is None:
        return words
    ids = [id for id in (question.asking, *question.also) if match["what"].strip() in names().get(id, ())]
    return head.strip() if len(ids) == 1 and re.search(rf"\b(?:{_FIGURE})\b|\d", head) else words


class _Shorter(NamedTuple):
    """One way of people, and the plainer sentence it stands for."""

    asked: str
    """The reading that is asked for; a family of them up to its point: "chain_point."."""
    said: re.Pattern[str]
    plainer: str
    """What it is in plain words, `\\g<name>` for what was named in it; put in the place of what was found, where it is a part."""
    whole: bool = True
    """Whether the answer is nothing else."""
    also: bool = False
    """Whether it may be asked for together with another reading."""

    def plain(self, question: Question, text: str) -> str:
        """The plainer sentence; the words themselves where it is not for this question or not said so."""
        asked = (question.asking, *question.also) if self.also else (question.asking,)
        if not any(id.startswith(self.asked) if self.asked.endswith(".") else id == self.asked for id in asked):
            return text
        if self.whole:
            match = self.said.fullmatch(text)
            return match.expand(self.plainer) if match else text
        return self.said.sub(self.plainer, text)


_SHORTER = (
    _Shorter("addition_reason", _FOR_A_LEAK, "leak"),
    _Shorter("running_count", _ONLY_ONE_RUNS, "one running", whole=False, also=True),
    _Shorter("tripped_count", _IN_TURN, "", whole=False, also=True),
    _Shorter("running_count", _RUN_TOGETHER, r"\1 running", whole=False, also=True),
    _Shorter("chain_point.supply", _STARTS_AT, r"\g<value>"),
    _Shorter("chain_point.", _GOES_DEAD, r"\g<value>"),
    _Shorter("condenser_fans_called", _CALLED_BUT, r"\g<called>"),
    _Shorter("first_to_trip", _MACHINE, r"\g<which>"),
    _Shorter("product_temperature", _PROBE_BETWEEN, "it's ", whole=False),
    _Shorter("panel_tag", _TAG_SAYS, r"\g<tag>"),
    _Shorter("panel_tag", _WRITTEN, r"\g<tag>"),
    _Shorter("tripped_count", _JUST_THE_ONE, "one", whole=False, also=True),
    _Shorter("running_now", _RAN_TILL, "it tripped", whole=False, also=True),
    _Shorter("running_now", _OFF_TRIPPED, "it's off", whole=False, also=True),
    _Shorter("running_now", _NOT_RUNNING, "just tripped", whole=False, also=True),
    _Shorter("live_or_dead", _NOT_LIVE, "dead"),
    _Shorter("fan_rotation", _SOME_BACKWARDS, "backwards"),
    _Shorter("case_load", _SOME_OFF, "off"),
    _Shorter("case_load", _SOME_ICED, r"\g<how>"),
    _Shorter("others_discharge_temperature", _WHICH_OTHER, "it", whole=False),
    _Shorter("defrost_state", _DEFROST, "defrost ", whole=False, also=True),
    _Shorter("defrost_state", _INSIDE, "within the hour", whole=False, also=True),
)


def in_short(question: Question, text: str) -> Iterator[str]:
    """Plainer sentences for what is named by its kind, in its frame or by where it stands.

    Args:
        question: what was asked.
        text: normalised words.

    >>> list(in_short(Question("others_discharge_temperature"), "number three next to it is at two oh two"))
    ['it is at two oh two']
    """
    if question.asking in _LABELS:
        match = _ROUND_A_GAS.fullmatch(label_in_words(question, text))
        if match and match["gas"] in question.local.get(question.asking, {}):
            yield match["gas"]
    if question.asking == "part_left_in_use" and (match := _LEFT_IN.fullmatch(text)):
        yield _WHAT_IT_IS.get(match["what"], match["what"])
    if question.asking.endswith(".like") and text.startswith("new one "):
        yield f"the {text}"
    plain = text
    for shorter in _SHORTER:
        told = shorter.plain(question, plain)
        if told != plain:
            plain = told
            yield plain


_OFF_COUNTED = re.compile(
    r"(?:(?:uh|um|well|yeah|so|it's|there's|i've got|we've got|got|oh) )*(?:(?:just|only) )?(?:the |this |that |my )?"
    r"(?P<count>one|two|three|four|five|six|mine)(?: one)?(?: of (?:them|the \w+))?(?:(?:'s|'re| is| are)? (?:down|off"
    r"|out|tripped|dead))?"
)
_WHICH_IT_IS = re.compile(r"(?:it's )?(?:number|machine|compressor|unit) (?:one|two|three|four|five|six)")
_THE_REST_RUN = re.compile(
    r"(?:(?:and|but|all|with|while) )*(?:the )?(?:others?|rest|other (?P<count>one|two|three|four|five)|everything else"
    r"|every other one|remaining"
    r" (?P<left>one|two|three|four|five))(?: of (?:them|the rack))?(?:'s|'re| is| are)?(?: all| still| just)*(?:"
    r" (?:running|up|fine|on|good|okay|going|healthy"
    r"|up and running|running fine))"
)


def counted_off(question: Question, words: str) -> str:
    """How many are off, told beside the rest that run, in plainer words; empty where it is no such sentence.

    >>> asked = Question("tripped_count")
    >>> counted_off(asked, "just the one , the others are running"), counted_off(asked, "mine , other three are up")
    ('one tripped', 'just the one , the other three are running')
    """
    pieces = [" ".join(piece.lower().split()) for piece in words.split(",")]
    if "tripped_count" not in (question.asking, *question.also) or len(pieces) != 2:
        return ""
    off, rest = _OFF_COUNTED.fullmatch(pieces[0]), _THE_REST_RUN.fullmatch(pieces[1])
    if off and off["count"] in ("one", "mine") and _WHICH_IT_IS.fullmatch(pieces[1]):
        return "one tripped"
    if off is None or rest is None:
        return ""
    count = "one" if off["count"] == "mine" else off["count"]
    running = rest["count"] or rest["left"]
    if not running:
        return f"{count} tripped"
    return f"{'just the one' if count == 'one' else f'{count} off'} , the other {running} are running"


def by_its_kind(question: Question, text: str) -> str:
    """The words with the name of a reading where it is called by its kind, and only one of that kind is asked for.

    >>> asked = Question("watch.suction_pressure", ("watch.discharge_temperature",))
    >>> by_its_kind(asked, "temp is two twenty two , suction's ten")
    "discharge temperature is two twenty two , suction's ten"
    """
    if not question.also:
        return text
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    for kind, called in _OF_A_KIND.items():
        of_kind = [id for id in ids if vocabulary()[id].kind == kind]
        if len(of_kind) != 1:
            continue
        named = vocabulary()[of_kind[0]].say.lower()
        text = re.sub(rf"\b(?:the )?{called}(?='s\b| is\b| at\b| reads\b| (?:{_FIGURE})\b|$)", named, text)
        text = re.sub(rf"\b(?:on|at|for) (?:the )?{called}\b", f"on the {named}", text)
    return text
