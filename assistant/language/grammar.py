"""What an utterance means to the question that was asked."""

import re
from dataclasses import replace
from functools import lru_cache

from assistant.language.answering import SENTENCES, one, part_of
from assistant.language.both_ends import UNKNOWN_WORD, trimmed
from assistant.language.breath import in_one_breath, machine_down
from assistant.language.by_its_name import by_its_name
from assistant.language.correcting import last_put_right
from assistant.language.deeds import done
from assistant.language.exceptions import all_but, everything_good
from assistant.language.given_word import given_word
from assistant.language.hedges import KEPT, bared, plainly_said, put_right, weakened, without_sounds
from assistant.language.in_free_words import in_free_words
from assistant.language.lone_numbers import counts_another, number_in
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Remark,
    has_number,
)
from assistant.language.names import is_named, nearest, of_another_unnamed
from assistant.language.of_where import volunteered
from assistant.language.offered import phrases
from assistant.language.phrasebook import tagged
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.read_back import not_so, put_right_by_a_no, steering, to_confirm
from assistant.language.remarks import is_emergency, remark
from assistant.language.spotting import asked_in, gone_ahead, loosely, person_meant, spotted, stands_otherwise
from assistant.language.standing_out import look_stands_out, stands_out
from assistant.language.unready import intended, said_against, unready
from assistant.language.vocabulary import Entry, kind_of, vocabulary

_OK = re.compile(r"\b(?:ok|okey dokey|okey|o k)\b")
LONGEST = 80
"""Words: more are no answer. What concerns safety is heard among them all the same."""
_PERCENT = re.compile(r"(?<=\d)\s*%")
_PUNCTUATION = re.compile(r"[,!?;:]|\.(?!\d)")


@lru_cache(maxsize=KEPT)
def normalise(words: str) -> str:
    """Lower case, without punctuation; figures keep their sign and point.

    >>> normalise("No, twenty-five. It’s -3.5")
    "no twenty five it's -3.5"
    """
    text = _OK.sub("okay", _PUNCTUATION.sub(" ", _PERCENT.sub(" percent", words.lower().replace("’", "'"))))
    return plainly_said(re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text))


def commas_apart(words: str) -> str:
    """The words with each comma as a word of its own.

    >>> commas_apart("two ten, no  two twelve")
    'two ten , no two twelve'
    """
    return " ".join(words.replace(",", " , ").split())


def understand(question: Question, words: str) -> Meaning:
    """What these words mean as an answer to this question; nothing is guessed.

    The question's own answers go before the words that steer a call ("quiet" may be both). An unknown word
    heard at an edge is dropped from words, never from a number: half of it is another number.

    Args:
        question: what was asked.
        words: as heard or typed.
    """
    if words not in question.understood:
        said = _meaning(question, words)
        if of_another_unnamed(question, normalise(words), said):
            said = understand(question.of_one(question.asking), words)
        question.understood[words] = said
    return question.understood[words]


_NO_FOAM = re.compile(r"(?:and |but |there's )?no (?:foam\w*|froth\w*|bubbles|suds)(?: (?:in it|at all|either))?")


def _meaning(question: Question, words: str) -> Meaning:
    text = normalise(words)
    tokens = [token for token in text.split() if token != UNKNOWN_WORD]
    whole = len(tokens) == len(text.split())
    inside = UNKNOWN_WORD in text.removeprefix(UNKNOWN_WORD).removesuffix(UNKNOWN_WORD)
    if whole and is_emergency(text):
        return Command("emergency")
    if question.asking == "oil_level" and _NO_FOAM.fullmatch(text):
        return NotUnderstood()  # no foam tells of no level
    if not tokens or inside or (text == "none" and question.yes_is_all and question.also and not question.alone):
        return NotUnderstood()  # none of what: a fan, a valve, nothing wrong
    if len(tokens) > LONGEST and vocabulary().get(question.asking, _NONE).kind != "free":
        said_beside = _remark(question, text) or _by_the_way(question, NotUnderstood(), text)
        return said_beside if whole else NotUnderstood()
    if whole and is_question(text) and not _is_known(question, text):
        may_he = intended(text)
        return _remark(question, text) or (Remark(may_he) if may_he else NotUnderstood())  # "is it good" says nothing of it
    other_words = whole and question.asking == "command" and isinstance(_understand(question, text), NotUnderstood)
    for form in bared(tuple(tokens)) if other_words and not _remark(question, text) else ():
        if word := gone_ahead(question, form):
            return given_word(question, text, Command("continue", word))
    said = _understood(question, text, tokens, whole)
    if whole and isinstance(said, NotUnderstood):
        said = _remark(question, text) or _as_people_talk(question, tuple(tokens))
    elif whole and isinstance(said, AskFor) and len(tokens) > 1:
        more = _as_people_talk(question, tuple(tokens))  # what was cut off both ends may have been the answer
        said = more if isinstance(more, Answer) else said
    if whole and isinstance(said, Answer) and said.parts[0].id in question.volunteer and unready(text) == "others_clear":
        said = Remark("others_clear")  # who is working on the fan tells nothing of how it runs
    if whole and isinstance(said, Command) and said.name == "back" and _IS_BACK.fullmatch(text):
        said = _as_people_talk(question, tuple(tokens))  # a thing is back, and nobody wants to go there
    if whole and isinstance(said, Command) and said.name == "correct":
        misread = unready(text) == "misread"  # "that's the wrong breaker" and "the meter reads wrong" put no reading right
        said = _remark(question, text) or (Remark("misread") if misread else said)
    free = isinstance(said, Answer) and any(isinstance(p.value, str) and vocabulary()[p.id].kind == "free" for p in said.parts)
    asked_for_help = isinstance(said, Command) and said.name == "help"  # "help me" is no question of what may be said
    if isinstance(said, NotUnderstood | AskFor) or free or asked_for_help:
        by_the_way = isinstance(said, NotUnderstood) or question.asking == "second_source"
        told = _by_the_way(question, said, text) if whole and by_the_way else said
        return (_remark(question, text) if whole else None) or told
    local = text in question.local.get(question.asking, ())  # "all but one"
    if isinstance(said, Answer) and not question.also and not local and counts_another(said.parts[0].id, text):
        return NotUnderstood()
    return given_word(question, text, said)


def _by_the_way(question: Question, said: Meaning, text: str) -> Meaning:
    """What was no answer may speak against a start."""
    about = said_against(question, text)
    asked = about == "backwards" and question.asking in ("rotation", "fan_rotation")
    asked = asked or (about == "valve open" and "injection_hand_valve" in (question.asking, *question.also))
    asked = asked or (about == "service_valves_open" and question.look and "valves" in question.about)
    asked = asked or (about == "service_valves_open" and "cracked" in question.about and "cracked" in text.split())
    return Remark(about) if about and not asked else said


_SECOND = re.compile(r"^(?:(?:yes|yeah|aye|well|a|the|and) )*second (?:pad)?lock\b(?! of (?:his|hers|theirs))")


def _remark(question: Question, text: str) -> Remark | None:
    """What these words say about safety; that the lock is off is an answer where it was asked for."""
    if question.asking in ("fans_locked", "second_source_locked"):
        text = _SECOND.sub("my lock", text)  # one's own on the machine is the first
    answers = question.asking == "confirm" and text.startswith("no ")  # "no, locked" says no, and that it is locked
    said = remark(text) or (None if answers else by_its_name(text, (question.asking, *question.also, *question.volunteer)))
    off = question.asking == "command" and {"lock", "off"} <= set(question.about)  # one that hangs elsewhere, or a second one
    asked = question.asking == "lock_removed" or "unlock" in question.about or off
    own = question.asking == "command" and " my " in f" {text} "
    of_a_lock = said is not None and (said.about == "lock off" or (own and said.about == "another's lock"))
    if said == Remark("another's lock") and question.asking == "follow_up_owner" and "lock" in question.about:
        return None  # whose lock goes on before one's own comes off is what was asked
    return None if asked and of_a_lock else said


def _is_known(question: Question, text: str) -> bool:
    """Whether these words, as they are, are an answer or a command that sounds like a question."""
    free = vocabulary().get(question.asking, _NONE).kind == "free"
    return free or bool(set(trimmed(text)) & set(tagged("commands", "command"))) or text in phrases(question)


def _understood(question: Question, text: str, tokens: list[str], whole: bool) -> Meaning:
    """What the words are to this question and to the commands."""
    if question.asking != "confirm" and vocabulary().get(question.asking, _NONE).kind == "free":
        return _note(question, " ".join(tokens))
    local = {word for names in question.local.values() for word in names}
    first = text.partition(" ")[0]
    for form in trimmed(text):
        if first in local and not form.startswith(first):
            continue  # "a" may be a rack
        meaning = _understand(question, form)
        if not isinstance(meaning, NotUnderstood):
            return meaning if whole or not has_number(meaning) else NotUnderstood()
    return NotUnderstood()


# ---- as people talk


_PEOPLE = ("technician", "follow_up_owner")


def _as_people_talk(question: Question, tokens: tuple[str, ...]) -> Meaning:
    """What the words mean once what people hang on them is taken off, or once they are put right, or with a name before."""
    plain = without_sounds(tokens)
    asked: AskFor | None = None
    people = {word for id in (question.asking, *question.also) if id in _PEOPLE for word in question.local.get(id, ())}
    for form in bared(plain, _is_of_number(question)):
        if people & (set(plain) - set(form)):
            continue  # "boss" may be who is meant
        meaning = _understand(question, " ".join(form))
        if isinstance(meaning, AskFor):
            asked = asked or meaning  # an answer in fewer words goes before it
        elif not isinstance(meaning, NotUnderstood):
            return AskFor(SENTENCES["yes_no"]) if _against(question, plain, form, meaning) else meaning
    if question.all_good and plain[0] in ("no", "nope", "nah") and len(plain) > 1:
        # "No, the hand valve's shut": the no is about the whole
        named = _as_people_talk(replace(question, all_good={}), plain[1:])
        return named if isinstance(named, Answer) else NotUnderstood()
    if question.all_good and (most := all_but(question, plain)):
        return most
    if by_its_name := _named_first(question, plain) or _said_twice(question, plain):
        return by_its_name
    if not question.also and (part := _spotted(question, plain)):
        return Answer((part,))
    if (rest := _behind_a_no(question, plain)) is not None:
        return rest
    if asked := asked or _asked_in(question, plain):
        return asked
    if parts := volunteered(question, plain, loosely):
        asked_for = {part.id for part in parts} & {question.asking, *question.also}
        nearer = None if asked_for or question.asking not in vocabulary() else stands_out(question.asking, plain)
        return Answer((nearer,) if nearer else parts)  # "an overcurrent fault", where the drive's fault was asked for
    if not question.also and (part := _number_in(question, plain)):
        return Answer((part,))
    if question.asking == "follow_up_owner" and (person := person_meant(question, question.asking, plain)):
        return Answer((person,))
    if word := look_stands_out(question, plain):
        return Command("continue", word)
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    standing = [part for id in ids if (part := stands_out(id, plain))]
    if len(standing) == 1:
        return Answer((standing[0],))
    numbers = _is_of_number(question)
    for before, after in put_right(plain, bare_no=numbers):  # "full, no flashing" puts nothing right
        first, instead = _plainly(question, before), _plainly(question, after)
        if isinstance(first, Answer) and (last := last_put_right(question, first, before, after)):
            return last
        if isinstance(first, Answer) and 1 < len(first.parts) < len(question.also) + 1:
            continue  # of three numbers two, and two again: nobody knows which
        if isinstance(first, Answer) and isinstance(instead, Answer) and _same_ids(first, instead):
            return instead
    if machine := machine_down(question, " ".join(plain)):
        return Answer(machine)
    if not stands_otherwise(question, plain) and (said := done(question, " ".join(plain))):
        known = question.asking in vocabulary()
        return Answer((Part(question.asking, True if said == "done" else said),)) if known else Command("continue", "said so")
    if guess := weakened(plain):
        meaning = _plainly(question, guess)
        if isinstance(meaning, Answer) and len(meaning.parts) == 1:
            return Answer((replace(meaning.parts[0], doubt=meaning.parts[0].doubt or "."),))
    return NotUnderstood()


def _none_of_it(question: Question, tokens: tuple[str, ...]) -> Answer | None:
    """ "No alarm", where all is asked for at once: as it should be, and asked back, for it may have been "no, alarm"."""
    ids = [id for id in (question.asking, *question.also) if kind_of(id) == "choice"]
    for id, form in ((id, form) for id in ids for form in bared(tokens)):
        part = one(question, id, " ".join(form)) if form[0] == "no" else None
        if isinstance(part, Part) and part.value == question.all_good.get(id):
            return Answer((replace(part, doubt="."),))
    return None


def _is_of_number(question: Question) -> bool:
    """Whether a number answers it, or may be among what answers it."""
    id = question.of if question.asking == "confirm" else question.asking
    return any(vocabulary().get(i, _NONE).kind in NUMBER_KINDS for i in (id, *question.also))


def _spotted(question: Question, tokens: tuple[str, ...]) -> Part | None:
    return spotted(question, question.asking, tokens) if question.asking in vocabulary() else None


def _number_in(question: Question, tokens: tuple[str, ...]) -> Part | None:
    kind = vocabulary().get(question.asking, _NONE).kind
    return number_in(question, question.asking, tokens) if kind in NUMBER_KINDS else None


def _behind_a_no(question: Question, tokens: tuple[str, ...]) -> Meaning | None:
    """ "No, it's broken": what a no leads to, where no alone would answer nothing."""
    kind = "command" if question.asking == "command" else vocabulary().get(question.asking, _NONE).kind
    noes = ("no", "nope", "nah", *(("wrong",) if "wrong" in question.go_ahead else ()))
    if tokens[0] not in noes or len(tokens) < 2 or question.also or kind not in ("choice", "command"):
        return None
    if kind == "choice" and isinstance(one(question, question.asking, "no"), Part):
        return None
    rest = tokens[1:]
    if kind == "command":
        word = next((word for form in bared(rest) if (word := gone_ahead(question, form))), "")
        return Command("continue", word) if word and "done" not in question.go_ahead else None
    part = next((p for form in bared(rest) if isinstance(p := one(question, question.asking, " ".join(form)), Part)), None)
    part = part or spotted(question, question.asking, rest)
    return Answer((part,)) if part else None


def _asked_in(question: Question, tokens: tuple[str, ...]) -> AskFor | None:
    """ "Kinda low" where a number is asked for: understood, and no answer."""
    if kind_of(question.asking) not in NUMBER_KINDS:
        return None
    sentence = asked_in(question.asking, tokens)
    return AskFor(SENTENCES[sentence]) if sentence else None


def _named_first(question: Question, tokens: tuple[str, ...]) -> Meaning | None:
    """ "The head's high": the words behind the name of what was asked."""
    for length in range(min(5, len(tokens) - 1), 0, -1):
        name = " ".join((*tokens[: length - 1], tokens[length - 1].removesuffix("'s")))
        if nearest(question, name)[:1] == [question.asking]:
            for form in bared(tokens[length:], _is_of_number(question)):
                meaning = _understand(replace(question, also=()), " ".join(form))
                if isinstance(meaning, Answer | AskFor):
                    return meaning
    return None


def _said_twice(question: Question, tokens: tuple[str, ...]) -> Meaning | None:
    """ "Full, no bubbles": the same answer in other words."""
    entry = vocabulary().get(question.asking, _NONE)
    if question.also or entry.kind not in ("choice", "yes_no", "acknowledge"):
        return None
    for cut in range(1, len(tokens)):
        halves = [_of_bared(question, half) for half in (tokens[:cut], tokens[cut:])]
        if halves[0] is not None and halves[0] == halves[1]:
            return Answer((halves[0],))
    return None


def _of_bared(question: Question, tokens: tuple[str, ...]) -> Part | None:
    said = next((said for form in bared(tokens) if (said := one(question, question.asking, " ".join(form)))), None)
    return said if isinstance(said, Part) else None


def _plainly(question: Question, tokens: tuple[str, ...]) -> Meaning:
    """The meaning of words that are neither put right nor a guess."""
    for form in bared(tokens, _is_of_number(question)):
        meaning = _understand(question, " ".join(form))
        if not isinstance(meaning, NotUnderstood):
            return NotUnderstood() if _against(question, tokens, form, meaning) else meaning
    parts = volunteered(question, tokens, one)
    return Answer(parts) if parts else NotUnderstood()


def _same_ids(first: Answer, instead: Answer) -> bool:
    return [part.id for part in first.parts] == [part.id for part in instead.parts]


_YES = frozenset(("yes", "yeah", "yep", "yup", "sure"))


def _against(question: Question, said: tuple[str, ...], form: tuple[str, ...], meaning: Meaning) -> bool:
    """A yes before a no: "yeah, it's off"."""
    if said == form or not _YES & set(said[: len(said) - len(form)]):
        return False
    if isinstance(meaning, Confirmed):
        return not meaning.yes
    kinds = {vocabulary()[p.id].kind for p in meaning.parts} if isinstance(meaning, Answer) else set()
    return isinstance(meaning, Answer) and kinds == {"yes_no"} and any(p.value == "no" for p in meaning.parts)


_NONE = Entry("", "", "", "", "", None, None, (), False, "", "")


def _understand(question: Question, text: str) -> Meaning:
    if question.asking == "confirm":
        return to_confirm(question, text)
    if question.asking == "command":
        if text in question.go_ahead:
            return Command("continue", text if question.look else "")
        if text in question.other_words:
            return Command("continue", question.other_words[text] if question.look else "said so")
        if (steered := _go_ahead(question, text)) is not None:
            return steered
        warned = _answer(replace(question, asking=question.also[0], also=question.also[1:]), text) if question.also else None
        measured = vocabulary().get(question.of, _NONE).kind in NUMBER_KINDS  # "no, fourteen" is no go-ahead, it puts it right
        return warned or (put_right_by_a_no(question, text) if measured else None) or steering(question, text)
    if question.pending.startswith("{}"):
        meaning = _answer(question, question.pending.format(text))
        if isinstance(meaning, Answer):
            return meaning
    if question.all_good and text.startswith("no ") and (good := _none_of_it(question, tuple(text.split()))):
        return good
    meaning = _answer(question, text) or put_right_by_a_no(question, text) or steering(question, text)
    if isinstance(meaning, NotUnderstood) and (text in tagged("yes_no", "yes") or text in tagged("yes_no", "no")):
        return not_so(question)
    if question.pending and isinstance(meaning, NotUnderstood):
        return _answer(question, question.pending.format(text)) or meaning
    return meaning


def _go_ahead(question: Question, text: str) -> Meaning | None:
    """A yes or a no where a go-ahead is waited for."""
    if question.pending and text in (*tagged("yes_no", "yes"), "correct", "right", "that's right", "exactly"):
        return Command("continue", question.pending)
    if question.pending and text in tagged("yes_no", "no"):
        return AskFor("")  # what was asked back is not so: it is asked again
    plain = bool({"done", "understood"} & set(question.go_ahead))
    heard_only = "understood" not in question.go_ahead and text in tagged("commands", "heard_only")  # heard is not done
    for word in ("yes", "no"):
        if word in question.go_ahead and text in tagged("yes_no", word):
            return Command("continue", word if question.look else "said so")
    if plain and text in tagged("commands", "go_ahead") and not heard_only:
        return Command("continue", "said so")
    if not heard_only and text not in (*tagged("commands", "not_ahead"), *tagged("yes_no", "yes"), *tagged("yes_no", "no")):
        return None
    if text in tagged("commands", "not_ahead") and plain and "understood" not in question.go_ahead:
        return Command("hold")
    words = question.go_ahead[:1] if "understood" in question.go_ahead else question.go_ahead[:4]
    return AskFor(f"Say {' or '.join(words)}, or hold on.")


def _note(question: Question, text: str) -> Meaning:
    """Free speech: every word counts, except a command said alone and the words that end a note."""
    if text in tagged("commands", "command"):
        return steering(question, text)
    if (said := in_free_words(question.asking, text)) is None:
        return NotUnderstood()  # "who's this now"
    return Answer((Part(question.asking, said),)) if said else Command("cancel")


# ---- answers


_NONE_OF_IT = (
    "none", "nothing", "no", "none of it", "none at all", "neither", "no none", "nothing at all", "no nothing", "nope none",
    "no to both", "nope nothing", "none of that", "none of either", "nothing and nothing", "none and none", "none of those",
    "zero and none",
)  # fmt: skip


_IS_BACK = re.compile(r"(?:yes |yeah )?(?:it|they|that|he|she|everything)(?:'s|'re| is| are)(?: all)? back(?: (?:on|in|now))?")
_GOOD = ("good", "fine", "looks good", "looks fine", "looking good", "it's good", "it's fine", "it looks good", "it looks fine")


def _answer(question: Question, text: str) -> Meaning | None:
    ids = (question.asking, *question.also)
    if len(ids) > 1:
        good = {id: value for id, value in question.all_good.items() if id in ids}
        whole = any(" ".join(form) in tagged("choices", "all_good") for form in bared(tuple(text.split())))
        whole = whole or (bool(good) and everything_good(text))
        whole = whole or (question.yes_is_all and not question.alone and (text in _GOOD or text in tagged("yes_no", "yes")))
        whole = whole or (text in _NONE_OF_IT and all(value in ("none", 0.0) for value in good.values()))
        if good and whole:
            return Answer(tuple(part_of(question, id, value) for id, value in good.items()))
        if good and text in tagged("yes_no", "refused"):
            return AskFor(SENTENCES["not_good"])
        if question.yes_is_all and not question.alone and _of_several(question, ids, text):
            return AskFor(SENTENCES["not_good"])
        # "No, the valve is closed": the no is about the whole, not about the first thing named.
        rest = text.removeprefix("no ") if good else text
        several = in_one_breath(question, ids, rest, one) or in_one_breath(question, ids, text, one)
        if several:
            return Answer(several)
    elif question.all_good and text in tagged("choices", "all_good") and question.asking in question.all_good:
        return Answer((part_of(question, question.asking, question.all_good[question.asking]),))
    bare = text in tagged("yes_no", "yes") or text in tagged("yes_no", "no")
    said = bare and any(isinstance(one(question, id, text), Part) for id in ids)
    if len(ids) > 1 and bare and not said and vocabulary()[ids[0]].kind == "choice":
        return not_so(question)  # never by the words of what is asked behind it: "how many?"
    found = [meaning for id in ids if (meaning := one(question, id, text)) is not None]
    part = next((meaning for meaning in found if isinstance(meaning, Part)), None)
    if part:  # an answer to one of them goes before what would be asked about another
        return Answer((part,))
    return next((meaning for meaning in found if not isinstance(meaning, Part)), None)


def _of_several(question: Question, ids: tuple[str, ...], text: str) -> bool:
    """Whether bare words may be of more than one of the things that were asked for: "loose", the coil or the probe."""
    fits = [id for id in ids if isinstance(one(question, id, text), Part)]
    return len(fits) > 1 and not any(is_named(id, text) for id in fits)
