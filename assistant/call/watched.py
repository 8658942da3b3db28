"""What in a sentence says that something is not safe, beside an answer or instead of one."""

import re
from dataclasses import replace

from assistant.branches.search import to_mend
from assistant.call import modes, prompts, unready
from assistant.call.asking import question_for
from assistant.call.conversation import Conversation
from assistant.call.heard import Heard
from assistant.call.known import case_of
from assistant.call.not_unsafe import DENIES, asks_what_is_not_safe
from assistant.call.while_running import asks_to_start
from assistant.language.agreed import harmless, only_badly_put
from assistant.language.at_the_panel import (
    comes_alive,
    leaves,
    rather_dead,
    reads_volts,
    runs,
    runs_though_it_must_not,
    says_live,
    wrong_panel,
)
from assistant.language.by_example import by_example, not_done, unless_unlike
from assistant.language.by_sense import deed_told, doubted, over_a_remark, surer, unless_strange
from assistant.language.grammar import normalise, understand
from assistant.language.guess import guessed
from assistant.language.half_done import all_but_somebody, half_done
from assistant.language.heard_in_answers import HEARD_IN_ANSWERS, may_be_an_answer
from assistant.language.heeded import clauses_of
from assistant.language.introduced import introduced
from assistant.language.left_so import left_so
from assistant.language.meaning import (
    DONE_AND_SAFE,
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Remark,
    all_asked_back,
    asked_word,
)
from assistant.language.mended import mended
from assistant.language.number_left import number_left, open_line
from assistant.language.offered import phrases
from assistant.language.passed_over import strict
from assistant.language.pieces import understand_in_pieces
from assistant.language.placed import PUTS_RIGHT, as_placed
from assistant.language.questions import is_question
from assistant.language.remarks import anothers_beside
from assistant.language.rest_by_clause import of_a_list, with_the_rest
from assistant.language.spoilt import OF_ONE_ANSWER, never_shut, spoilt
from assistant.language.standing_out import done_or_safe
from assistant.language.unheard_of import unless_unheard_of
from assistant.language.unready import said_against, trouble
from assistant.language.unready import unready as unready_words
from assistant.language.vocabulary import OWN_LOCK_HUNG, kind_of, vocabulary
from assistant.language.whole_words import put_plainly
from assistant.language.worst_of import not_the_worst

_SENTENCE, _WHOLE = 3, 7
"""Words from which something is a sentence: two that are not understood are most likely an answer that was not; and from which a
word that spoils it for the tables is not half of it."""
_WITH_HANDS = ("panel", "restore", "condenser")
_IN_THE_CIRCUIT = frozenset({"hose_on", "liquid_section_closed", "section_shut"})
"""What is hooked up while somebody works on gas or liquid."""


def watched_for_trouble(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning, or that something may not be safe: in what is said beside an answer, in what sounds like it, and where hands
    are in or somebody's safety hangs on the answer in whatever is not understood."""
    if kind_of(question.asking) == "free":
        return meaning  # whatever he says is the answer
    text = normalise(heard.words)
    if heard.meaning is None:
        meaning = unless_unlike(question, meaning, heard.words)
    of_a_deed = kind_of(question.of) == "acknowledge" or question.of.startswith("dead_volts")
    if meaning == Confirmed(True) and heard.meaning is None and of_a_deed and _YES_BUT_ELSEWHERE.search(text):
        return AskFor("Yes or no?")
    if isinstance(meaning, Answer) and any(p.id.startswith("dead_volts") and _live(call, p) for p in meaning.parts):
        return meaning  # "control's still hot, one eighteen": what stands beside it says the same
    if heard.meaning is None and question.asking == "jumper_removed" and _NONE_FITTED.search(text):
        return Answer((Part("jumper_removed", True, doubt="No jumper and no wire left in it?"),))
    if heard.meaning is None and (opened := _opened_for_good(call, question, heard.words)):
        return opened
    volts = heard.meaning is None and question.asking.startswith("dead_volts")
    no_figure = isinstance(meaning, NotUnderstood) or (isinstance(meaning, Answer) and not meaning.parts[0].value)
    if volts and no_figure and _NEXT_TO_NOTHING.search(text) and not trouble(text):
        return AskFor("Read me the number, the worst.")
    beside = spoilt(question, text)
    if beside and (asked := _all_the_same(call, question, heard, beside)):
        return asked
    counts = isinstance(meaning, Answer) or (isinstance(meaning, Command) and meaning.name == "continue")
    left = _left_so(call, question, meaning, heard)
    if counts and question.asking != "confirm" and beside and not (left and beside == "trouble"):
        return Remark(beside)
    if counts and heard.meaning is None and strict(question) and not question.look and half_done(text):
        return all_asked_back(meaning) if isinstance(meaning, Answer) else AskFor(DONE_AND_SAFE, pending=question.go_ahead[0])
    if counts and question.asking == "others_clear" and all_but_somebody(text):
        return Remark("others_clear")
    if about := left or _somebody_else(call, meaning, heard, text):
        return Remark(about)
    against = said_against(question, text)
    step = call.state.steps.get(call.state.step)
    starts = asks_to_start(call) or (step is not None and step.resets)
    if counts and heard.meaning is None and starts and against in _NO_START:
        return Remark(against)  # behind its one reset this is the second trip, whatever protection it names besides (S22)
    himself = counts and heard.meaning is None and question.asking not in ("confirm", "fit_to_start")
    if himself and against in _OF_HIMSELF:
        return Remark(against)
    if counts and "injection_feed" in (question.asking, *question.also) and against == "held open":
        return Remark(against)
    if volts and isinstance(meaning, Answer) and not_the_worst(text, meaning):
        return AskFor("Each of them. The worst of all?")
    hung = question.asking in OWN_LOCK_HUNG and heard.meaning is None
    if hung and isinstance(meaning, Answer) and (lock := _of_the_lock(meaning, text)):
        return lock
    if question.asking in _LOCKS and not isinstance(meaning, Answer) and anothers_beside(text):
        return Remark("another's lock")
    if about := _at_the_panel(call, meaning, text):
        return Remark(about)
    if question.asking == "panel_tag" and heard.meaning is None and not counts and (whole := _the_whole_tag(text)):
        return whole
    if heard.meaning is None and isinstance(meaning, NotUnderstood) and (tag := _the_tag_in_it(question, heard.words)):
        return tag
    if counts and heard.meaning is None and question.asking.startswith("watch.") and _FAILS_AGAIN.search(text):
        return Remark("trouble")  # not lost behind the numbers of its round
    if counts and _opened_again(call, question, meaning):
        return Remark("pressure")
    about = unready_words(text) if heard.meaning is None else ""
    if (isinstance(meaning, AskFor) and about in _NO_NUMBER) or (isinstance(meaning, NotUnderstood) and about == "other gas"):
        return Remark(about)
    guarded = _guarded(call, question)
    pressing = _PRESSING | _WHILE_IT_RUNS if call.state.running else _PRESSING
    if counts and heard.meaning is None and (about := _beside_an_answer(question, heard.words, guarded, pressing)):
        return Remark(about)
    a_sentence = len(heard.words.split()) >= _SENTENCE and not is_question(text)
    if isinstance(meaning, NotUnderstood) and beside in ("bypassed", "vent") and guarded:
        return Remark(beside)
    if isinstance(meaning, NotUnderstood | AskFor) and (trouble(text) or (beside and question.asking in OF_ONE_ANSWER)):
        return Remark("trouble")
    if isinstance(meaning, Command) and meaning.name == "correct" and against in ("wrong one", "wrong machine"):
        return Remark(against)
    if isinstance(meaning, Command) and meaning.name == "back" and unready.speaks_against(text):
        return Remark(unready.speaks_against(text))
    if isinstance(meaning, Remark) and may_be_an_answer(question, meaning) and call.mode.name == modes.ASKING:
        if rather := _rather_in_its_sense(call, question, meaning.about, heard):
            return rather
    if isinstance(meaning, Remark) and a_sentence and guarded and unready.beside_the_point(call, meaning.about, text):
        return Remark("trouble")  # said where it means nothing that is known, and not to be lost
    if isinstance(meaning, Remark) and meaning.about in _RATHER_AN_ANSWER and call.mode.name == modes.ASKING:
        meaning = _rather_answered(call, question, meaning.about, heard) or meaning
    if heard.meaning is not None or (call.state.feed.window and isinstance(meaning, NotUnderstood)):
        return meaning
    if not isinstance(meaning, NotUnderstood):
        return _in_its_sense(call, question, heard, meaning)
    if "/" in call.asked_at and _answers_what_comes(call, heard.words):
        return AskFor(prompts.CAUTION_FIRST)
    meaning = _in_other_words(call, question, heard, against)
    waits = asks_what_is_not_safe(call)  # what is no yes and no no to that is asked for as one, and doubts nothing anew
    idle = call.mode.name == modes.WAITING  # nothing was asked: whatever has no word of trouble in it is talk
    unsettled = isinstance(meaning, NotUnderstood) and a_sentence and not waits and guarded and not idle
    step_id = question.step or call.state.step
    calm = not beside and only_badly_put(step_id, heard.words, of_many=bool(question.all_good), at_stake=strict(question))
    return Remark("trouble") if unsettled and not calm else meaning


_NEXT_TO_NOTHING = re.compile(
    r"\b(?:less than|under|below|not even|barely|hardly|about) (?:a|one|half a|two|three|point \w+)(?: of a)? volts?\b"
    r"|\bnext to nothing\b"
    r"|\b(?:practically|basically|almost|pretty much|as good as|nearly|about|around|close to|near) (?:nothing|zero|dead)\b"
)
"""Of volts that must be none: it is dead by a number alone (S3)."""


def _the_tag_in_it(question: Question, words: str) -> Answer | None:
    """The one tag of this site that a harmless sentence names, asked back: "it says A three on it, bit greasy"; behind what puts
    one right that alone."""
    text = normalise(words.replace(",", " "))
    if question.asking != "panel_tag" or is_question(text) or not harmless(question.step, words):
        return None
    rest = text[right.end() :] if (right := PUTS_RIGHT.search(text)) else ""
    tags = question.local.get("panel_tag", {})
    in_rest, in_all = ({t for name, t in tags.items() if re.search(rf"\b{re.escape(name)}\b", part)} for part in (rest, text))
    named, read = (in_rest, rest) if in_rest else (in_all, text)
    return Answer((Part("panel_tag", named.pop(), doubt="."),)) if len(named) == 1 and not _NOT_READ.search(read) else None


_NOT_READ = re.compile(
    r"\b(?:not|no|never|or|should|supposed|think|guess|maybe|other|next|neighbou?r\w*|was|were|opened|hung)\b|n't\b"
)
"""Beside a tag's name: of another one, or of none that was read."""


def _the_whole_tag(text: str) -> AskFor | None:
    """What is still to be read of the disconnect's tag."""
    if _NO_TAG.fullmatch(text):
        return AskFor("I mean the machine's name on it. No name there: trace it first.")
    return AskFor("All of it: rack and compressor.") if _HALF_A_TAG.fullmatch(text) else None


_NO_TAG = re.compile(
    r"(?:(?:yeah|well|no|nope|uh|okay|so) )*(?:it's safe )?"
    r"(?:(?:i (?:see|got|have) |there's |it(?:'s| has)(?: got)? )?(?:no|not a)|there (?:isn't|ain't) (?:a|any))"
    r" (?:danger |lockout |warning |name |machine )?(?:tag|label|name|sticker|marking)s?(?: (?:hanging|at all))*"
    r"(?: (?:on|to) (?:it|here|there|that|this|the disconnect|this one|this disconnect))?"
    r"(?: (?:and )?nobody(?: else)?(?:'s| is) on it)?"
    r"|(?:the |its )?(?:tag|label|name|sticker|marking)(?:'s| is| has)?"
    r"(?: fell off| came off| missing| gone| torn off| unreadable)"
)
"""To what asks for the machine's name it may be a danger tag that hangs on no disconnect; and a name may be gone."""
_HALF_A_TAG = re.compile(
    r"(?:(?:yeah|yes|well|okay|so|it|the tag|tag|label|that) )*(?:says |reads |it's )?"
    r"(?:compressor|comp|machine|unit|number)(?: number)? \w+(?: on it)?|(?:it says |it's )?rack \w+(?: on it)?"
)
"""Each rack has a machine of that number."""
_FAILS_AGAIN = re.compile(
    r"\b(?:quit|stopped) feeding\b|\binjection(?: line)? (?:quit|stopped)\b|\bstill (?:bone )?dry\b"
    r"|\b(?:isn't|not|no longer) feeding\b|\bvalve(?:'s| is) stuck\b|\biced over\b"
)
"""What was repaired, and does not hold as it runs."""
_RATHER_AN_ANSWER = frozenset(
    {"another's lock", "frosts back", "pressure", "reset again", "service_valves_open", "stopped", "window"}
)
"""What may as well be the answer that is asked for, and waits while that is asked back: "he took his lock away now"."""


_SECOND_TRIP = frozenset({"reset again", "tripped", "won't start"})


def _all_the_same(call: Conversation, question: Question, heard: Heard, beside: str) -> Meaning | None:
    """The answer of a whole sentence that a word spoils for the tables, asked back where the sense is sure of it and that nothing
    is dangerous: "a two, somebody's done it in nail varnish"; None for none."""
    s = call.state
    calm = call.mode.name == modes.ASKING and not (s.feed.window or s.probes_in or s.running)
    calm = calm and "repaired" not in question.go_ahead and beside != "vent"  # what is taped up is no repair
    calm = calm and heard.meaning is None and len(heard.words.split()) >= _WHOLE
    if not calm or not only_badly_put(question.step, heard.words, of_many=bool(question.all_good), at_stake=False):
        return None
    said = over_a_remark(question, heard.words)
    return None if isinstance(said, NotUnderstood) else all_asked_back(said) if isinstance(said, Answer) else said


def _rather_answered(call: Conversation, question: Question, about: str, heard: Heard) -> Meaning | None:
    """The answer that the words of such a remark are like, or the one number of a reading, asked back; None for none."""
    if heard.meaning is not None or call.state.feed.window or question.asking in _LOCKS:
        return None  # of a lock, whose it is comes first
    if about == "service_valves_open" and not (question.asking == "command" and "open" in question.about):
        return None
    if about in ("stopped", "window") and not _off_answers(question):
        return None
    if about == "pressure" and "repaired" in question.go_ahead:
        return None  # "the valve is open again" there fills what is worked on
    alike = by_example(question, heard.words)
    counted = isinstance(alike, NotUnderstood) and about in ("pressure", "reset again")
    alike = number_left(question, heard.words) if counted else alike
    if isinstance(alike, Command):
        return asked_word(alike.about) if question.look else None
    if isinstance(alike, Answer):
        return all_asked_back(alike)
    return alike if isinstance(alike, AskFor) else None


def _rather_in_its_sense(call: Conversation, question: Question, about: str, heard: Heard) -> Meaning | None:
    """The answer that the sense is sure of where a remark was heard in a sentence, asked back; None for none, and where it may be
    the second trip (S22)."""
    s = call.state
    step = s.steps.get(s.step)
    starts = asks_to_start(call) or (step is not None and step.resets)
    if heard.meaning is not None or s.feed.window or s.probes_in or s.running or (starts and about in _SECOND_TRIP):
        return None
    said = over_a_remark(question, heard.words, about in HEARD_IN_ANSWERS)
    said = all_asked_back(said) if isinstance(said, Answer) and about == "bypassed" else said
    told = with_the_rest(question, heard.words, said)
    if isinstance(told, Answer) and len(told.parts) > 1:
        return told
    return None if isinstance(said, NotUnderstood) else said


def _off_answers(question: Question) -> bool:
    """Whether that something is off answers what is asked: "it's off, its breaker was tripped", of a heater."""
    entry = vocabulary().get(question.asking)
    words = {word for said in (*question.go_ahead, *(entry.choices if entry else ())) for word in said.split()}
    return "off" in words or question.asking == "control_power_off"


def _in_its_sense(call: Conversation, question: Question, heard: Heard, meaning: Meaning) -> Meaning:
    """What was understood, asked back where it names what no answer has or where the sense of the sentence speaks against it."""
    plain = put_plainly(question, heard.words)
    if call.mode.name != modes.ASKING:
        return unless_unheard_of(question, meaning, plain)  # a yes names nothing
    if isinstance(meaning, Answer) and any(isinstance(part.value, float) for part in meaning.parts):
        meaning = open_line(question, heard.words) or meaning  # "one leg off, and it says open line"
    meaning = as_placed(question, heard.words, meaning)
    meaning = unless_strange(question, heard.words, surer(question, heard.words, meaning), plain)
    if call.state.feed.window:
        return meaning  # there seconds count
    meaning = deed_told(question, heard.words, doubted(question, heard.words, meaning))
    return with_the_rest(question, heard.words, meaning)


def _in_other_words(call: Conversation, question: Question, heard: Heard, against: str) -> Meaning:
    """What it may be by its likeness to what others said there, or by the one word of an answer in it."""
    asked = call.mode.name == modes.ASKING and not against and not asks_what_is_not_safe(call)
    patched = "repaired" in question.go_ahead and spoilt(question, normalise(heard.words))  # a wire that is taped up
    alike = by_example(question, heard.words) if asked and not patched else NotUnderstood()
    if asked and isinstance(alike, NotUnderstood):
        alike = _asked_for_by_a_clause(question, heard.words)
    if isinstance(alike, NotUnderstood):
        one = guessed(question, heard.words)
        alike = number_left(question, heard.words) if isinstance(one, NotUnderstood) and asked else one
    if asked and not patched:
        alike = surer(question, heard.words, as_placed(question, heard.words, alike))
        alike = alike if call.state.feed.window else doubted(question, heard.words, alike)
        alike = of_a_list(question, heard.words, with_the_rest(question, heard.words, alike))
    return alike if isinstance(alike, AskFor | NotUnderstood) else watched_for_trouble(call, question, alike, heard)


_NONE_FITTED = re.compile(
    r"\b(?:there's|there is|there was|there ain't|i see|i find|i have) no (?:jumper|bypass|jump|wire)\b"
    r"|\b(?:never|didn't) (?:put|fit|fitted|had|have|install\w*) (?:one|any|a (?:jumper|bypass|wire)|it)\b"
    r"|\b(?:there (?:never was|was never)|never was|never had) (?:one|any|a jumper)\b"
    r"|\bno (?:jumper|bypass)\w* (?:anywhere|in (?:it|here|there)|on (?:it|here|this one|the machine)|at all)\b"
)
"""That there is nothing to take out."""


_YES_BUT_ELSEWHERE = re.compile(
    r"\b(?:over|down|up|out) (?:there|yonder)\b|\b(?:it|that|they) (?:was|were)\b|\b(?:other|another|neighbou?r\w*) \w+"
    r"|\b(?:yesterday|earlier|last week|this morning)\b"
    r"|\bin the (?:truck|van|car|store|office|shop)\b"
)
"""Beside a yes: of something else, or of another day."""
_OPENS = re.compile(
    r"(?:(?:i|i've|we|we've|just|and|so|then|okay|yeah|yes|well|now|went and) )*"
    r"(?:(?:opened|backed|cracked|turned|spun|wound|screwed)(?: it| her| the (?:injection |hand )*valve)?"
    r"(?: right| all the way| back| fully| wide)* (?:open|up|out|again|back|now)|opened (?:it|her|the (?:injection |hand )*valve)"
    r"|(?:the )?(?:(?:injection |hand )*valve|it)(?:'s| is)(?: all the way| wide| fully| back| now)* open)"
    r"(?: (?:now|again|all the way|up|fully|wide|to the stop|like it (?:belongs|should)|as it should be|myself))*"
)


def _opened_for_good(call: Conversation, question: Question, words: str) -> Meaning | None:
    """The repair where the valve that was found closed, and nothing else, is said to be open now; asked back beside more."""
    repairs = question.look and "repaired" in question.go_ahead and call.mode.name == modes.ASKING
    if not repairs or to_mend(case_of(call.state)) != ("injection_hand_valve_closed",):
        return None
    text = normalise(words.replace(",", " "))
    clauses = [normalise(clause) for clause in clauses_of(words.lower())]
    against = {said_against(question, clause) for clause in (text, *clauses)} - {"", "valve open"}
    if not any(_OPENS.fullmatch(clause) for clause in clauses) or against or "leak" in text:
        return None
    if DENIES.search(text) or is_question(text) or trouble(text):
        return None
    return Command("continue", "repaired") if len(clauses) == 1 else AskFor("Repaired?", pending="repaired")


def _asked_for_by_a_clause(question: Question, words: str) -> Meaning:
    """A repair that one clause tells plainly in its story, asked back."""
    text = normalise(words.replace(",", " "))
    if not question.look or "repaired" not in question.go_ahead:
        return NotUnderstood()
    if DENIES.search(text) or not_done(text) or is_question(text) or spoilt(question, text):
        return NotUnderstood()
    done = any(mended(question, clause) for clause in clauses_of(words.lower()))
    return AskFor("Repaired?", pending="repaired") if done else NotUnderstood()


_NO_NUMBER = frozenset({"borrowed", "leak", "not repaired", "other gas"})
"""What is told of a part, a leak or a cylinder, whatever number stands in it."""
_ONES_OWN = re.compile(r"\b(?:i|i've|we|my|mine|own|me)\b")
_SEIZED = re.compile(r"\b(?:compressor|motor|rotor|shaft|crank)(?:'s| is)? locked\b(?! out)|\blocked (?:up|solid|tight)$")
""" "The compressor is locked", "it's locked up": it may be the shaft that does not turn."""


def _of_the_lock(meaning: Answer, text: str) -> Meaning | None:
    """A tag alone is no lock (S2); and of one that was "already" on nobody knows whose it is (S7)."""
    if not any(part.id in OWN_LOCK_HUNG and part.value is True for part in meaning.parts):
        return None
    if re.search(r"\btag\w*\b", text) and (re.search(r"\b(?:only|just)\b", text) or not re.search(r"lock", text)):
        return AskFor("A tag is no lock. Your own lock on.")
    if (re.search(r"\balready\b", text) and not _ONES_OWN.search(text)) or _SEIZED.search(text):
        return replace(meaning, parts=tuple(replace(part, doubt=part.doubt or "Your own lock?") for part in meaning.parts))
    return None


def _opened_again(call: Conversation, question: Question, meaning: Meaning) -> bool:
    """Whether "the valve is open" is said of one that shuts in what was emptied: it fills again."""
    parts = meaning.parts if isinstance(meaning, Answer) else ()
    opened = [(p.id, p.value) for p in parts] == [("injection_hand_valve", "open")] and question.asking != "injection_hand_valve"
    return opened and not unready.beside_the_point(call, "pressure", "")


def _live(call: Conversation, part: Part) -> bool:
    return isinstance(part.value, float) and part.value > call.state.limits.dead_limit_v


def _left_so(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> str:
    """What a clause tells to be otherwise than it was, at a question that does not ask for just that; empty for nothing."""
    plain = isinstance(meaning, Answer | NotUnderstood | AskFor) or (isinstance(meaning, Command) and meaning.name == "continue")
    if heard.meaning is not None or not plain or call.state.feed.window or is_question(normalise(heard.words)):
        return ""
    about = left_so(heard.words)
    asked = {"set", "point"} <= set(question.about) or "loading" in question.about or "defrost_disabled" in question.asking
    known = about in call.state.open or (about == "temporary" and call.state.value("part_left_in_use") == about)
    told = isinstance(meaning, Answer) and any(part.value == about for part in meaning.parts)
    return "" if asked or known or told else about


def _somebody_else(call: Conversation, meaning: Meaning, heard: Heard, text: str) -> str:
    """Another technician of the site says his name: whoever has the call now, the lock is not his (S42)."""
    if heard.meaning is not None or not isinstance(meaning, NotUnderstood):
        return ""
    name, s = introduced(text), call.state
    others = (p for p in s.site.technicians if p.name != s.technician)
    return "took over" if any(name in (p.name.lower(), *p.spoken) for p in others) else ""


_LOCKS = (*OWN_LOCK_HUNG, "lock_still_on", "lock_removed")
"""Asked of one's own lock: whatever is somebody else's there is a lock."""
_NO_START = frozenset({"tripped", "won't start"})
"""What is said of a machine that was just to start, and did not stay on."""
_OF_HIMSELF = frozenset({"gear", "air"})
"""What is said of the speaker's own hands, eyes and breath, and answers nothing that is asked of a machine."""
_PRESSING = frozenset({
    "wet", "gear", "air", "misread", "live", "others_clear", "bypassed", "jumper_fitted", "leads_on", "wire_lifted", "hose_on",
    "not blocked", "coil off", "terminal_cover", "burns",
})  # fmt: skip
"""What is not lost beside any answer; what else is said of a machine may be the answer, or its reason."""


_WHILE_IT_RUNS = frozenset({"panel_cover", "service_valves_open", "clamp_left_on", "start_blocked"})


def _beside_an_answer(question: Question, words: str, guarded: bool, pressing: frozenset[str]) -> str:
    """What a clause says that is no answer itself, beside one that is: "good and the meter's dead"; empty for nothing."""
    clauses = [clause for piece in clauses_of(words) for clause in _THEN.split(piece)]
    for clause in clauses if len(clauses) > 1 else ():
        about = said_against(question, clause, normalise(words.replace(",", " ")))
        answers = about == "live" and question.asking == "control_power_on" and isinstance(understand(question, clause), Answer)
        if about in pressing and not answers and clause not in question.other_words and clause not in phrases(question):
            return about
        if guarded and trouble(never_shut(question, clause)) and isinstance(understand(question, clause), NotUnderstood | Remark):
            return "trouble"
    return ""


def tells_of_a_leak(question: Question, words: str) -> bool:
    """Whether a clause beside an answer says that something leaks."""
    clauses = clauses_of(words)
    return len(clauses) > 1 and any(said_against(question, clause) == "leak" for clause in clauses)


_THEN = re.compile(r" (?:but|then|so|though|while) ")


def _answers_what_comes(call: Conversation, words: str) -> bool:
    """Whether it answers, or means done, what is asked behind the caution that stands."""
    step = call.course.next_step(call.state)
    if step is None:
        return False
    question = question_for(call, (step.asking, *step.also), step)
    said = understand_in_pieces(question, words)
    return isinstance(said, Answer) or (isinstance(said, Command) and said.name == "continue")


def _at_the_panel(call: Conversation, meaning: Meaning, text: str) -> str:
    """What is said with hands or probes in a panel that ends it at once; empty for nothing."""
    s = call.state
    if (s.feed.window or s.probes_in) and not isinstance(meaning, Answer) and wrong_panel(text):
        return "wrong machine"
    if s.feed.window or s.probes_in:
        if s.probes_in and not isinstance(meaning, Remark) and rather_dead(text):
            return "rather dead"
        runs_now = isinstance(meaning, NotUnderstood | Answer) and runs_though_it_must_not(text, s.feed.stimulus)
        return "window" if runs_now or leaves(text, meaning) else ""
    step = s.steps.get(call.asked_at)
    hums = isinstance(meaning, Remark) and meaning.about == "won't start"
    if call.question is not None and call.question.asking.startswith("dead_volts") and says_live(text):
        return "live"
    hands_in = s.lock.dead and step is not None and step.act == "hands_in"
    if hands_in and (hums or not isinstance(meaning, Remark)) and comes_alive(text):
        return "live"
    of_volts = call.question is not None and kind_of(call.question.asking) in ("volts", "megohms")  # a tester has its volts
    if hands_in and not (of_volts or isinstance(meaning, Remark)) and reads_volts(text):
        return "live"
    locked = s.lock.locked and s.started_at is None
    powers = step is not None and step.act == "power_on" and step.id not in s.answered
    harmless = not isinstance(meaning, Remark) or meaning.about == "live"
    if powers and locked and harmless and _RUNS_AT_POWER.search(text):
        return "runs locked"
    told = isinstance(meaning, Answer) and [(p.id, p.value) for p in meaning.parts] == [("running_now", "running")]
    volunteered = told and call.question is not None and "running_now" in call.question.volunteer
    if locked and (isinstance(meaning, NotUnderstood) or hums or volunteered) and runs(text):
        return "runs locked"
    to_the_lock = (locked or s.lock.proof) and not isinstance(meaning, Answer | Remark)
    return "wrong machine" if to_the_lock and wrong_panel(text) else ""


_RUNS_AT_POWER = re.compile(
    r"\b(?:it|she|compressor|machine|motor|that|thing)(?:'s| is| has)?(?: just| all)? "
    r"(?:started|running|runs|took off|kicked (?:on|in)|came on|fired up|turning|going)\b(?! to\b)"
)
"""That the machine runs, said as control power comes on behind its start block."""


def _guarded(call: Conversation, question: Question) -> bool:
    """Whether hands may be in, something is about to run, or somebody's safety hangs on the answer."""
    steps = call.state.steps
    step = steps.get(call.asked_at.partition("/")[0]) or steps.get(call.state.step)  # on hold nothing of a step is asked
    told = step is not None and step.required and step.asking == "command"  # a name or a machine is nobody's safety
    acts = step is not None and bool(step.act or step.resets or told or step.station in _WITH_HANDS)
    acts = acts or call.state.running or bool(_IN_THE_CIRCUIT & set(call.state.open))
    return acts or any(done_or_safe(id_) for id_ in (question.asking, *question.also) if id_ in vocabulary())
