"""What counts, what is asked back, what is asked for again."""

from collections.abc import Sequence
from datetime import UTC, datetime

import numpy as np
import pytest

from assistant.call.heard import Heard, Unclear
from assistant.hearing.decision import Hearing, judge, silent
from assistant.hearing.evidence import teen_or_ten, weigh
from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.listener import Utterance
from assistant.language.grammar import understand
from assistant.language.meaning import Command, Question, Remark
from assistant.sound.audio_file import Samples

NOON = datetime(2026, 3, 7, 12, tzinfo=UTC)
PRESSURE = Question("discharge_pressure")
Lists = list[list[tuple[str, float]]]


class _Says:
    """A second ear with a ready opinion."""

    def __init__(self, opinion: Opinion) -> None:
        self._opinion = opinion

    def ahead(self, sound: Samples) -> None:
        """Nothing to begin."""

    def likeliest(self, sound: Samples) -> str:
        return self._opinion.own[0].words

    def knows(self, words: str) -> bool:
        return "north" not in words

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        return self._opinion


def _both(question: Question, lists: Lists, scores: dict[str, float], free: tuple[str, float] | None = None, snr_db: float = 25.0,
          spoken_s: float = 0.8) -> Hearing:  # fmt: skip
    """Judged with a second ear that gives these texts these log probabilities by words, and three times them by letters."""
    best = max(scores, key=lambda text: scores[text])
    own = free or (best, scores[best])
    opinion = Opinion(scores, {text: 3 * score for text, score in scores.items()}, (Guess(*own),))
    found = judge(question, _utterance(lists, snr_db, spoken_s), _Says(opinion))
    assert found is not None
    return found


def _utterance(lists: Lists, snr_db: float, spoken_s: float = 0.8) -> Utterance:
    """Speech at this loudness over the noise before it."""
    rng = np.random.default_rng(1)
    lead = rng.normal(0, 100, 8000)
    speech = rng.normal(0, 100 * np.sqrt(10 ** (snr_db / 10) + 1), round(16000 * spoken_s))
    sound = np.concatenate([lead, speech, rng.normal(0, 100, 4800)])
    hearings = [[Guess(words, score) for words, score in row] for row in lists]
    voiced = np.array([8000 <= at < 8000 + len(speech) for at in range(0, len(sound) - 511, 512)])
    return Utterance(
        lead.astype(np.int16), np.clip(sound, -32768, 32767).astype(np.int16), hearings, len(sound), voiced
    )


def _judged(question: Question, lists: Lists, snr_db: float = 30.0, spoken_s: float = 0.8) -> Hearing:
    found = judge(question, _utterance(lists, snr_db, spoken_s))
    assert found is not None
    return found


SURE: Lists = [[("two oh eight", 100.0)]] * 3


def test_a_number_that_every_hearing_agrees_on_counts() -> None:
    heard = _judged(PRESSURE, SURE)
    assert (heard.status, heard.value, heard.unit) == ("accepted", 208.0, "psig")
    assert heard.confidence > 0.95
    assert 280 <= (heard.late_ms or 0) <= 320


def test_two_ways_of_saying_it_are_one_value() -> None:
    lists: Lists = [[("two oh eight", 100.0), ("two hundred eight", 99.8)]] * 3
    assert _judged(PRESSURE, lists).status == "accepted"


def test_hearings_that_differ_are_asked_back_or_again_but_never_count() -> None:
    lists: Lists = [
        [("two oh eight", 100.0), ("two oh five", 99.0)],
        [("two oh five", 100.0), ("two oh eight", 99.5)],
        [("two oh eight", 100.0), ("two oh five", 99.9)],
    ]
    assert _judged(PRESSURE, lists).status in ("confirm", "unclear")


@pytest.mark.parametrize(
    ("words", "twin"),
    [
        ("two hundred fifteen", "two hundred fifty"), ("two fifty", "two fifteen"), ("ninety", "nineteen"),
        ("minus thirty", "minus thirteen"), ("one eighteen", "one eighty"),
    ],
)  # fmt: skip
def test_a_number_is_asked_back_when_its_twin_is_near(words: str, twin: str) -> None:
    question = Question("suction_temperature" if words in ("ninety", "minus thirty") else "discharge_pressure")
    near: Lists = [[(words, 100.0), (twin, 95.0)]] * 3
    far: Lists = [[(words, 100.0), (twin, 93.0)]] * 3
    assert teen_or_ten(words)
    assert _judged(question, near, snr_db=25.0).status == "confirm"
    assert _judged(question, far, snr_db=25.0).status == "accepted"


def test_a_number_for_which_the_second_ear_has_likelier_words_is_doubted_and_talk_leaves_no_guess() -> None:
    question, lists = Question("suction_temperature"), [[("sixty one", 100.0)]]
    assert _both(question, lists, {"sixty one": -0.1}).status == "accepted"
    doubted = _both(question, lists, {"sixty one": -5.5}, ("thank you", -0.5), snr_db=12.0)
    assert doubted.confidence < _both(question, lists, {"sixty one": -5.5}, snr_db=12.0).confidence
    talk = _both(question, lists, {"sixty one": -21.0}, ("<other> are five <other>", -1.0))
    assert (talk.status, talk.rivals) == ("unclear", ())


def test_in_much_noise_a_number_counts_only_well_ahead_of_every_rival() -> None:
    alone: Lists = [[("two fifty four", 100.0)]] * 3
    rival: Lists = [[("two fifty four", 100.0), ("two fifty", 97.3)]] * 3
    once: Lists = [[("two fifty four", 100.0)], [("two fifty four", 100.0), ("two fifty", 97.3)], [("two fifty four", 100.0)]]
    assert _judged(PRESSURE, alone, 12.0).status == "accepted"
    assert _judged(PRESSURE, rival, 12.0).status == "confirm"
    assert _judged(PRESSURE, once, 12.0).status == "confirm"
    assert _judged(PRESSURE, rival, 25.0).status == "accepted"


@pytest.mark.parametrize("words", ["two fifty four", "two oh eight", "twelve", "twenty five", "three"])
def test_other_numbers_have_no_twin(words: str) -> None:
    assert not teen_or_ten(words)


def test_a_number_of_one_word_must_be_surer_to_count() -> None:
    question = Question("suction_pressure")
    lists: Lists = [[("forty one", 100.0), ("forty five", 97.0)]]
    two_words = _both(question, lists, {"forty one": -1.0, "forty five": -9.0}, snr_db=12.0)
    one_word = _both(question, [[("twelve", 100.0), ("eleven", 97.0)]], {"twelve": -1.0, "eleven": -9.0}, snr_db=12.0)
    assert one_word.confidence == pytest.approx(two_words.confidence)
    assert (two_words.status, one_word.status) == ("accepted", "confirm")
    surer = _both(question, [[("twelve", 100.0), ("eleven", 96.0)]], {"twelve": -1.0, "eleven": -9.0}, snr_db=12.0)
    assert surer.status == "accepted"


def test_one_digit_where_hundreds_are_usual_is_asked_back() -> None:
    assert _judged(PRESSURE, [[("three", 100.0)]] * 3, snr_db=40.0).status == "confirm"


def test_bare_hundreds_are_asked_back_in_noise_for_what_may_follow_a_pause() -> None:
    scores = {"three hundred": -0.5, "three fifty": -9.0}
    assert _both(PRESSURE, [[("three hundred", 9.0), ("three fifty", 0.0)]], scores, snr_db=10.0).status == "confirm"
    assert _both(PRESSURE, [[("three hundred", 9.0), ("three fifty", 0.0)]], scores, snr_db=25.0).status == "accepted"


def test_a_value_outside_its_range_is_asked_back() -> None:
    assert _judged(Question("suction_temperature"), [[("two oh eight", 100.0)]] * 3, 40.0).status == "confirm"


def test_a_value_that_was_refused_is_not_offered_again() -> None:
    question = Question("discharge_pressure", refused=(250.0,))
    lists: Lists = [[("two fifty", 100.0), ("two fifteen", 98.0)]] * 3
    assert _judged(question, lists).value == 215.0


def test_a_twin_heard_for_the_value_asked_back_does_not_agree_with_it() -> None:
    fifteen = Question("confirm", of="suction_pressure", value=15.0)
    assert _judged(fifteen, [[("fifteen", 100.0)]] * 3).status == "unclear"
    assert _judged(fifteen, [[("yes", 100.0)]] * 3).value == "yes"
    twelve = Question("confirm", of="suction_pressure", value=12.0)
    assert _judged(twelve, [[("twelve", 100.0)]] * 3, 40.0).value == "yes"
    other = _judged(fifteen, [[("no twelve", 100.0)]] * 3)
    assert (other.status, other.value) == ("confirm", 12.0)


def test_an_unknown_word_beside_a_number_is_no_number() -> None:
    heard = _judged(PRESSURE, [[("[unk] fifteen", 100.0)]] * 3)
    assert (heard.status, heard.value) == ("unclear", None)


def test_a_command_is_named_or_not_understood_but_never_asked_back() -> None:
    heard = _judged(PRESSURE, [[("say again", 100.0)]] * 3)
    assert (heard.status, heard.value) == ("command", "repeat")
    unsure: Lists = [[("go back", 100.0), ("four ten", 99.9)], [("four ten", 100.0)], [("go back", 100.0)]]
    assert _judged(PRESSURE, unsure, 5.0).status != "command"


NEXT = Question("suction_temperature", of="suction_pressure")


def test_no_twelve_to_a_value_on_record_is_asked_back_and_not_taken_when_unsure() -> None:
    heard = _judged(NEXT, [[("no twelve", 100.0)]] * 3)
    assert (heard.status, heard.value) == ("confirm", 12.0)
    fact = heard.fact(NOON)
    assert isinstance(fact, Heard)
    assert not fact.sure
    doubted: Lists = [[("no twelve", 100.0)], [("no twelve", 100.0)], [("[unk]", 100.0), ("no twelve", 98.5)]]
    assert _judged(NEXT, doubted).status == "unclear"


def test_no_and_a_number_corrects_nothing_where_no_number_was_read_back() -> None:
    assert _judged(Question("suction_pressure"), [[("no eleven oh eight", 100.0)]] * 3).status == "unclear"
    assert _judged(Question("suction_pressure"), [[("correction", 100.0)]] * 3).value == "correct"


def test_a_command_counts_only_when_every_hearing_has_it() -> None:
    doubted: Lists = [[("stop", 100.0)], [("stop", 100.0)], [("stop", 100.0), ("[unk]", 98.5)]]
    assert _judged(PRESSURE, doubted).status == "unclear"
    assert _judged(PRESSURE, [[("stop", 100.0)]] * 3).value == "stop"


def test_a_command_with_words_beside_it_is_asked_for_again() -> None:
    assert _judged(Question("leak_found"), [[("why", 100.0)]] * 3).value == "why"
    assert _judged(Question("leak_found"), [[("the a why", 100.0)]] * 3).status != "command"
    assert _judged(Question("command"), [[("ready", 100.0)]] * 3).value == "continue"
    assert _judged(Question("suction_pressure"), [[("no", 100.0)]] * 3).value == "correct"


def test_a_stray_sound_beside_a_command_is_let_pass_when_the_second_ear_has_the_command_alone() -> None:
    lists: Lists = [[("the a why", 100.0)]]
    assert _both(PRESSURE, lists, {"the a why": -9.0, "why": -0.1}).value == "why"
    assert _both(PRESSURE, lists, {"the a why": -0.1}).status == "unclear"


@pytest.mark.parametrize("words", ["note", "hold", "wait"])
def test_a_command_that_the_first_ear_does_not_listen_for_counts_when_the_second_is_sure_of_it(words: str) -> None:
    heard = _both(PRESSURE, [[("[unk]", 100.0)]], {words: -0.01})
    assert heard.status == "command"
    assert _both(PRESSURE, [[("eight", 100.0)]], {words: -3.0, "eight": -0.2}).status != "command"


@pytest.mark.parametrize("question", [Question("command"), Question("leak_found"), PRESSURE])
def test_a_reading_is_put_right_by_its_name_where_the_second_ear_alone_hears_the_name(question: Question) -> None:
    heard = _both(question, [[("[unk]", 100.0)]], {"correction": -9.0, "correction rack discharge": -0.1})
    assert heard.meaning == Command("correct", "rack_discharge_pressure")
    half_heard = _both(question, [[("[unk]", 100.0)]], {"correction rack discharge": -1.9})
    assert half_heard.status == "unclear"


def test_the_name_of_a_rack_is_left_to_the_ear_that_knows_every_word() -> None:
    where = Question("rack", local={"rack": {"north": "b", "south": "c"}})
    opinion = Opinion({"north": -12.0}, {"north": -20.0}, (Guess("not", -0.1),))
    heard = judge(where, _utterance([[("north", 100.0)]], 30.0), _Says(opinion))
    assert heard is not None
    assert (heard.status, heard.value) == ("accepted", "b")


def test_where_the_second_ear_hears_no_word_at_all_it_was_the_room() -> None:
    opinion = Opinion({"five": -14.0}, {"five": -30.0}, (Guess("", -0.01),))
    assert judge(PRESSURE, _utterance([[("five", 100.0), ("[unk]", 99.0)]], 12.0), _Says(opinion)) is None


def test_the_beginning_of_a_longer_yes_is_a_yes_and_a_letter_before_it_is_asked_back() -> None:
    leak = Question("leak_found")
    assert _judged(leak, [[("yes it", 100.0)]] * 3).status == "accepted"  # of "yes it is"
    assert _judged(leak, [[("i yes", 100.0)]] * 3).status == "confirm"
    assert _judged(leak, [[("nope it", 100.0)]] * 3).status == "confirm"
    heard = _both(leak, [[("nope it", 100.0)]], {"nope it": -4.0, "nope": -0.1})
    assert (heard.status, heard.value) == ("accepted", "no")


def test_an_unlikely_number_is_not_asked_back_when_a_command_may_have_been_said() -> None:
    lists: Lists = [
        [("eleven", 100.0), ("correction", 99.7)], [("correction", 100.0), ("eleven", 99.0)],
        [("eleven", 100.0), ("correction", 97.0)],
    ]  # fmt: skip
    assert _judged(Question("suction_temperature"), lists, 10.0).status == "unclear"
    number: Lists = [[(words.replace("correction", "seven"), score) for words, score in row] for row in lists]
    assert _judged(Question("suction_temperature"), number, 10.0).status == "confirm"


def test_emergency_counts_where_another_command_would_be_asked_for_again() -> None:
    lists: Lists = [[("{}", 100.0)], [("{}", 100.0)], [("{}", 100.0), ("[unk]", 98.5)]]
    for word, status in (("emergency", "command"), ("pause", "unclear")):
        said = [[(words.format(word), score) for words, score in row] for row in lists]
        assert _judged(PRESSURE, said).status == status


def test_a_sentence_that_is_heard_as_one_word_is_talk() -> None:
    short = [[("stop", 100.0)]] * 3
    assert _judged(PRESSURE, short, spoken_s=0.8).value == "stop"
    assert _judged(PRESSURE, short, spoken_s=1.2).status == "unclear"
    assert _judged(PRESSURE, [[("rewind", 100.0)]] * 3, spoken_s=1.0).value == "back"
    assert _judged(PRESSURE, [[("emergency", 100.0)]] * 3, spoken_s=1.2).value == "emergency"
    assert _judged(NEXT, [[("no twelve", 100.0)]] * 3, spoken_s=1.5).status == "unclear"
    assert _judged(PRESSURE, SURE, spoken_s=1.9).value == 208.0
    assert _judged(PRESSURE, SURE, spoken_s=2.2).status == "unclear"


def test_a_command_that_is_unlikely_to_the_second_ear_is_asked_for_again() -> None:
    lists: Lists = [[("stop", 100.0)]]
    assert _both(PRESSURE, lists, {"stop": -0.2}).status == "command"
    assert _both(PRESSURE, lists, {"stop": -7.0}, ("<other> <other>", -0.5)).status == "unclear"


def test_what_both_ears_hear_is_not_refused_for_its_length() -> None:
    slow = _both(PRESSURE, SURE[:1], {"two oh eight": -0.1}, spoken_s=3.0)
    assert (slow.status, slow.value) == ("accepted", 208.0)


def test_a_yes_among_other_words_is_asked_back() -> None:
    assert _judged(Question("leak_found"), [[("i yes", 100.0)]] * 3).status == "confirm"
    assert _judged(Question("leak_found"), [[("yes", 100.0)]] * 3).status == "accepted"


def test_words_of_a_phrase_list_that_fit_no_answer_are_no_rival() -> None:
    evidence = weigh(Question("leak_found"), [[Guess("know", 100.0), Guess("no", 99.0)]], 30.0)
    assert evidence.best.words == "no"
    assert evidence.best.share == pytest.approx(1.0)


def test_the_room_alone_is_passed_over_and_talk_is_not_understood() -> None:
    assert judge(PRESSURE, _utterance([[("", 100.0)]] * 3, 20.0)) is None
    talk = _judged(PRESSURE, [[("[unk] [unk] [unk]", 100.0)]] * 3)
    assert isinstance(talk.fact(NOON), Unclear)


def test_the_dialogue_gets_words_or_that_there_were_none() -> None:
    sure = _judged(PRESSURE, SURE)
    rivals = ((208.0, 1.0),)
    meant = understand(PRESSURE, "two oh eight")
    assert sure.fact(NOON, "a.flac") == Heard("two oh eight", NOON, True, sure.confidence, "a.flac", rivals, meaning=meant)
    back = _judged(PRESSURE, [[("two fifteen", 100.0), ("two fifty", 96.0)]] * 3, 12.0).fact(NOON)
    assert isinstance(back, Heard)
    assert not back.sure
    assert silent(PRESSURE).fact(NOON) == Unclear(NOON)


def test_an_answer_that_asks_for_the_number_reaches_the_dialogue() -> None:
    heard = _judged(Question("control_volts"), [[("full voltage", 100.0)]] * 3)
    assert heard.status == "unclear"
    meant = understand(Question("control_volts"), "full voltage")
    assert heard.fact(NOON) == Heard("full voltage", NOON, True, heard.confidence, meaning=meant)


def test_too_much_noise_is_said_to_be_why() -> None:
    lists: Lists = [
        [("two oh eight", 100.0), ("nine", 100.0)], [("nine", 100.0), ("five", 100.0)], [("four ten", 100.0)],
    ]  # fmt: skip
    heard = _judged(PRESSURE, lists, snr_db=1.0)
    assert heard.status == "unclear"
    assert heard.fact(NOON) == Unclear(NOON, heard.text, True, heard.rivals, loud=True)


def test_among_strokes_louder_than_the_voice_a_number_is_asked_back_and_a_command_asked_for_again() -> None:
    """The same voice, 12 dB over a steady room, without and with something that clanks before and after it."""

    def verdicts(question: Question, lists: Lists, scores: dict[str, float]) -> list[str]:
        steady = _utterance(lists, 12.0)
        clank = np.random.default_rng(2).normal(0, 900, 1600)
        lead, sound = steady.lead.astype(float), steady.sound.astype(float)
        lead[1000:2600] += clank
        sound[-2000:-400] += clank
        voiced = np.array([8000 <= at < len(sound) - 4800 for at in range(0, len(sound) - 511, 512)])
        noisy = Utterance(
            lead.astype(np.int16), np.clip(sound, -32768, 32767).astype(np.int16), steady.hearings, len(sound), voiced
        )
        best = max(scores, key=lambda text: scores[text])
        ear = _Says(Opinion(scores, {text: 2 * score for text, score in scores.items()}, (Guess(best, scores[best]),)))
        return [getattr(judge(question, one, ear), "status", "") for one in (steady, noisy)]

    number = [[("two sixty three", 5.0), ("two sixty one", 0.0)]]
    assert verdicts(PRESSURE, number, {"two sixty three": -1.0, "two sixty one": -4.0}) == ["accepted", "confirm"]
    word = Question("sight_glass")
    assert verdicts(word, [[("repeat", 5.0), ("[unk]", 2.0)]], {"repeat": -5.0}) == ["command", "unclear"]
    assert verdicts(word, [[("emergency", 5.0), ("[unk]", 2.0)]], {"emergency": -5.0}) == ["command", "command"]


def test_a_yes_that_the_first_ear_is_against_does_not_count() -> None:
    leak = Question("leak_found")
    for_it, against = [[("yes", 5.0)]], [[("[unk]", 9.0), ("yes", 0.0)]]
    assert _both(leak, for_it, {"yes": -0.2}).status == "accepted"
    assert _both(leak, against, {"yes": -0.2}).status == "unclear"


def test_back_alone_counts_where_no_number_is_asked_for() -> None:
    scores = {"back": -0.1}
    assert _both(Question("sight_glass"), [[("[unk]", 5.0)]], scores).value == "back"
    assert _both(PRESSURE, [[("[unk]", 5.0)]], scores).status == "unclear"


def test_in_a_loud_room_no_number_counts_unasked_and_the_dialogue_is_told():
    alone: Lists = [[("two fifty four", 100.0)]] * 3
    fact = _judged(PRESSURE, alone, 5.0).fact(NOON)
    assert isinstance(fact, Heard)
    assert (fact.sure, fact.loud) == (False, True)
    fact = _judged(PRESSURE, alone, 12.0).fact(NOON)
    assert isinstance(fact, Heard)
    assert (fact.sure, fact.loud) == (True, False)


def test_under_the_noise_no_command_is_taken_but_the_emergency():
    assert _judged(PRESSURE, [[("go back", 100.0)]] * 3, 1.0).too_loud
    assert _judged(PRESSURE, [[("emergency", 100.0)]] * 3, 1.0).value == "emergency"


def test_what_was_heard_before_counts_with_what_is_heard_now():
    lists: Lists = [[("two fifteen", 100.0), ("two fifty", 99.8)]] * 3
    assert _judged(PRESSURE, lists).value == 215.0
    before = Question("discharge_pressure", rivals=((250.0, 0.7), (215.0, 0.2)))
    assert _judged(before, lists).value == 250.0


# ---- what nobody asked for

NOTHING_OF_IT: Lists = [[("[unk]", 100.0), ("one oh two", 92.0)]] * 3


def test_a_remark_on_safety_that_the_second_ear_alone_hears_counts_where_it_is_sure() -> None:
    heard = _both(PRESSURE, NOTHING_OF_IT, {"the detector's going off": -0.2, "one oh two": -40.0})
    assert (heard.status, heard.meaning) == ("accepted", Remark("alarm"))


def test_one_that_is_not_sure_is_asked_back() -> None:
    heard = _both(PRESSURE, NOTHING_OF_IT, {"the cover's still off": -6.0, "one oh two": -40.0}, ("covers <other> off", -1.0))
    assert (heard.status, heard.meaning) == ("confirm", Remark("panel_cover"))


def test_what_other_words_fit_far_better_is_talk_and_no_remark() -> None:
    heard = _both(PRESSURE, NOTHING_OF_IT, {"the cover's still off": -14.0, "one oh two": -40.0}, ("<other> is <other>", -2.0))
    assert heard.status == "unclear"


def test_an_answer_that_fits_as_well_stays_the_answer() -> None:
    lists: Lists = [[("one oh two", 100.0)]] * 3
    heard = _both(PRESSURE, lists, {"one oh two": -0.3, "the cover's still off": -0.2})
    assert heard.value == 102.0


def test_words_that_answer_the_question_are_no_remark_there() -> None:
    lists: Lists = [[("[unk]", 100.0)]] * 3
    heard = judge(Question("lock_removed"), _utterance(lists, 25.0), _Says(Opinion(
        {"the lock is off": -0.1}, {"the lock is off": -0.3}, (Guess("the lock is off", -0.1),),
    )))  # fmt: skip
    assert heard is None or not isinstance(heard.meaning, Remark)
