"""An answer that no grammar has is asked back; it counts where both ears make the same of it, by words of their own."""

import numpy as np
import pytest

from assistant.hearing.decision import ACCEPTED, CONFIRM, UNCLEAR, Hearing
from assistant.hearing.freely import FreeWords, freely
from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.in_sentences import with_pauses
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
    """What it comes to where the trade's sentences and all words make the same of it."""
    return freely(question, utterance(snr_db), unclear(), Ear(own, score), of_both(dictated))  # type: ignore[arg-type]


def of_both(words: str) -> FreeWords:
    return FreeWords(lambda: words, lambda: words)


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


def test_a_number_counts_where_both_ears_have_the_same_words():
    said = heard(Question("receiver_level"), "thirty five or thereabouts", "thirty five or thereabouts")
    assert said.status == ACCEPTED
    assert said.meaning == Answer((Part("receiver_level", 35.0, "percent"),))


@pytest.mark.parametrize(("own", "sentences", "of_any", "score"), [
    ("thirty five or thereabouts", "it's thirty nine or thereabouts", "thirty five or thereabouts", 0.0),
    ("thirty five or thereabouts", "thirty five or thereabouts", "thirty five or thereabouts", -0.5),
    ("it's fifteen or thereabouts", "it's fifteen or thereabouts", "it's fifty or thereabouts", 0.0),
    ("it's at eight or so", "it's at eight or so", "its a date or so", -0.2),
])  # fmt: skip
def test_a_number_in_doubt_or_with_a_twin_does_not(own: str, sentences: str, of_any: str, score: float):
    words = FreeWords(lambda: sentences, lambda: of_any)
    said = freely(Question("receiver_level"), utterance(), unclear(), Ear(own, score), words)  # type: ignore[arg-type]
    assert said.status in (CONFIRM, UNCLEAR)


@pytest.mark.parametrize(("asking", "words"), [
    ("locked_out", "i've got my lock on it now"), ("jumper_removed", "i've pulled the jumper out of there"),
])  # fmt: skip
def test_what_safety_hangs_on_counts_where_it_is_very_clear_or_all_three_hearings_agree(asking: str, words: str):
    asked = Question(asking)
    assert heard(asked, words, words, score=-0.3).status == ACCEPTED
    differing = FreeWords(lambda: words, lambda: "something or other")
    assert freely(asked, utterance(), unclear(), Ear(words, -0.3), differing).status == CONFIRM  # type: ignore[arg-type]
    assert freely(asked, utterance(), unclear(), Ear(words), differing).status == ACCEPTED  # type: ignore[arg-type]
    assert heard(asked, words, f"yeah {words}").status == CONFIRM
    assert heard(asked, words, words, score=-1.0).status == CONFIRM


def test_what_safety_hangs_on_does_not_count_with_its_opposite_near():
    class Unsure(Ear):
        def opinion(self, sound: object, candidates: object) -> Opinion:
            return Opinion({}, {}, (Guess(self.own, 0.0), Guess("i've not got my lock on it now", -0.8)))

    words = "i've got my lock on it now"
    said = freely(Question("locked_out"), utterance(), unclear(), Unsure(words), of_both(words))  # type: ignore[arg-type]
    assert said.status == CONFIRM


def test_a_pause_parts_one_thing_from_the_next_as_a_comma_does():
    asked = Question("watch.suction_pressure", ("watch.discharge_temperature", "watch.discharge_pressure", "watch.amps"))
    with_them = "suction twenty three, discharge temp one ninety, head two thirty eight, thirty nine amps"
    words = with_them.replace(",", "")
    assert heard(asked, words, words).status == UNCLEAR
    said = freely(asked, utterance(), unclear(), Ear(words), FreeWords(lambda: with_them, lambda: ""))  # type: ignore[arg-type]
    assert isinstance(said.meaning, Answer)
    assert [part.value for part in said.meaning.parts] == [23.0, 190.0, 238.0, 39.0]


def test_a_number_that_the_grammars_doubt_stays_in_doubt():
    """Both ears lost the k of one voice's "four point seven k"; the grammars' probability alone asked it back."""
    words, part = "it's four point seven", Part("injection_coil_ohms", 4.7, "ohm")
    doubted = Hearing(words, CONFIRM, 4.7, "ohm", 0.9, 300, Answer((part,)))
    assert freely(Question(part.id), utterance(), doubted, Ear(words), of_both(words)).status == CONFIRM  # type: ignore[arg-type]


def test_a_number_with_no_word_beside_it_is_the_grammars_own():
    assert heard(Question("receiver_level"), "thirty two", "thirty two").status == CONFIRM


def test_a_pause_is_a_gap_between_two_words():
    spans = ((0.0, 0.3), (0.32, 0.6), (0.9, 1.2))
    assert with_pauses(Guess("full as can", 0.0, spans)) == "full as, can"
    assert with_pauses(Guess("full as can", 0.0)) == "full as can"
    assert with_pauses(Guess("", 0.0)) == ""


def counted(words: str, *parts: Part) -> Hearing:
    return Hearing(words, ACCEPTED, parts[0].value, None, 0.99, 300, Answer(parts))


def test_what_counted_by_a_part_of_the_words_is_asked_back_by_the_whole_of_them():
    asked, words = Question("tripped_count", also=("alarm_minutes_ago",)), "three ten minutes ago hang on a minute"
    part = counted(words, Part("tripped_count", 3.0), Part("alarm_minutes_ago", 1.0, "min"))
    said = freely(asked, utterance(), part, None, of_both(words))
    assert said.status == CONFIRM
    assert isinstance(said.meaning, Answer)
    assert [part.value for part in said.meaning.parts] == [3.0, 10.0]
    whole = counted("it's clean as a whistle", Part("condenser_face", "clean"))
    assert freely(Question("condenser_face"), utterance(), whole, None, of_both("")) == whole


class Letters(Ear):
    """A second ear by whose letters one text is likelier than any other."""

    def opinion(self, sound: object, candidates: object) -> Opinion:
        return Opinion({}, {text: 0.0 if text == self.own else -9.0 for text in candidates}, ())  # type: ignore[attr-defined]


@pytest.mark.parametrize("place", ["flare nut on the strainer", "flair not on the strainer"])
def test_a_place_is_told_in_the_words_whose_letters_the_second_ear_finds_likelier(place: str):
    by_any = counted("the flair not on the strainer", Part("leak_place", "flair not on the strainer"))
    words = of_both("the flare nut on the strainer")
    said = freely(Question("leak_place"), utterance(), by_any, Letters(f"the {place}"), words)  # type: ignore[arg-type]
    assert said.value == place


def test_a_choice_that_the_grammars_would_ask_back_counts_where_both_ears_make_it():
    asked_back = Hearing("squeak clean", CONFIRM, "clean", None, 0.7, 300, Answer((Part("condenser_face", "clean"),)))
    said = freely(
        Question("condenser_face"), utterance(), asked_back, Ear("it's squeaky clean"), of_both("squeaky clean")  # type: ignore[arg-type]
    )
    assert said.status == ACCEPTED


def test_a_number_is_asked_back_from_the_first_ears_words_never_from_the_seconds_alone():
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
