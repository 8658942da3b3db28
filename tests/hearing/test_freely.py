"""An answer that no grammar has is asked back; it counts where both ears make the same choice of it, by words of their own."""

import numpy as np
import pytest

from assistant.hearing.decision import ACCEPTED, CONFIRM, UNCLEAR, Hearing
from assistant.hearing.freely import freely
from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.listener import Utterance
from assistant.language.meaning import Answer, AskFor, Command, NotUnderstood, Part, Question, Remark


class Ear:
    """A second ear that hears what it is told to."""

    def __init__(self, own: str, score: float = 0.0) -> None:
        self.own, self.score = own, score

    def ahead(self, sound: object) -> None: ...

    def likeliest(self, sound: object) -> str:
        return self.own

    def knows(self, words: str) -> bool:
        return True

    def opinion(self, sound: object, candidates: object) -> Opinion:
        return Opinion({}, {}, (Guess(self.own, self.score),))


def utterance(snr_db: float = 20.0) -> Utterance:
    sound = np.zeros(16000, np.int16)
    made = Utterance(sound, sound, [[]], len(sound))
    made.snr_db = snr_db
    return made


def unclear(too_loud: bool = False) -> Hearing:
    return Hearing("", UNCLEAR, None, None, 0.0, 300, NotUnderstood(), too_loud=too_loud)


def heard(question: Question, own: str = "", dictated: str = "", snr_db: float = 20.0, score: float = 0.0) -> Hearing:
    return freely(question, utterance(snr_db), unclear(), Ear(own, score), lambda: dictated)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("own", "dictated"), [("it's squeaky clean", ""), ("it's <other>", "it's boggin"), ("", "it's choked up")]
)
def test_a_natural_sentence_that_no_grammar_has_is_asked_back(own: str, dictated: str):
    assert heard(Question("condenser_face"), own, dictated).status == CONFIRM


def test_what_is_no_answer_when_heard_freely_is_asked_for_again():
    assert heard(Question("condenser_face"), "the gauge is over there", "pass me that wrench").status == UNCLEAR


def test_a_choice_that_both_ears_make_in_their_own_words_counts():
    said = heard(Question("condenser_face"), "it's squeaky clean", "looks squeaky clean")
    assert said.status == ACCEPTED
    assert said.meaning == Answer((Part("condenser_face", "clean"),))


@pytest.mark.parametrize(("dictated", "score"), [("it's choked up", 0.0), ("it's squeaky clean", -3.0), ("", 0.0)])
def test_it_does_not_where_they_differ_or_the_second_is_unsure(dictated: str, score: float):
    assert heard(Question("condenser_face"), "it's squeaky clean", dictated, score=score).status == CONFIRM


def test_a_look_that_both_ears_make_goes_on():
    look = Question("command", go_ahead=("fans running", "fan off"), look=True, loose=True, about=("fans",))
    assert heard(look, "the fans running", "fans running").meaning == Command("continue", "fans running")
    assert heard(look, "the fans running", "the fans runny").status == UNCLEAR


@pytest.mark.parametrize(("asking", "words"), [
    ("receiver_level", "thirty five or thereabouts"), ("locked_out", "i've got my lock on it now"),
    ("jumper_removed", "i've pulled the jumper out of there"),
])  # fmt: skip
def test_a_number_and_what_safety_hangs_on_never_do(asking: str, words: str):
    assert heard(Question(asking), words, words).status == CONFIRM


def test_a_choice_that_the_grammars_would_ask_back_counts_where_both_ears_make_it():
    asked_back = Hearing("squeak clean", CONFIRM, "clean", None, 0.7, 300, Answer((Part("condenser_face", "clean"),)))
    said = freely(
        Question("condenser_face"), utterance(), asked_back, Ear("it's squeaky clean"), lambda: "squeaky clean"  # type: ignore[arg-type]
    )
    assert said.status == ACCEPTED


def test_a_number_is_asked_back_from_dictation_never_from_the_second_ears_few_words():
    assert heard(Question("receiver_level"), "it get hot at five").status == UNCLEAR
    assert heard(Question("receiver_level"), "", "thirty five or thereabouts").status == CONFIRM


def test_a_lock_heard_freely_is_asked_back_and_not_taken():
    assert heard(Question("locked_out"), "i've got my lock on it now").status == CONFIRM
    assert heard(Question("locked_out"), "i've got to lock it now").status == UNCLEAR


def test_what_opens_a_panel_is_never_guessed_from_free_speech():
    assert heard(Question("dead_volts.power"), "", "the worst of them is point one").status == UNCLEAR


def test_in_a_loud_room_nothing_is_heard_freely():
    assert heard(Question("condenser_face"), "it's squeaky clean", snr_db=6.0).status == UNCLEAR


def test_of_several_things_asked_half_an_answer_is_not_asked_back():
    asked = Question("sight_glass", also=("defrost_state",))
    assert heard(asked, "", "the glass is full").status == UNCLEAR


def test_where_done_is_waited_for_it_asks_for_the_word():
    asked = Question("command", go_ahead=("done", "it's back"), about=("wire", "back"))
    said = heard(asked, "", "the wire's back on its terminal")
    assert said.status == UNCLEAR
    assert said.meaning == AskFor("Say done or it's back, or hold on.")


def test_a_value_that_was_refused_is_not_asked_back_again():
    assert heard(Question("condenser_face", refused=("clean",)), "it's squeaky clean").status == UNCLEAR


def test_what_concerns_safety_is_asked_back_at_any_question():
    hearing = heard(Question("condenser_face"), "", "hey the discharge valve is still shut")
    assert (hearing.status, hearing.meaning) == (CONFIRM, Remark("service_valves_open"))
