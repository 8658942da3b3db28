"""What is said to a value that was read back: yes, no, the value again, or another one; and the words that steer a call."""

import re

from assistant.language.answering import SENTENCES, one
from assistant.language.both_ends import trimmed
from assistant.language.correcting import by_name
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import AskFor, Command, Confirmed, Meaning, NotUnderstood, Part, Question
from assistant.language.offered import offered
from assistant.language.phrasebook import tagged
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of, vocabulary


def to_confirm(question: Question, text: str) -> Meaning:
    """Yes, no, the value again, or another one: "no, twelve"."""
    if text in tagged("yes_no", "agreed"):
        return Confirmed(True)
    if question.of != "said so" and _GO_AHEAD.fullmatch(text):
        return Confirmed(True)
    if text in tagged("yes_no", "refused"):
        return Confirmed(False)
    if text in tagged("yes_no", "neither") or text == "correction":
        return AskFor(SENTENCES["yes_no"])
    if question.of not in vocabulary():  # a command is confirmed
        return steering(question, text)
    said = _value_of(question, text)
    if isinstance(said, Part):
        return Confirmed(True) if said.value == question.value else Confirmed(False, said)
    instead = put_right_by_a_no(question, text)
    if instead:
        return instead
    command = steering(question, text)
    return said if isinstance(said, AskFor) and isinstance(command, NotUnderstood) else command


_GO_AHEAD = re.compile(
    r"(?:(?:yes|yeah|yep|yup|aye|sure|okay|ok|right) )+(?:please )?(?:go ahead|go on|go for it|do it|do that|please do"
    r"|please|that's right|it is"
    r"|you can|you may|let's|that'll do|that'll be (?:fine|all)|that's fine|fine|leave it locked|close it|finish it"
    r"|(?:it's|it is|she's|he's|all's|everything's|that's|they're)(?: running| going| all| still| just| looking)*"
    r" (?:good|fine|well|okay|great|normal|steady)(?: now)?(?: (?:so |and )?(?:close|finish) it)?|running (?:good|fine|well)"
    r"|thanks|thank you)(?: (?:please|then|now|thanks|and close it|and do"
    r" it))*|please do|do it please|go for it"
)
"""A yes with what is to be done; never to a doubt about safety."""


def _value_of(question: Question, text: str) -> Part | AskFor | None:
    """These words as a value of the id that was read back."""
    said = one(question, question.of, text)
    return said if isinstance(said, Part | AskFor) else None


_NO = re.compile(
    r"(?:arre |oh )?(?:no|nope|wrong)(?: (?:no|nope|sir|ma'am|boss|mate|love|pal|man)\b)*"
    r"(?: it's| it is| that's| i said| make it)? (.+)"
)
_TWICE = re.compile(rf"\b(?!(?:{'|'.join(sorted(FIGURES))})\b)(\w+) \1$")
"""A word said once more; of a number each figure counts: "four five five"."""
_MEANT = re.compile(r"(?:(?:no|sorry|wait|oh) )*(?:correction|scratch that|make (?:it|that)|i meant?(?: to say)?)(?: it's)? (.+)")
"""The same where no number is asked for."""


def put_right_by_a_no(question: Question, text: str) -> Meaning | None:
    """ "No, twelve", "wrong": about the value read back last, where no is no answer to the question."""
    match = _NO.fullmatch(text) or (_MEANT.fullmatch(text) if question.asking == "command" else None)
    if match and question.of:
        for form in trimmed(_TWICE.sub(r"\1", match[1])):
            if form == "one" != match[1]:
                continue  # "no, got one"
            said = _value_of(question, form)
            if said:
                return Confirmed(False, said) if isinstance(said, Part) else said
    if question.asking in ("confirm", "command"):
        return None
    kind = kind_of(question.asking)
    if text in ("nope", "nah"):  # an answer to what is asked, never to the reading before
        return not_so(question) if kind in NUMBER_KINDS or kind == "choice" else None
    refused = text in ("no", "wrong", "that's wrong", "no that's wrong") and (
        kind in NUMBER_KINDS or (question.of and kind == "choice")
    )
    if refused or (kind in NUMBER_KINDS and match and _is_number(question, match[1])):
        return Command("correct", question.of)
    return None


def not_so(question: Question) -> AskFor:
    """What is said to a no, or a yes, that answers nothing here."""
    words = offered(question)
    if kind_of(question.asking) in NUMBER_KINDS:
        return AskFor("Say the number, or correction for the one before.")
    if kind_of(question.asking) not in ("choice", "yes_no"):
        return AskFor(f"Say {words[0]} when it is so.")
    return AskFor(f"{', '.join(words[:-1])} or {words[-1]}?".capitalize()) if 1 < len(words) <= 8 else AskFor("Which one?")


def _is_number(question: Question, text: str) -> bool:
    return isinstance(one(question, question.asking, text), Part | AskFor)


def steering(question: Question, text: str) -> Meaning:
    commands = tagged("commands", "command")
    if text in commands:
        name, _, about = commands[text].partition(" ")
        return Command(name, about)
    return by_name(question, text) or NotUnderstood()
