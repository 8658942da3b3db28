"""What acknowledges a caution, in whatever words, and what is told in the same breath."""

import re

from assistant.call.asking import left_to_ask, question_for
from assistant.call.conversation import Conversation
from assistant.call.facts import ReadingTaken
from assistant.call.in_its_sense import doubted_caution, heeds_by_sense
from assistant.call.not_unsafe import NEVER_OVER
from assistant.language.acknowledged import acknowledged_outright
from assistant.language.fit import room_is_so
from assistant.language.grammar import normalise
from assistant.language.hedges import at_once_plainly
from assistant.language.heeded import (
    LEAST_OXYGEN_PERCENT,
    MOST_OXYGEN_PERCENT,
    acknowledges,
    clauses_of,
    heeded,
    oxygen_percent,
    room_lacks,
)
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of, vocabulary


def at_a_caution(call: Conversation, meaning: Meaning, words: str, typed: bool) -> Meaning | None:
    """That the caution was heeded, said in people's own words or by telling that it is as it asks; that there is no air to
    breathe, or that more was typed beside an assent than is known to keep to it; None for anything else."""
    words = at_once_plainly(words)
    names, text = call.cautioned, normalise(words)
    percents = map(oxygen_percent, (text, *clauses_of(words))) if "room" in names else ()
    if any(percent is not None and not LEAST_OXYGEN_PERCENT <= percent <= MOST_OXYGEN_PERCENT for percent in percents):
        return Remark("room not safe")
    lacks = room_lacks(text) if "room" in names and not isinstance(meaning, Remark) and not is_question(text) else ""
    if lacks:
        return Remark(lacks)
    quiet = isinstance(meaning, Answer) and [(p.id, p.value, p.doubt) for p in meaning.parts] == [("detector_state", "quiet", "")]
    goes_on = isinstance(meaning, Command) and meaning.name == "continue"
    hums = isinstance(meaning, Remark) and meaning.about == "won't start" and "room" in names  # "the fan's humming"
    dead = isinstance(meaning, Remark) and meaning.about == "window" and "coil" in names and not call.state.feed.window
    lives = isinstance(meaning, Remark) and meaning.about == "live" and "proving" in names  # "treating it like it's live"
    unknown = (goes_on or hums or dead or lives or isinstance(meaning, NotUnderstood | AskFor)) and not trouble(text)
    if unknown and (rest := _beside_understood(call, words)):
        step = call.course.next_step(call.state)
        own = step is not None and step.proof and step.asking != "panel_tag"  # each answer of a proof comes to its own question
        call.behind = "" if own else rest
        return Command("continue", "said so")
    if quiet or (unknown and (heeded(words, names) or (typed and acknowledged_outright(words)))):
        return NotUnderstood() if typed and doubted_caution(words, names) else Command("continue", "said so")
    may_be = goes_on or isinstance(meaning, NotUnderstood | AskFor | Remark)
    if typed and may_be and heeds_by_sense(meaning, words, names):
        return Command("continue", "said so")
    more = typed and goes_on and len(clauses_of(words)) > 1 and not acknowledges(text)
    return NotUnderstood() if more else None


def told_before(call: Conversation, words: str) -> bool:
    """Put on record what was told with a caution and is asked behind it beside something that is acknowledged: "detector's
    quiet, fan's going". Nothing else of such words counts."""
    step = call.course.next_step(call.state)
    if step is None or not step.also or kind_of(step.asking) != "acknowledge":
        return False
    question = question_for(call, (step.asking, *step.also), step)
    told = [clause for clause in clauses_of(words) if not acknowledges(clause)]
    said = [room_is_so(clause) or understand_in_pieces(question, clause) for clause in told]
    parts = [part for answer in said if isinstance(answer, Answer) for part in answer.parts if part.id in step.also]
    if not parts or any(part.doubt or part.value != step.all_good.get(part.id) for part in parts):
        return False
    for part in {part.id: part for part in parts}.values():  # "lit, quiet" says it twice
        call.record(ReadingTaken(part.id, part.value, None, step.id, words, "volunteered"))
    return True


def _beside_understood(call: Conversation, words: str) -> str:
    """What is told in the same breath as "understood" and answers a reading or a look that is asked behind the caution; empty for
    nothing."""
    clauses = clauses_of(words)
    rest = [clause for clause in clauses if not acknowledges(clause)]
    step = call.course.next_step(call.state)
    if step is not None and step.asking == "panel_tag":  # "tag says A three, my lock's on": what its caution says to do
        tag = question_for(call, ("panel_tag",), step)
        rest = [c for c in rest if isinstance(understand_in_pieces(tag, c), Answer) or not heeded(c, call.cautioned)]
    if not 0 < len(rest) < len(clauses) or is_question(" ".join(rest)):
        return ""
    if step is None or step.act in NEVER_OVER or step.resets:
        return ""
    entry = vocabulary().get(step.asking)
    if (entry is None and not step.tells) or (entry is not None and entry.kind == "acknowledge"):
        return ""
    question = question_for(call, left_to_ask(call, step), step)
    while rest:
        said = understand_in_pieces(question, ", ".join(rest))
        if isinstance(said, Answer) and all(part.id in (question.asking, *question.also) for part in said.parts):
            return ", ".join(rest)
        if not heeded(rest[0], call.cautioned) and not _LEADS_ON.fullmatch(rest[0]):
            return ""
        rest = rest[1:]
    return ""


_LEADS_ON = re.compile(r"(?:reading|checking|looking at|at) (?:it|the tag|the pipe|the label|that)(?: now)?")
