"""How the voice is given units, signs, refrigerants and figures, and how it then says them."""

import ctypes
from functools import cache

import numpy as np
import pytest

from assistant.sound.spelling import spelled
from assistant.sound.voice import FASTEST, LOUDEST, SLOWEST, Voice, VoiceMissing, as_loud

WORDS = [
    # pressures
    ("12 psig", "twelve P S I"), ("psi", "P S I"), ("150 kPa", "one fifty kilo pascals"), ("1.5 bar", "one point five bar"),
    ("2 barg", "two bar"), ("5 inHg", "five inches of mercury"), ("500 microns", "five hundred microns"),
    ("1 micron", "one micron"), ("1,000 psi", "one thousand P S I"),
    # signs
    ("-12 F", "minus twelve degrees"), ("- 12", "minus twelve"), ("−25", "minus twenty five"), ("+5", "plus five"),
    ("±2 degrees", "plus or minus two degrees"), ("20-40 minutes", "twenty to forty minutes"), ("> 30 V", "over thirty volts"),
    ("19.5 percent", "nineteen point five percent"), ("0.5 %", "point five percent"), ("3%", "three percent"),
    # electricity
    ("208 V", "two oh eight volts"), ("208/230 V", "two oh eight or two thirty volts"), ("21 A", "twenty one amps"),
    ("1 A", "one amp"), ("410 ohms", "four ten ohms"), ("10.5 kΩ", "ten point five k"), ("2 MΩ", "two meg"),
    ("60 Hz", "sixty hertz"), ("120 V AC", "one twenty volts eigh C"), ("CAT III 600 V", "category three six hundred volts"),
    ("O L", "O L"), ("OL", "O L"),
    # refrigerants, in every way they are written
    ("R22", "R twenty two"), ("R-22", "R twenty two"), ("R 22", "R twenty two"), ("R410A", "R four ten eigh"),
    ("R-407A", "R four oh seven eigh"), ("R 407 A", "R four oh seven eigh"), ("R448A", "R four forty eight eigh"),
    ("R404A", "R four oh four eigh"), ("R507A", "R five oh seven eigh"), ("R407C", "R four oh seven C"),
    ("R407F", "R four oh seven F"), ("R134a", "R one thirty four eigh"), ("R454C", "R four fifty four C"),
    ("R290", "R two ninety"), ("R744", "R seven forty four"), ("R-1234yf", "R twelve thirty four Y F"), ("CO2", "C O two"),
    ("R four oh seven A.", "R four oh seven eigh."),
    # figures, fractions, lengths
    ("147.3", "one forty seven point three"), ("200 to 300 degrees", "two hundred to three hundred degrees"),
    ("1/2 pound", "one half pound"), ("2 1/2 pounds", "two and a half pounds"), ("3/8 in", "three eighths in"),
    ("15 ft", "fifteen feet"), ("23 lb", "twenty three pounds"), ("10 lb 4 oz", "ten pounds four ounces"),
    # words that only look like units
    ("3 in the panel", "three in the panel"), ("A machine started", "A machine started"), ("Rack A is off", "Rack eigh is off"),
    ("A two.", "eigh two."), ("A two minute wait", "A two minute wait"),
    ("B3", "B3"), ("at 9:30", "at 9:30"), ("Contact 4.", "Contact four."), ("", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), WORDS)
def test_what_is_written_is_spelled_as_the_trade_says_it(text: str, words: str):
    assert spelled(text) == words


@pytest.mark.parametrize("text", [text for text, _ in WORDS])
def test_what_is_spelled_is_not_spelled_again(text: str):
    assert spelled(spelled(text)) == spelled(text)


@cache
def voice() -> Voice:
    return Voice()


def sounds(text: str) -> str:
    """The sounds that the voice makes of a text, as it writes them itself."""
    import espeakng_loader

    voice()
    library = ctypes.CDLL(espeakng_loader.get_library_path())
    library.espeak_TextToPhonemes.restype = ctypes.c_char_p
    library.espeak_TextToPhonemes.argtypes = [ctypes.POINTER(ctypes.c_void_p), ctypes.c_int, ctypes.c_int]
    held = ctypes.create_string_buffer(spelled(text).encode() + b"\0")
    place, said = ctypes.c_void_p(ctypes.addressof(held)), []
    while place.value:
        said.append(library.espeak_TextToPhonemes(ctypes.byref(place), 1, 2).decode())
    return " ".join(said)


@pytest.mark.parametrize(
    ("text", "heard"),
    [
        ("12 psig", "twˈɛlv pˈiː ˈɛs ˈaɪ"), ("-12", "mˈaɪnəs twˈɛlv"), ("R-507A low", "ˈɑː fˈaɪv ˈəʊ sˈɛvən ˈeɪ lˈəʊ"),
        ("R410A", "ˈɑː fˈɔː tˈɛn ˈeɪ"), ("120 V AC", "wˈɒn twˈɛnti vˈəʊlts ˈeɪ sˈiː"),
        ("150 kPa", "wˈɒn fˈɪfti kˈiːləʊ pˈaskəlz"),
        ("OL", "ˈəʊ ˈɛl"), ("A machine", "ɐ məʃˈiːn"), ("CO2", "sˈiː ˈəʊ tˈuː"), ("0.5 %", "pˈɔɪnt fˈaɪv pəsˈɛnt"),
    ],
)  # fmt: skip
def test_the_voice_says_it_so(text: str, heard: str):
    assert sounds(text) == heard


def test_a_value_is_said_in_the_words_it_is_read_back_with():
    from assistant.language.wording import spoken_value

    assert spelled("208 V") == spoken_value("control_volts", 208.0, "V")
    assert spelled("21 A") == spoken_value("watch.amps", 21.0, "A")
    assert spelled("-12 F") == spoken_value("probe_pipe_temperature", -12.0, "F")


def test_the_same_text_sounds_the_same_each_time_and_slower_lasts_longer():
    v = voice()
    v.words_per_minute = 160
    first, again = v.render("Rack suction?"), v.render("Rack suction?")
    assert abs(len(first) - len(again)) < 160  # 10 ms
    v.words_per_minute = SLOWEST
    slow = v.render("Rack suction?")
    v.words_per_minute = FASTEST
    assert len(slow) > 1.15 * len(first) > 1.15 * len(v.render("Rack suction?"))


def test_a_sentence_of_which_no_sound_came_is_rendered_once_more_and_never_said_in_silence(monkeypatch: pytest.MonkeyPatch):
    v, whole, left = voice(), Voice._rendered, [np.zeros(0, np.int16)]
    monkeypatch.setattr(Voice, "_rendered", lambda self, text: left.pop() if left else whole(self, text))
    assert len(v.render("Rack suction?")) > 4000
    left[:] = [np.zeros(0, np.int16)] * 2
    with pytest.raises(VoiceMissing, match="without sound"):
        v.render("Rack suction?")


def test_louder_is_louder_and_never_cut_off():
    v = voice()
    v.words_per_minute = 160
    plain = v.render("Rack suction?")
    loud = as_loud(plain, LOUDEST)
    power = [float((x.astype(float) ** 2).mean()) for x in (plain, loud, as_loud(plain, 0.5))]
    assert power[1] > 4 * power[0] > 12 * power[2]
    assert abs(loud.astype(int)).max() < 32767
