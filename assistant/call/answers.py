"""What follows from something heard: commands, remarks on safety, values, a yes or no."""

from dataclasses import dataclass, replace

from assistant.call import modes, prompts, unready
from assistant.call.another_source import opened_another_source
from assistant.call.asking import heed_at_last
from assistant.call.commands import MACHINE, correct, leave, obey
from assistant.call.conversation import Conversation, Doing
from assistant.call.facts import (
    CallContinued,
    CallSealed,
    EmergencyDeclared,
    EmergencyOver,
    FinishAsked,
    NoteTaken,
    OthersLockFound,
    ReadingTaken,
    StepReopened,
    WordsHeard,
)
from assistant.call.heard import IN_DOUBT, NOT_SO, Heard, Unclear, how_taken
from assistant.call.heeding import at_a_caution
from assistant.call.in_danger import held, only_a_thing, tells_of_danger
from assistant.call.in_its_sense import said_of_safety
from assistant.call.leaving import summary
from assistant.call.not_unsafe import (
    answers_over_it,
    asks_what_is_not_safe,
    behind_the_no,
    no_and_done,
    no_and_heeded,
    no_and_more,
    says_no_and_more,
)
from assistant.call.noted import beside_a_finding, beside_another_reading, note_in_one_breath, told_while_waiting
from assistant.call.replies import DISTRESS, HOLDING, NO_FAN, OTHERS_LOCK, STAY_OUT, Reply, called_all, doubt, reply
from assistant.call.taken_for import taken_for
from assistant.call.told_ahead import told_beside, with_what_comes
from assistant.call.watched import tells_of_a_leak, watched_for_trouble
from assistant.call.while_running import of_the_machine, over_its_trip, stops_it
from assistant.call.window import end_the_window, power_is_off, take_power_for_off
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Part, Question, Remark, Value
from assistant.language.pieces import understand_in_pieces
from assistant.language.typed import letters_for_sure
from assistant.language.unready import UNREADY, all_is_well, trouble
from assistant.language.wording import spoken_value

_ASKS = (modes.ASKING, modes.ASKING_BACK, modes.CORRECTING, modes.CONFIRMING, modes.WAITING, modes.WINDOW, modes.ON_HOLD)


@dataclass(frozen=True)
class _Meant:
    """What words count for at a question, and what was told beside that."""

    question: Question
    meaning: Meaning
    beside: str = ""
    """To be noted."""
    found: bool = False
    """It is a finding, and said to be noted."""
    heeds: bool = False
    """With a no to "is something not safe?" the cautions behind it are acknowledged."""


def hear(call: Conversation, heard: Heard) -> None:
    """Take what was heard for what it counts for, put it on record, and do what follows."""
    if heard.meaning is None and note_in_one_breath(call, heard):
        return
    question, meaning, weighs = _understood(call, heard)
    meaning, beside = beside_another_reading(question, meaning, heard)
    meaning, found = (meaning, "") if beside else beside_a_finding(question, meaning, heard)
    meaning = taken_for(call, question, meaning, heard)
    meaning = with_what_comes(call, question, meaning, heard.words) if heard.meaning is None else meaning
    hot = over_its_trip(call, meaning, heard)
    if heard.meaning is None and not hot and told_while_waiting(call, meaning, heard):
        return
    meaning, heeds = _weighed(call, question, meaning, weighs, bool(hot))
    call.completes = call.asks_back = ""
    call.first_told, call.asked_of = call.asked_of, ""
    if power_is_off(call, question, heard):
        take_power_for_off(call, heard)
        return
    if hot and isinstance(meaning, Answer):
        meaning = NotUnderstood()  # "it's running and the line's at two eighty" is no fan, however like one
    meant = _Meant(question, meaning, beside or found, bool(found), heeds)
    if not (hot or meant.beside) and tells_of_danger(call, question, meaning, heard):  # what is found beside it is noted
        _danger(call, meant, heard)
    else:
        _follows(call, meant, heard)


def _danger(call: Conversation, meant: _Meant, heard: Heard) -> None:
    """It is asked whether something is not safe: beside a reading, which counts, or before anything else does."""
    call.held = held(call, meant.question, meant.meaning, heard)
    call.sounds_unsafe = heard.words
    if isinstance(meant.meaning, Answer) and call.held is None:
        _follows(call, meant, heard)
        call.record(WordsHeard(heard.words, f"{IN_DOUBT}trouble"))
    else:
        _follows(call, replace(meant, meaning=Remark("trouble"), beside="", heeds=False), heard)


def _understood(call: Conversation, heard: Heard) -> tuple[Question, Meaning, Heard]:
    """What the words mean to the question, and what of them is weighed for trouble; of who answers it over "is something not
    safe?", to the one behind that, and without the no to it: "no, nothing's unsafe, the tag says A two"."""
    question = call.question or Question("command")
    meaning = heard.meaning if heard.meaning is not None else understand_in_pieces(question, heard.words)
    unsure = isinstance(meaning, NotUnderstood | AskFor) or meaning == Remark("lock off")  # said as it is asked off
    typed = heard.meaning is None and (unsure or says_no_and_more(call, meaning, heard.words))
    if typed and (over_it := answers_over_it(call, heard.words)):
        call.held = None  # it is answered anew
        _confirmed(call, Confirmed(False), heard)
        call.question = over_it[0]
        return *over_it, replace(heard, words=behind_the_no(heard.words))
    return question, meaning, heard


def _weighed(call: Conversation, question: Question, meaning: Meaning, heard: Heard, hot: bool) -> tuple[Meaning, bool]:
    """The meaning by what stands beside it: a caution that waits, a word of trouble, a question whether something is not safe;
    and whether that question's no acknowledges what was cautioned."""
    asks = call.mode.name in _ASKS
    if "/" in call.asked_at and asks and not hot and (told := at_a_caution(call, meaning, heard.words, heard.meaning is None)):
        meaning = told
    elif asks:
        meaning = watched_for_trouble(call, question, meaning, heard)
        meaning = Remark("trouble") if only_a_thing(question, meaning, heard) else meaning
    asked_of_safety = asks_what_is_not_safe(call)
    heeds = asked_of_safety and no_and_heeded(call, heard.words)
    said_no = asked_of_safety and (all_is_well(heard.words) or no_and_done(call, heard.words))
    if heeds or said_no or (asked_of_safety and isinstance(meaning, NotUnderstood) and no_and_more(call, heard.words)):
        meaning = Confirmed(False)  # "all good" agrees with nothing here
    elif asked_of_safety and heard.meaning is None and (said := said_of_safety(call, meaning, heard.words)):
        meaning = said
    if isinstance(meaning, Remark) and meaning.about in ("distress", "live") and of_the_machine(call, heard.words):
        meaning = Remark("burns")
    return meaning, heeds


def _follows(call: Conversation, meant: _Meant, heard: Heard) -> None:
    """Put the words on record as they were taken, and do what follows of them in the call's mode."""
    meaning = meant.meaning
    hot = over_its_trip(call, meaning, heard)
    doubted = isinstance(meaning, Remark) and not hot and _asked_back_first(call, meaning, heard)
    taken = f"{IN_DOUBT}{meaning.about}" if doubted and isinstance(meaning, Remark) else how_taken(meaning, heard)
    taken = how_taken(Answer((hot,)), heard) if hot else taken
    call.record(WordsHeard(heard.words, taken, heard.confidence, heard.audio))
    call.check_in = call.check_in.heard(call.now)
    if isinstance(meaning, Command) and meaning.name == "emergency":
        call.record(EmergencyDeclared(heard.words))
        call.say("caution", prompts.emergency(call.state.site, call.state.feed.window), urgent=True)
    elif doubted:
        if call.mode.name == modes.CONFIRMING and call.doing.said is None:
            call.was_confirming = call.doing.command
        call.leave_the_question()  # what waits for a yes is asked before anything else
        if call.mode.name == modes.ON_HOLD and trouble(normalise(heard.words)):
            call.say("caution", DISTRESS, urgent=True)  # asked about once the hold is over, and not left in silence
        elif call.mode.name == modes.ON_HOLD and heard.meaning is None:
            call.info(HOLDING)
    elif hot:
        stops_it(call, hot, heard)
    elif isinstance(meaning, Remark):
        if heard.meaning is None and call.mode.name == modes.ASKING:
            if told := told_beside(meant.question, meaning, heard.words):
                _take_all(call, [(part, heard.words) for part in told], "read back")
        _remark(call, meaning, heard)
    elif call.mode.name == modes.CHECK_IN:
        _well(call, meaning, heard)
    elif call.mode.name in (modes.EMERGENCY, modes.ON_HOLD):
        _while_stopped(call, meaning, heard)
    elif call.mode.name == modes.NOTING and isinstance(meaning, Answer):
        call.go("ask")
        call.record(NoteTaken(heard.words, heard.audio))
        call.info("Noted.")
    else:
        _answered(call, meant, heard)


def _answered(call: Conversation, meant: _Meant, heard: Heard) -> None:
    """The answer, and what was told beside it."""
    meaning = meant.meaning
    typed = isinstance(meaning, Answer) and heard.meaning is None
    leaks = typed and tells_of_a_leak(meant.question, heard.words)
    source = opened_another_source(call, meant.question, heard.words) if heard.meaning is None else ""
    if meant.beside and isinstance(meaning, Answer | Command):
        call.record(NoteTaken(meant.beside))
        call.info("Noted." if meant.found else "")
    _answer(call, meaning, heard)
    if meant.heeds:
        heed_at_last(call, heard)
    if leaks and "leak_found" not in call.state.readings:
        unready.take(call, "leak", heard.words)  # told beside an answer, and not to be lost over it
    if source:
        call.volunteered("second_source", source, heard.words)


def _asked_back_first(call: Conversation, said: Remark, heard: Heard) -> bool:
    """Whether the ear is unsure of it and there is the time to ask: never in the live window, nor when somebody may be hurt."""
    asks = call.mode.name in _ASKS and not call.state.feed.window
    return asks and (said.about == "trouble" or (not heard.sure and said.about not in ("distress", "air", "window")))


def _remark(call: Conversation, remark: Remark, heard: Heard) -> None:
    """What was said about safety, whatever was asked."""
    if call.mode.name == modes.NOTING:
        call.go("ask")
        call.record(NoteTaken(heard.words, heard.audio))
    if call.mode.name == modes.CONFIRMING and call.doing.said and call.doing.said not in call.state.doubts:
        call.go("ask")  # the same was said once more, surely: nothing waits for a yes
    match remark.about:
        case "alarm" | "no detector":
            _power_off_first(call)
            state = "alarm" if remark.about == "alarm" else "dead"
            call.volunteered("detector_state", state, heard.words)
            if call.state.alarm:
                call.say("caution", STAY_OUT, urgent=True)
            else:
                call.say("readback", prompts.read_back([("detector_state", state, None)], True))
            call.leave_the_question()
        case "no fan":
            _power_off_first(call)
            end_the_window(call, heard.words)
            call.volunteered("ventilation_running", "no", heard.words)
            call.say("caution", NO_FAN, urgent=True)
            call.leave_the_question()
        case "lock off" if _unlocks_behind_its_caution(call):
            unready.end_the_proof(call, "the lock was said to be off")
            call.info(prompts.CAUTION_FIRST)
        case "lock off" if call.state.lock.locked:
            unready.lock_is_off(call, heard.words)
        case "lock off":
            unready.end_the_proof(call, "the lock was said to be off")
            call.info("Then it is live.")
        case "another's lock":
            call.record(OthersLockFound(heard.words))
            call.say("caution", OTHERS_LOCK, urgent=True)
            call.leave_the_question()
        case about if about in UNREADY:
            to_the_point = unready.take(call, about, heard.words)
            if not to_the_point and call.state.machine is None:
                call.info("The machine first. Then say that again.")
            elif not to_the_point and not (trouble(normalise(heard.words)) and unready.take(call, "trouble", heard.words)):
                _answer(call, NotUnderstood(), heard)
        case _:
            if call.state.feed.window or call.state.probes_in:
                unready.take(call, "trouble", heard.words)
            elif unready.end_the_proof(call, "somebody may be hurt"):
                call.leave_the_question()
            unready.looked_at_again(call)
            call.say("caution", DISTRESS, urgent=True)


def _unlocks_behind_its_caution(call: Conversation) -> bool:
    """Whether the caution stands that is acknowledged before the own lock comes off."""
    step = call.course.next_step(call.state) if call.at_a_caution else None
    return step is not None and step.act == "unlock"


def _power_off_first(call: Conversation) -> None:
    """In the live window nothing comes before it."""
    if call.state.feed.window:
        call.say("caution", "Power off.", urgent=True)


def _well(call: Conversation, meaning: Meaning, heard: Heard) -> None:
    """An answer to the check-in; another command is obeyed as well."""
    mode, doing = call.kept
    call.go(modes.GO_ON.get(mode, "go on"), doing)
    if mode == modes.ON_HOLD:
        call.go("ask")
        call.go("hold")
    if isinstance(meaning, Command) and meaning.name != "continue":
        _answer(call, meaning, heard)


def _while_stopped(call: Conversation, meaning: Meaning, heard: Heard) -> None:
    emergency = call.mode.name == modes.EMERGENCY
    name = meaning.name if isinstance(meaning, Command) else "continue" if isinstance(meaning, Answer) else ""
    if name == "repeat" and emergency:
        call.say("caution", prompts.emergency(call.state.site, call.state.feed.window), urgent=True)
    elif name in ("continue", "finish") and emergency:
        call.record(EmergencyOver(heard.words))
        if name == "finish":
            call.record(FinishAsked("after the emergency"))
    elif name != "continue" and not emergency and heard.meaning is None:
        call.info(HOLDING)  # typed, it is no talk with a colleague
    elif name == "continue":
        mode, doing = call.kept
        call.record(CallContinued(heard.words))
        call.go(modes.GO_ON.get(mode, "go on"), doing)


def _answer(call: Conversation, meaning: Meaning, heard: Heard) -> None:
    match meaning:
        case Command():
            obey(call, meaning, heard)
        case Confirmed():
            _confirmed(call, meaning, heard)
        case AskFor():
            call.completes = meaning.pending
            call.asked_of = heard.words if meaning.pending else ""
            if meaning.pending and meaning.say.endswith("?") and call.question is not None and call.question.asking == "command":
                call.asks_back = meaning.say  # in place of the prompt, which was just heard
            else:
                call.info(meaning.say)
        case NotUnderstood() if call.mode.name == modes.WAITING and heard.meaning is None:
            call.again = call.again.missed(call.question or Question("command"), heard)
            if call.again.misses % 2 == 0:  # talk is none of it at first: nothing was asked, and how long it takes is said again
                call.info("Say hold on, or finish job.")
        case NotUnderstood():
            not_understood(call, heard)
            call.say_again = True
        case Answer(parts=parts):
            _take(call, parts, heard)


def not_understood(call: Conversation, heard: Heard | Unclear) -> None:
    question = call.question or Question("command")
    call.again = call.again.missed(question, heard)
    if asks_what_is_not_safe(call) and isinstance(heard, Heard):
        return  # the question itself says that it wants a yes or a no
    step = call.state.steps.get(call.asked_at)
    skippable = step is None or not step.required
    call.info(call.again.say_again(question, isinstance(heard, Unclear) and heard.too_loud, skippable))


def _take(call: Conversation, parts: tuple[Part, ...], heard: Heard) -> None:
    alike = len({p.value for p in parts}) == 1 and all(p.doubt for p in parts)
    cut = any(p.doubt for p in parts if p.id != "alarm_minutes_ago")  # a time of day is cut in one way, and asked back by itself
    if len(parts) > 1 and cut and parts[0].id not in MACHINE and not alike:
        # Numbers run together in one breath can be cut in several ways: all are asked back together, none counts before a yes.
        parts = tuple(replace(p, doubt=".") for p in parts)
    if machine := [p for p in parts if p.id in MACHINE and not _asked(call, p.id)]:
        _another_machine(call, machine, heard)
        return
    if len(parts) > 1:  # what else is told as the call is closed comes first, and the close is asked for after it
        parts = tuple(p for p in parts if p.id != "close_consent")
    known = [p for p in parts if _else(call, p) and p.id in call.state.readings]
    parts = tuple(p for p in parts if p not in known)
    if known and not parts:
        _instead(call, known, heard)
        return
    if heard.meaning is None:
        parts = letters_for_sure(parts)
        parts = tuple(replace(p, doubt=p.doubt or called_all(call.state, p, heard.words)) for p in parts)
    if any(p.doubt for p in parts if p.id in MACHINE):  # rack and compressor name one machine: asked back together
        parts = tuple(replace(p, doubt=p.doubt or ".") if p.id in MACHINE else p for p in parts)
    by_ear = heard.meaning is not None
    clash = by_ear and any(_far(call.state.readings[p.id].value, p.value) for p in known)  # the breath was cut otherwise
    doubtful = [
        p for p in parts if clash or p.doubt or doubt(call.state, p) or (by_ear and p.value in call.refused.get(p.id, ()))
    ]
    if doubtful and by_ear:  # what is doubtful in a breath makes all of it so: one "no" is to all
        doubtful += [replace(p, doubt=".") for p in parts if p not in doubtful]
        parts = tuple(doubtful)
    kept = replace(call.doing, asked_back=())
    if not heard.sure or (call.again.loud and any(isinstance(p.value, float) for p in parts)):
        call.again = call.again.missed(call.question or Question("command"), heard)
        call.go("ask back", replace(kept, asked_back=tuple((p, heard.words) for p in parts)))
        return
    _take_all(call, [(part, heard.words) for part in parts if part not in doubtful], "read back")
    if doubtful:
        asked = tuple((replace(p, doubt=p.doubt or doubt(call.state, p) or "."), heard.words) for p in doubtful)
        call.go("ask back", replace(call.doing, asked_back=asked))
    elif known:
        _instead(call, known, heard)


def _far(on_record: Value, said: Value) -> bool:
    """Whether it is no later reading of the same: another word, or a number a quarter off."""
    if isinstance(on_record, str | bool) or isinstance(said, str | bool):
        return on_record != said
    return abs(said - on_record) > 0.25 * max(abs(said), abs(on_record))


def _else(call: Conversation, part: Part) -> bool:
    """A reading that was said though it was not asked for."""
    question = call.question
    return question is not None and part.id in question.volunteer and not call.doing.correcting


def _asked(call: Conversation, id_: str) -> bool:
    question = call.question
    return question is not None and id_ in (question.asking, *question.also, question.of, *question.volunteer)


def _another_machine(call: Conversation, named: list[Part], heard: Heard) -> None:
    """The machine was named at a question about something else: another one is asked back in its place, or refused."""
    readings = call.state.readings
    others = [p for p in named if p.id not in readings or readings[p.id].value != p.value]
    if not others:
        machine = [(id_, readings[id_].value, readings[id_].unit) for id_ in MACHINE if id_ in readings and id_ != "site"]
        call.say("readback", prompts.read_back(machine, False))
        return
    correct(call, others[0].id)
    if call.doing.correcting == others[0].id:
        asked = tuple((replace(p, doubt="."), heard.words) for p in others)
        call.go("ask back", Doing(asked_back=asked, in_place_of=others[0].id))


def _instead(call: Conversation, known: list[Part], heard: Heard) -> None:
    """A reading on record was said again by its name: the same counts, another one is asked back in its place."""
    others = [p for p in known if call.state.readings[p.id].value != p.value]
    if not others:
        call.say("readback", prompts.read_back([(p.id, p.value, p.unit) for p in known], True))
        return
    part = others[0]
    before = call.state.readings[part.id]
    was = spoken_value(part.id, before.value, before.unit)
    doubt_ = f"Instead of {was}:" if was else "."
    call.correct(part.id)
    call.go("ask back", Doing(asked_back=((replace(part, doubt=doubt_), heard.words),), in_place_of=part.id))


def _take_all(call: Conversation, said: list[tuple[Part, str]], confirmed: str) -> None:
    """Put values on record, read them back at once, and only then say what is to be said to them."""
    taken: list[Part] = []
    replies: list[str] = []
    refused: list[str] = []
    for part, words in said:
        counts, reply_ = _take_one(call, part, words, confirmed)
        taken += [part] if counts else []
        to = replies if counts else refused
        to += [reply_] if reply_ else []
    waits = call.state.feed.window  # in the live window it is held back, and comes among others
    of_several = call.question is not None and call.question.yes_is_all
    named = len(taken) > 1 or waits or of_several or any(_else(call, p) for p in taken)
    if confirmed != "asked back":  # what was asked back was said a moment ago
        whole = _all_as_asked(call, taken)
        call.say("readback", "All good." if whole else prompts.read_back([(p.id, p.value, p.unit) for p in taken], named))
    for text in refused:
        call.info(text)
    for text in replies:
        call.say("caution", text, urgent=True)
    if any(p.id == "close_consent" and p.value is True for p in taken):
        call.settle_facts()
        if not call.state.open:
            call.record(CallSealed(summary(call.state)))
            call.info("Closed and sealed.")


def _all_as_asked(call: Conversation, taken: list[Part]) -> bool:
    """Whether everything that "all good?" asked is as it was asked: then only what is odd would be worth its words."""
    question = call.question
    if question is None or not question.yes_is_all or not question.also or call.state.feed.window:
        return False
    asked = (question.asking, *question.also)
    said = {part.id: part.value for part in taken}
    return set(said) == set(asked) and all(said[id_] == question.all_good.get(id_) for id_ in asked)


def _take_one(call: Conversation, part: Part, words: str, confirmed: str) -> tuple[bool, str]:
    """Whether the value counted, and what is said to it."""
    s = call.state
    correcting = call.doing.correcting
    step = s.steps.get(s.step)  # none between going back and the question that follows, behind its caution
    said = reply(s, part)
    corrected = bool(correcting) or (
        step is not None and part.id in s.readings and s.readings[part.id].step == s.step and not step.proof
        and not step.watch_round and s.step not in s.answered and s.given_here(part.id, step)
    )  # fmt: skip
    where = s.readings[part.id].step if correcting and part.id in s.readings else s.step
    if _else(call, part) and (asks := call.course.volunteered(s).get(part.id)):
        where, confirmed = asks.id, "volunteered"
    elif part.id == "leak_place" and (asks := next((one for one in call.course.run if one.asking == part.id), None)):
        where, confirmed = asks.id, confirmed if asks.id == s.step else "volunteered"  # told with the leak that was found
    if part.id == "close_consent" and call.after_pause:
        return False, ""  # what was told so long ago may not be so any more: it is told again, and consented to then
    if said and not said.taken:
        if part.value == "someone_else" and not s.lock.others:
            call.record(OthersLockFound(words))
        return False, said.text
    put_right = part.id == "panel_tag" and (corrected or s.tag_doubted)
    at = s.steps.get(where)
    declares = at if at and part.id == at.asking else None
    call.record(ReadingTaken(
        part.id, part.value, part.unit, where, words, confirmed, corrected, part.low, part.high,
        declares.establishes if declares else (), declares.resets if declares and not corrected else (),
    ))  # fmt: skip
    if put_right:
        own = s.compressor.tag if s.compressor else ""
        hangs = Reply(f"That is another machine's tag. Still hooked up: {prompts.hangs_elsewhere(s)}.")
        said = hangs if s.tag_wanted != own else reply(s, part)
    if said and said.again and (where == s.step or (correcting and part.id == "isolated_pressure")):
        call.record(StepReopened(where))
    call.refused.pop(part.id, None)
    call.again = call.again.taken(part.id)
    call.go("ask")
    return True, said.text if said else ""


def _confirmed(call: Conversation, meaning: Confirmed, heard: Heard) -> None:
    if call.mode.name == modes.CONFIRMING:
        name, said = call.doing.command, call.doing.said
        call.go("ask")
        if said is not None:
            about, waits = call.state.doubts[said], call.held
            call.held = None
            call.record(WordsHeard(said, f"remark: {about}" if meaning.yes else f"{NOT_SO}{about}"))
            if meaning.yes:
                _remark(call, Remark(about), replace(heard, words=said))
            elif call.was_confirming and not call.state.doubts:
                call.confirm(call.was_confirming)  # "make safe and close the call?" is not lost over a doubt that was none
            elif waits and waits.heard.words == said and waits.step == call.state.step and not call.state.doubts:
                call.question = waits.question
                _answer(call, waits.meaning, waits.heard)
            call.was_confirming = ""
        elif meaning.yes:
            leave(call, name, heard.words)
        return
    if call.mode.name != modes.ASKING_BACK:
        _no_to_the_read_back(call, meaning, heard)
        return
    doing = call.doing
    if meaning.yes:
        call.go("ask back", Doing(correcting=doing.in_place_of or doing.correcting))
        _take_all(call, [(replace(part, doubt=""), words) for part, words in doing.asked_back], "asked back")
        if call.mode.name == modes.ASKING_BACK:
            call.go("ask")  # none of them was taken
        return
    for part, _ in doing.asked_back if not doing.in_place_of else ():
        call.refused.setdefault(part.id, []).append(part.value)
    if meaning.instead is None:
        call.go("correct" if doing.correcting else "ask", Doing(correcting=doing.correcting))
        return
    correcting = (doing.in_place_of if heard.sure else "") or doing.correcting
    in_place_of = "" if heard.sure else doing.in_place_of
    call.go("correct" if correcting else "ask", Doing(correcting=correcting, in_place_of=in_place_of))
    _take(call, (meaning.instead,), heard)


def _no_to_the_read_back(call: Conversation, meaning: Confirmed, heard: Heard) -> None:
    """ "No, twelve" to a value that the prompt read back."""
    if meaning.instead is None or meaning.yes:
        not_understood(call, heard)
        return
    correct(call, meaning.instead.id)
    if not call.doing.correcting:
        return
    if not heard.sure:  # asked back first; the value on record stands until a yes
        call.go("ask back", Doing(asked_back=((meaning.instead, heard.words),), in_place_of=meaning.instead.id))
        return
    instead = meaning.instead
    call.refused.setdefault(instead.id, []).append(call.state.readings[instead.id].value)
    _take(call, (meaning.instead,), heard)
