"""What the ear is to hear: texts of the product's closed language, from its own grammars and from chance.

    python models/ear/texts.py OUT.json SENTENCES.txt [LEFT_OUT.jsonl...]

Run it with the product's Python. Writes rows [kind, words, said], where `said` has a comma at each pause, and the words that
get a place of their own in the ear. `likely.txt` names phrases that the grammars may take next. SENTENCES is for the first
ear (`hearing/in_sentences.py`). What the files LEFT_OUT have under `words` is kept for judging. No recording is looked at.
"""

import json
import random
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from breaths import SHORT, breaths, corrections, offered
from spoken import one_by_one, spoken
from told import plain, told
from ways import ways

from assistant.call.procedure import all_steps
from assistant.language.audible import audible
from assistant.language.by_the_way import by_the_way
from assistant.language.meaning import Question
from assistant.language.offered import commands, phrases
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import spelled
from assistant.trade.refrigerant import REFRIGERANTS

SEED = 20261126
OFTEN, READINGS, NUMBERS, WALKS, TALK, LETTERS, RARE, LED = 2, 6000, 16_000, 24, 1500, 260, 900, 2200
R = random.Random(SEED)
DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
UNITS = (
    "p s i|pounds|degrees|degrees fahrenheit|fahrenheit|degrees celsius|volts|volt|amps|ohms|k|meg|minutes|"
    "minutes ago|hours|ounces|quarts|percent|hertz|inches|inches of vacuum|liters|seconds|days|kilos|pound|p s i"
).split("|")
ALONE = [
    *DIGITS, "oh", *TEENS, *TENS, "hundred", "thousand", "point", "minus", "negative", "below", "half", "a", "and", "no", "yes",
    "volts", "amps", "ohms", "degrees", "pounds", "one hundred", "two hundred", "three hundred", "four hundred",
    "b", "c", "d", "contact", "number", "compressor", "rack", "off", "to",
]  # fmt: skip
"""Said alone by many voices, to be joined with gaps between them."""
TAGS = "abcdefgh"
NAMED = "contact|number|compressor|contactor|line|leg|motor|oil|off|all but|module|strip|fan|rack".split("|")
"""What a small number is said after: the first word is as much of the answer as the last."""
LEADS = (
    "to|at|is|it's|of|off|on|or|and|a|i think|about|down to|up to|was|now|just|down|low|high|suction|discharge|head|"
    "in|out|for|from|so|um|uh|over|under|it|we've|got|line|oil|the|amps|ohms|plus|like"
).split("|")
"""Short words before a number: heard or not, they decide what the answer is."""
SINGLE = (
    "back why where stop hold note wait skip quit quiet help repeat resume pause review louder slower correct finish done next "
    "go say cancel undo continue right okay ok yeah yep nope correction emergency open shut closed full empty wet dry low high "
    "on off"
).split()
"""Said alone by many voices too, and never joined: commands and choices of one or two syllables, which noise takes most from."""


def below_hundred(n: int) -> str:
    """0 to 99 as one says them."""
    if n < 20:
        return (DIGITS + TEENS)[n]
    return TENS[n // 10 - 2] + (f" {DIGITS[n % 10]}" if n % 10 else "")


def digits(n: int) -> str:
    """One by one."""
    return " ".join(R.choice(("oh", "oh", "zero")) if c == "0" else DIGITS[int(c)] for c in str(n))


def hundreds(n: int) -> str:
    """100 to 999, in one of the ways in which technicians say them."""
    h, rest = divmod(n, 100)
    if not rest:
        return R.choice([*[f"{DIGITS[h]} hundred"] * 3, *["a hundred"] * (h == 1), digits(n)])
    way = R.choice(["pair", "pair", "hundred", "hundred", "and", "digits", "digits"])
    if way == "digits":
        return digits(n)
    if way == "pair":
        return f"{DIGITS[h]} " + (f"oh {DIGITS[rest]}" if rest < 10 else below_hundred(rest))
    many = "a" if h == 1 and R.random() < 0.2 else DIGITS[h]
    return f"{many} hundred {'and ' if way == 'and' else ''}{below_hundred(rest)}"


def thousands(n: int) -> str:
    """1,000 to 9,999."""
    h, rest = divmod(n, 100)
    if R.random() < 0.4:
        return f"{below_hundred(h)} " + ("hundred" if not rest else f"oh {DIGITS[rest]}" if rest < 10 else below_hundred(rest))
    if R.random() < 0.3:
        return digits(n)
    t, rest = divmod(n, 1000)
    return f"{below_hundred(t)} thousand" + (f" {hundreds(rest) if rest > 99 else below_hundred(rest)}" if rest else "")


def whole() -> str:
    """A whole number; teens and tens more often than chance would have them."""
    k = R.random()
    if k < 0.15:
        return DIGITS[R.randrange(10)]
    if k < 0.28:
        return R.choice(TEENS)
    if k < 0.40:
        return R.choice(TENS)
    if k < 0.52:
        return below_hundred(R.randrange(20, 100))
    if k < 0.58:
        return digits(R.randrange(10, 100))
    if k > 0.95:
        return thousands(R.randrange(1000, 10000))
    n = R.randrange(100, 700) if R.random() < 0.8 else R.randrange(700, 1000)
    if R.random() < 0.3:
        n = n // 100 * 100 + R.choice([*range(13, 20), *range(30, 100, 10)])
    return hundreds(n)


def number() -> str:
    """A reading, with what may stand before and after it."""
    k = R.random()
    if k < 0.70:
        said = whole()
    elif k < 0.90:
        tenth = DIGITS[R.randrange(10)]
        nought = f"{R.choice(('oh', 'zero'))} {DIGITS[R.randrange(1, 10)]}"
        after = (tenth, nought, digits(R.randrange(10, 100)))
        said = f"{whole()} point {R.choice((after[0], after[0], after[1], after[2]))}"
        if R.random() < 0.06:
            said = R.choice(("point ", "oh point ")) + DIGITS[R.randrange(1, 10)]
    elif k < 0.95:
        said = f"{whole()} and a half"
    else:
        said = R.choice(("half", "a half", "a quarter", "three quarters", "a hundred", "a thousand"))
    s = R.random()
    said = f"minus {said}" if s < 0.06 else f"negative {said}" if s < 0.1 else f"{said} below" if s < 0.14 else said
    if R.random() < 0.22:
        said += f" {R.choice(UNITS)}"
    if R.random() < 0.05:
        said = R.choice(("no ", "nope ", "wrong ")) + said
    elif R.random() < 0.03:
        said = R.choice(("about ", "it's ", "that's ", "make it ")) + said
    return said


def with_pauses(words: str) -> str:
    """The same with a comma at some of its gaps."""
    parts = words.split()
    if len(parts) < 2 or "p s i" in words:
        return words
    share = R.choice((0.35, 0.7, 1.0))
    out = [part + ("," if i < len(parts) - 1 and R.random() < share else "") for i, part in enumerate(parts)]
    return " ".join(out)


def walks() -> Iterable[str]:
    """Ways through the strict grammars."""
    seen = set()
    for name in vocabulary():
        wanted = audible(Question(name))
        if not wanted.strict or wanted.name in seen:
            continue
        seen.add(wanted.name)
        for _ in range(WALKS * 6):
            state, words = 0, []
            for _ in range(12):
                row = wanted.strict[state]
                onward = [word for word in row if word and word != "[unk]"]
                if not onward or ("" in row and words and R.random() < 0.5):
                    break
                words.append(R.choice(onward))
                state = row[words[-1]]
            if words and "" in wanted.strict[state] and len(words) <= 9:
                yield " ".join(words)


def talk() -> Iterable[str]:
    """What colleagues say beside a microphone."""
    who = (
        "he|she|they|we|you|somebody|the driver|the manager|that guy|my boss|the customer|the other crew|nobody|everybody"
    ).split("|")
    does = (
        "wants needs called about found dropped left moved took bought sold broke fixed opened closed pushed loaded "
        "unloaded counted missed painted heard saw forgot brought parked cleaned borrowed said checked stopped "
        "started"
    ).split()
    what = (
        "the pallets|the milk|the keys|a sandwich|the truck|the door|the invoice|some coffee|the lights|"
        "the freezer case|the bananas|the forklift|his phone|the radio|a ladder|the mop|the schedule|my jacket|"
        "the cardboard|the trailer|lunch|the parts|a new belt|the tape|two boxes|five or six crates|the machine|"
        "aisle nine|the register|the whole order|three more pallets|ten of them"
    ).split("|")
    tail = (
        "|yesterday|on monday|this morning|for the third time|again|down the hall|by the office|in the parking lot|"
        "before lunch|after the game|with his brother|near the loading dock|at seven thirty|and then went home|"
        "because it was raining|if you can believe it|around ten|next week|at quarter to four"
    ).split("|")
    for _ in range(TALK - 200):
        yield " ".join((R.choice(who), R.choice(does), R.choice(what), R.choice(tail))).strip()
    whole_ones = (
        "did you see the game last night|i told him to come back after lunch|what time does the store open|"
        "can somebody get the door|where did you put my flashlight|i need a bigger wrench|hand me that rag would you|"
        "is there any coffee left|turn the radio down please|my kid starts school next week|"
        "who parked in front of the dock|there is a spill in aisle four|that thing weighs a ton|"
        "call me when you get there|i have no idea what he meant|let me know when you are done|"
        "the elevator is stuck again|how many boxes are left on the truck|watch your step over there|"
        "thank you very much|thank you|see you tomorrow|good morning|you have got to be kidding me|"
        "that is what i said|looks fine to me|give me a hand with this|i will be right back|sounds good to me|"
        "what a mess|excuse me sir|customer service to the front please|price check on register two|"
        "we close at nine tonight|pass me the tape measure|are you coming or not|the phone is ringing|"
        "my back is killing me|it was on sale last week|hey|okay|all right|hello|um|uh|well|so|right then|come on|"
        "hang on a second|what was that|there you go|i guess so|maybe later|not really|never heard of it|over here|"
        "one more time|in a minute"
    ).split("|")
    for i in range(200):
        yield whole_ones[i % len(whole_ones)]


def named() -> Iterable[tuple[str, str]]:
    """What a site's own names are made of: (words, as they are said). "A" is said as the article and as the letter."""
    pairs = []
    for letter in TAGS:
        for small in [*DIGITS[1:], *TEENS[:3]]:
            for lead in ("", "", "rack ", "compressor "):
                pairs.append((lead, letter, small))
    for lead, letter, small in pairs:
        for said in (letter, "eh") if letter == "a" else (letter,):
            for _ in range(3 if letter == "a" else 1):
                yield f"{lead}{letter} {small}", f"{lead}{said} {small}"
    for letter in TAGS:
        for said in (letter, "eh") if letter == "a" else (letter,):
            for _ in range(6):
                yield f"rack {letter}", f"rack {said}"
                yield letter, said
    for lead in NAMED:
        for small in [*DIGITS[1:], *TEENS[:3]]:
            yield f"{lead} {small}", f"{lead} {small}"
            if lead in NAMED[:3]:
                yield f"{lead} {small}", f"{lead} {small}"
    for gas in REFRIGERANTS:
        words = spelled(gas).lower()
        for _ in range(4):
            yield words, words
            yield words.removeprefix("r "), words.removeprefix("r ")
    for who in ("technician", "me", "supervisor", "the supervisor", "boss", "day shift", "the day shift", "morning crew"):
        for _ in range(4):
            yield who, who


def led() -> Iterable[str]:
    """A number after a short word."""
    for _ in range(LED):
        lead = R.choice(LEADS)
        value = number() if R.random() < 0.3 else whole()
        if R.random() < 0.08:
            value = f"zero point {DIGITS[R.randrange(1, 10)]}"
        yield f"{lead} {value}"


def rare() -> Iterable[str]:
    """Words of two or three letters' likeness to what counts, and of many sounds: rivals of single commands."""
    likes = (
        "hop top cop shop skip ship slip tip step stuff stock star stay whole hole hold old cold hello fold halt "
        "pause paws cause pores boss wait weight late way weigh why white wide buy my hi fly note not knot nut no "
        "know now nor back bag pack black where wear were air hair help health held yelp quiet quite right ride "
        "light resume assume consume presume repeat retreat receipt cancel candle camel council finish fish vanish "
        "famous review renew slower lower louder loader loud faster master plaster continue canoe forget target "
        "correct collect direct yes yet guess chess less mess no go so low nope hope soap rope five fire file nine "
        "mine line fine four for door floor six sick fix eight ate hate late seven heaven eleven one won want two "
        "too to three free tree ten tan pen zero hero oh owe or ok hundred hunter under thousand house point joint "
        "paint box bread floor table window cable paper garden yellow purple marvin sheila happy tree bird cat dog "
        "house wow left right up down on off bed learn follow visual forward backward rubber bolt seal gasket copper "
        "filter plate bracket screw ladder bucket"
    ).split()
    return likes * (RARE // len(likes) + 1)


def main() -> None:
    """Write the file."""
    rows: list[tuple[str, str, str]] = []
    for _ in range(NUMBERS):
        words = number()
        rows.append(("number", words, with_pauses(words) if R.random() < 0.25 else words))
    rows += [("word", word, word) for word in dict.fromkeys([*ALONE, *SHORT])]
    rows += [("offered", word, word) for word in offered()]
    for words in breaths(R, whole):
        rows.append(("breath", words, with_pauses(words) if R.random() < 0.2 else words))
    rows += [("correction", words, words) for words in corrections(R, whole)]
    rows += [("spoken", words, said) for words, said in spoken(R, whole, [*SHORT, "yes", "no"])]
    rows += [("digits", words, said) for words, said in one_by_one(R)]
    rows += [("aside", phrase, phrase) for phrase in by_the_way()]
    rows += [("way", words, words) for words in dict.fromkeys(ways(R))]
    lines = [line for file in sys.argv[3:] for line in Path(file).read_text(encoding="utf-8").splitlines()]
    left_out = frozenset(plain(json.loads(line)["words"]) for line in lines)
    rows += [("told", words, said) for words, said in told(R, whole, left_out)]
    rows += [("single", word, word) for word in SINGLE]
    rows += [("command", phrase, phrase) for phrase in sorted(commands())]
    listed = {phrase for name in vocabulary() for phrase in audible(Question(name)).phrases}
    chosen = [name for name, entry in vocabulary().items() if entry.kind not in NUMBER_KINDS]
    listed |= {phrase for name in chosen for phrase in phrases(Question(name))}
    listed |= set(Path(__file__).with_name("likely.txt").read_text(encoding="utf-8").split("\n")) - {""}
    onward = {word for step in all_steps() for word in step.go_ahead} | {"understood", "okay", "done", "yes", "ready", "continue"}
    rows += [("onward", phrase, phrase) for phrase in sorted(onward)]
    rows += [("phrase", phrase, phrase) for phrase in sorted(listed - set(commands()))]
    rows += [("named", words, said) for words, said in named()]
    rows += [("led", words, words) for words in led()]
    rows += [("walk", words, words) for words in walks()]
    heard = Counter(word for _, words, _ in rows for word in words.split())
    in_told = Counter(word for kind, words, _ in rows if kind == "told" for word in words.split())
    known = sorted(word for word, times in heard.items() if times > in_told[word] or times >= OFTEN)
    rows += [("talk", words, words) for words in talk()]
    rows += [("rare", word, word) for word in rare()]
    for _ in range(LETTERS):
        words = " ".join(R.choices("abcdefghijklmnopqrstuvwxyz", k=R.randrange(2, 7)))
        rows.append(("letters", words, words))
    with open(sys.argv[1], "w", encoding="utf-8") as file:
        json.dump({"texts": rows, "words": known}, file)
    sentences = [words for kind, words, _ in rows if kind in ("told", "talk")]
    sentences += [words for kind, words, _ in rows if kind == "number"][:READINGS]
    Path(sys.argv[2]).write_text("\n".join(dict.fromkeys(sentences)) + "\n", encoding="utf-8")
    print(len(rows), "texts,", len(known), "words")


if __name__ == "__main__":
    main()
