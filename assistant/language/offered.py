"""What may be said at a question: the words that answer it, and every phrase that it and the commands understand."""

from functools import cache

from assistant.language.answering import tables
from assistant.language.meaning import Question
from assistant.language.phrasebook import automaton, tagged
from assistant.language.vocabulary import vocabulary


def choices(question: Question) -> list[str]:
    """The words that answer this question, the canonical ones first; empty where a number answers it."""
    if question.asking == "confirm":
        return ["yes", "no"]
    if question.asking == "command":
        return list(question.go_ahead)
    entry = vocabulary()[question.asking]
    local = list(question.local.get(entry.id, ()))
    if entry.kind == "yes_no":
        return ["yes", "no", *local]
    own = [p for grammar, rule in tables(entry) for p, tag in tagged(grammar, rule).items() if tag == "done"]
    if entry.kind == "acknowledge":
        return list(dict.fromkeys(["done", *own, *local]))
    return list(dict.fromkeys([*entry.choices, *local])) if entry.kind == "choice" else local


def offered(question: Question) -> list[str]:
    """Of the words that answer this question the first for each answer: what is read out."""
    of_site = question.local.get(question.asking, {})
    said: list[str] = []
    for word in choices(question):
        if word not in of_site or of_site[word] not in [of_site.get(other) for other in said]:
            said.append(word)
    return said


def commands() -> list[str]:
    """Every phrase that steers a call, a command's best first."""
    return list(tagged("commands", "command"))


def phrases(question: Question) -> list[str]:
    """Every fixed phrase that this question and the commands understand.

    Numbers are not listed; their words are `number_words` of the kind.
    """
    if question.asking == "confirm":
        own = [*tagged("yes_no", "agreed"), *tagged("yes_no", "refused"), *tagged("yes_no", "neither")]
        own += own_phrases(question, question.of) if question.of in vocabulary() else []
    elif question.asking == "command":
        plain = {"done", "understood"} & set(question.go_ahead)
        own = [*question.go_ahead, *question.other_words, *(tagged("commands", "go_ahead_heard") if plain else ())]
        own += [phrase for id in question.also for phrase in own_phrases(question, id)]
    else:
        own = [p for id in (question.asking, *question.also) for p in own_phrases(question, id)]
        own += tagged("choices", "all_good") if question.all_good else {}
    return list(dict.fromkeys([*own, *commands()]))


def own_phrases(question: Question, id: str) -> list[str]:
    entry = vocabulary()[id]
    own = [*entry.choices, *question.local.get(id, {})]
    own += [phrase for grammar, rule in tables(entry) for phrase in tagged(grammar, rule)]
    return own + (list(tagged("yes_no", "answer")) if entry.kind == "yes_no" else [])


@cache
def number_words(kind: str) -> frozenset[str]:
    """Every word of the spoken numbers of a kind."""
    return frozenset(word for row in automaton("numbers", kind) for word in row if word)
