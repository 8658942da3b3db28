"""What typed words count for in this call: a valve as it was found, another machine, a "continue" with more behind it."""

import re
from dataclasses import replace

from assistant.call import modes
from assistant.call.asked_us import told_back
from assistant.call.conversation import Conversation
from assistant.call.heard import Heard
from assistant.call.in_its_sense import said_of_what_was_asked_back
from assistant.call.not_this_but_that import not_this_but_that, this_number_not_that, wrong_and_so
from assistant.call.yes_or_no_and_more import yes_or_no_and_more
from assistant.language.found_so import found_shut
from assistant.language.grammar import normalise
from assistant.language.machine_names import named_beside
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Part, Question, all_asked_back
from assistant.language.numbers import spoken_number
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.vocabulary import kind_of

_GOES_ON = re.compile(r"(?:(?:okay|yes|right|alright)[ ,.]+)*(?:continue|carry on|resume|i'm back|go on|keep"
    r" going)\b(?! (?:hold|wait|later|when|if|after))")

_CORRECTION = re.compile(r"(?:(?:no|wait|sorry)[ ,.]+)*(?:correction|correct the)\b", re.IGNORECASE)
"""Leads to the name of what is put right: whatever follows answers nothing that is asked now."""

def taken_for(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning as it counts in this call.

    Args:
        call: as it stands.
        question: what was asked.
        meaning: what the words mean to the question.
        heard: the words.
    """
    typed = heard.meaning is None
    named = isinstance(meaning, Confirmed) or (isinstance(meaning, Command) and bool(_CORRECTION.match(heard.words)))
    open_now = typed and call.mode.name in (modes.ASKING, modes.WAITING)
    if open_now and not named and (otherwise := wrong_and_so(call, heard.words)):
        return otherwise
    if open_now and not isinstance(meaning, Confirmed) and (otherwise := this_number_not_that(call, heard.words)):
        return otherwise
    if typed and call.mode.name == modes.ASKING and isinstance(meaning, Answer | AskFor) and _CORRECTION.match(heard.words):
        return Command("correct")  # "correction, none" is nothing to what is asked now
    if typed and call.mode.name == modes.ASKING and (back := _takes_back(call, question, heard.words)):
        return back
    if typed and isinstance(meaning, NotUnderstood | AskFor) and (answered := yes_or_no_and_more(call, heard.words)):
        return answered
    open_ = typed and isinstance(meaning, NotUnderstood | AskFor)
    if open_ and (by_sense := said_of_what_was_asked_back(call, question, heard.words)):
        return by_sense
    if call.mode.name == modes.ON_HOLD and typed and isinstance(meaning, NotUnderstood) and _GOES_ON.match(heard.words):
        meaning = Command("continue")  # "continue, where am I?"
    if open_now and isinstance(meaning, NotUnderstood):
        if call.mode.name == modes.WAITING and _ENOUGH.search(normalise(heard.words)):
            return Command("finish")
        last = normalise(re.split(r"[,.;!]", heard.words.rstrip(" .!"))[-1])
        if name := _AT_LAST.get(last.removeprefix("so ").removeprefix("just ")):
            consents = name == "finish" and question.asking == _CLOSE  # "that'll do it, wrap it up"
            return all_asked_back(Answer((Part(_CLOSE, True),))) if consents else Command(name)
    meaning = _own_tag(call, meaning, heard.words) if typed else meaning
    takes_it = typed and _OWNER in (question.asking, *question.also)
    if takes_it and not is_question(normalise(heard.words)):
        meaning = _by_himself(call, question, meaning, heard.words)
    if typed and isinstance(meaning, NotUnderstood) and call.mode.name == modes.ASKING:
        if takes_it and _WHO.search(normalise(heard.words)):
            return AskFor(f"{', '.join(dict.fromkeys(str(v) for v in question.local[_OWNER].values()))}, or a name.".capitalize())
        if _SLIPPED.match(heard.words):
            return Command("correct")
        if told := _which_number(call, question, heard.words):
            return AskFor(told)
    meaning = _of_another(call, question, _as_it_was_found(call, question, meaning, heard), heard)
    if open_now and (isinstance(meaning, NotUnderstood) or meaning == Command("hold")):
        if otherwise := not_this_but_that(call, heard.words):
            return otherwise
    if open_now and isinstance(meaning, NotUnderstood | Command):
        meaning = _told_anew(call, question, meaning, heard.words)
    asks_again = meaning in (Command("why"), Command("repeat"))  # "why do you want that?" has its own answer
    if open_now and (asks_again or isinstance(meaning, NotUnderstood)):
        if told := told_back(call, question, heard.words, only_read=asks_again):
            return AskFor(told)
    return meaning


_UNSURE = re.compile(r"\b(?:think|guess|maybe|probably|looks?|could|might|sort|kind|or)\b")


def _own_tag(call: Conversation, meaning: Meaning, words: str) -> Meaning:
    """The meaning; a tag as it must be is not asked back over a letter that sounds like others: it was typed so."""
    if not isinstance(meaning, Answer) or [p.id for p in meaning.parts] != ["panel_tag"] or _UNSURE.search(words.lower()):
        return meaning
    tag = meaning.parts[0]
    return Answer((replace(tag, doubt=""),)) if tag.value == call.state.tag_wanted else meaning


_ANEW = re.compile(
    r"^(?:(?:no|nope|wait|hold on|hold up|hang on|sorry|oops|actually|scratch that"
    r"|i (?:was|got that|got it|had that) wrong|correction|you(?:'ve)? got (?:that|it|me) wrong"
    r"|that(?:'s| is| was) (?:wrong|not right)|that's not what i said|i (?:said|meant)"
    r"|make that|let me correct that|my mistake)\b[ ,.:]*)+"
    r"|[ ,]+(?:actually|after all|though|all along|not \w+|it's not in alarm|sorry)[ .]*$",
    re.IGNORECASE,
)
"""What people say who put right what is on record."""
_TAKES_BACK = re.compile(
    r"^(?:(?:no|nope|wait|hang on|hold on|whoa|sorry)\b[ ,.]*)*(?:that(?:'s| is) (?:wrong|not right|not what i said)"
    r"|you(?:'ve)? got (?:that|it|me) wrong|you misheard(?: me| that)?|i didn't say that)\b[ ,.]*"
    r"(?:(?:i said|i meant|because)\b)?",
    re.IGNORECASE,
)
_BACK_TO = re.compile(r"^(?:(?:okay|wait|hang on|no|please|let's|can we)[ ,]+)*(?:go|goes|let me go) back to\b", re.IGNORECASE)


def _takes_back(call: Conversation, question: Question, words: str) -> Command | None:
    """The command of who takes back what he was just understood to say, a look or a reading: it is asked again."""
    if _BACK_TO.match(words):
        return Command("back")
    taken = _TAKES_BACK.match(words)
    order = call.state.order
    if taken is None or not order or order[-1] not in call.state.steps:
        return None
    rest = words[taken.end() :].strip(" ,.")
    if rest and isinstance(_told_anew(call, question, NotUnderstood(), words), Answer | Command):
        return None
    if rest and isinstance(understand_in_pieces(question, rest), Answer | Command):
        return None
    return Command("back") if call.state.steps[order[-1]].tells else None


_WAS = re.compile(r"\bwas\b")


def _told_anew(call: Conversation, question: Question, meaning: Meaning, words: str) -> Meaning:
    """A reading on record that is told otherwise now, by its name: it is asked back in place of the other.

    Said of the detector while it is in alarm, it is asked for anew: nobody goes in by a word in passing.
    """
    plain = words.strip()
    while (less := _ANEW.sub("", plain).strip()) != plain:
        plain = less
    if call.state.alarm and "detector" in normalise(plain).split():
        said = understand_in_pieces(Question("detector_state"), plain)
        quiet = isinstance(said, Answer) and [part.value for part in said.parts] == ["quiet"]
        return Command("correct", "detector_state") if quiet else meaning
    steers = isinstance(meaning, Command) and meaning != Command("hold")  # "hold up, the probe's damaged" is no pause
    if plain == words.strip() or steers or _ON_ANOTHER.search(words.lower()) or is_question(normalise(words)):
        return meaning
    said = understand_in_pieces(question, _WAS.sub("is", plain))
    asked = (question.asking, *question.also)
    on_record = isinstance(said, Answer) and all(p.id in question.volunteer and p.id in call.state.readings for p in said.parts)
    return said if on_record and isinstance(said, Answer) and not any(p.id in asked for p in said.parts) else meaning


_ON_ANOTHER = re.compile(r"\bon (?:compressor|number|machine|unit|rack) [a-z]+\b|\bon the (?:other|next|neighbou?r'?s?) ")
_OWNER, _CLOSE = "follow_up_owner", "close_consent"
_WHO = re.compile(r"\b(?:who|whom) (?:can|could|do|should|may|else|is|are)\b|\bwhat names\b|\bwhich names\b")
_HIMSELF = re.compile(
    r"\b(?:i'll|i will|i'm gonna|i can) (?:just )?(?:come back|be back|take it|take that|do it|do that|handle it|pick it up"
    r"|look after it|see to it)"
    r"(?: (?:myself|to it|for it|on it|again))*\b|^(?:(?:it's|that's|that'll be|that would be|just|well|um|uh) )*(?:me|myself)\b"
    r"(?:,? the (?:tech|technician|mechanic)(?: on (?:this|the) call)?)?|\bi myself\b",
    re.IGNORECASE,
)


_HE_LOOKS_IN = re.compile(
    r"[,. ]+(?:and )?i'll (?:look|stop|swing|drop|be|come|check)(?: \w+){1,3}(?=,|$)", re.IGNORECASE
)


def _by_himself(call: Conversation, question: Question, meaning: Meaning, words: str) -> Meaning:
    """Who takes it where the speaker does: "I'll come back myself, say twelve hours" has his own name, where the call has one."""
    name, owners = call.state.technician, [*question.local.get(_OWNER, {}).items()]
    if not name or not owners or not _HIMSELF.search(words):
        return meaning
    spoken, value = owners[0]
    plain = _HE_LOOKS_IN.sub("", _HIMSELF.sub(f"{spoken} takes it", words, count=1))
    said = understand_in_pieces(question, plain)
    if not isinstance(said, Answer) or not any(part.id == _OWNER and part.value == value for part in said.parts):
        return meaning
    return Answer(tuple(replace(part, value=name) if part.id == _OWNER else part for part in said.parts))


_AT_LAST = {
    "finish job": "finish", "finish the job": "finish", "let's wrap up": "finish", "wrap it up": "finish",
    "let's wrap it up": "finish",
    "hold on": "hold",
}  # fmt: skip
"""Commands that count behind a reason: "I ain't sitting here half an hour, finish job"; the call asks before it ends."""
_ENOUGH = re.compile(
    r"^(?!.*\b(?:before|until|till|when|once|after|if|don't|not yet|never)\b).*"
    r"\b(?:(?:wrap|finish|close|sew|knock|pack|tie|button)(?: (?:it|her|things?|this|that|the|my|our|one|job|call|visit))*"
    r" (?:up|off|down|out|on the head|in for the night)"
    r"|(?:finish|end|close|stop) (?:the|this|that|my) (?:job|call|visit|watch)|call it (?:a night|a day|quits|done)"
    r"|(?:leave|leaving) (?:it|her|him|that) (?:at that|there|off|be)|(?:go|going|get|head|heading) (?:off )?home"
    r"|(?:i'm|we're|i am) (?:all )?(?:done|finished)(?: in| here| for the night| waiting)?)\b"
)
"""Said at a wait by who has waited enough; "wrap it up before I go home" and the like is left alone."""
_SLIPPED = re.compile(
    r"^(?:(?:wait|no|hang on|hold on|sorry|oops|oh|actually)\b[ ,.]*)*"
    r"(?:i (?:was a decimal (?:point )?(?:out|off)|slipped a decimal|misread (?:it|that)|(?:read|got) (?:it|that) wrong)"
    r"|wrong(?= ?,|$| [a-z]+ is\b)"
    r"|that(?:'s| is| was) (?:the )?wrong(?: one| reading| value)?|that (?:last )?one was wrong)\b",
    re.IGNORECASE,
)
"""The reading before was misread: it is asked for again."""
_WHICH_NUMBER = re.compile(
    r"\b(?:which|what)\b[\w' ]*?\b(?P<name>oil|high|low|motor|discharge)\b|\bwhich(?: one)?(?:'s| is)? which\b"
    r"|\bhow are they numbered\b"
)


def _which_number(call: Conversation, question: Question, words: str) -> str:
    """Where a contact stands on the strip, for who asks it at them: "which number is the oil one?"; empty for anything else."""
    asked = _WHICH_NUMBER.search(normalise(words)) if question.asking == "chain_dead_check" else None
    if asked is None or call.state.rack is None:
        return ""
    names = {contact.name: spoken_number(float(contact.strip), "count") for contact in call.state.rack.panel.contacts}
    wanted = {name: at for name, at in names.items() if not asked["name"] or name.split()[0] == asked["name"]}
    return " ".join(f"{name.capitalize()}: {at}." for name, at in wanted.items())


def _as_it_was_found(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning; where a valve was opened before it was looked at, that it was shut: that is what brought the trip about."""
    if heard.meaning is not None or call.mode.name != modes.ASKING or "/" in call.asked_at or is_question(normalise(heard.words)):
        return meaning
    step = call.state.steps.get(call.asked_at)
    closed = next((word for word in step.tells if "closed" in word.split() and "valve" in step.tells[word]), "") if step else ""
    return found_shut(question, normalise(heard.words.replace(",", " ")), closed) or meaning


_SATELLITE = re.compile(r"\bsatellites?\b")


def _of_another(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning; where another machine is named beside readings, that machine: it is asked back, and none of them counts."""
    if heard.meaning is not None or not isinstance(meaning, Answer | NotUnderstood):
        return meaning
    text = normalise(heard.words.replace(",", " "))
    free = kind_of(question.asking) == "free"
    if _SATELLITE.search(text) and not free:
        return NotUnderstood()  # it stands outside this procedure, and how it runs says nothing of this machine
    _, named = named_beside(question, text)
    own = call.state.value("compressor")
    if named is None or own is None or named == own:
        return meaning
    told = understand_in_pieces(replace(question, machine=None), heard.words) if isinstance(meaning, NotUnderstood) else meaning
    return Answer((Part("compressor", named),)) if isinstance(told, Answer) else meaning
