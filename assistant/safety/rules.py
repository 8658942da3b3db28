"""The rules of safety by their id: a short title, and what watches each. `SAFETY.md` says them in whole sentences."""

from collections.abc import Callable
from dataclasses import dataclass

from assistant.profile import Rack


@dataclass(frozen=True)
class SafetyRule:
    title: str
    watcher: str
    """Module and function that watch it; empty where the monitor cannot."""
    partly: str = ""
    """What of it the monitor cannot see, and which kind of test should."""
    of: Callable[[Rack], bool] = lambda rack: True
    """Racks on which its situation can come about."""


RULES: dict[str, SafetyRule] = {
    "S1": SafetyRule("hands in only while proved dead", "watch_lock.hands_in"),
    "S2": SafetyRule("the proof in its order, each its own answer", "watch_lock.each_its_own_answer"),
    "S3": SafetyRule("three volts, by magnitude and upper end", "watch_lock.volts_said"),
    "S4": SafetyRule("what ends a proof", "watch_lock.hands_in"),
    "S5": SafetyRule("after an interruption all is asked anew", "watch_lock.asked_anew"),
    "S6": SafetyRule("a lock that stops the rack is told first", "watch_lock.stops_the_rack",
                     of=lambda rack: rack.panel.control_isolator_stops == "rack"),
    "S7": SafetyRule("another person's lock: stop and wait", "watch_lock.anothers_lock"),
    "S8": SafetyRule("live work behind its gates", "watch_live.live_work"),
    "S9": SafetyRule("no live work with gas about", "watch_live.live_work"),
    "S10": SafetyRule("clips while dead, probes while live, one place", "watch_live.clips_and_probes"),
    "S11": SafetyRule("a quiet live window", "watch_live.quiet_window",
                      "how loud a tone is and how soft a timer: a test of the sound that is played"),
    "S12": SafetyRule("no power with the stimulus in and the start free", "watch_live.energising"),
    "S13": SafetyRule("a stimulus that suits the probe", "watch_live.stimulus"),
    "S14": SafetyRule("the start is freed last", "watch_live.stimulus"),
    "S15": SafetyRule("thirty seconds of feed", "watch_live.feed_seconds",
                      "that a timer wakes the call at thirty seconds: a test that lets the time pass unanswered"),
    "S16": SafetyRule("liquid in the machine is on record", "watch_live.liquid_opens"),
    "S17": SafetyRule("no power with a cover off or a coil off", "watch_live.energising"),
    "S18": SafetyRule("what opened on a fault is tested first", "watch_live.energising"),
    "S19": SafetyRule("the line is judged with power off", "watch_live.line_after"),
    "S20": SafetyRule("no start with anything hooked up", "watch_start.nothing_hooked_up"),
    "S21": SafetyRule("valves, covers, clear before the lock comes off", "watch_start.before_the_lock_comes_off"),
    "S22": SafetyRule("one reset", "watch_start.one_reset",
                      "a power cycle that resets a module with the starter free: a test of the module's steps"),
    "S23": SafetyRule("crankcase heater after an hour", "watch_start.heater"),
    "S24": SafetyRule("nothing runs over its trip or on a bypass", "watch_start.over_its_trip"),
    "S25": SafetyRule("insulation test", "watch_motor.insulation"),
    "S26": SafetyRule("no tester on the sensor string", "watch_motor.sensor_string"),
    "S27": SafetyRule("terminals stay shut after a ground fault", "watch_motor.terminals"),
    "S28": SafetyRule("a probe in the gas stays in", "watch_gas.probe_in_gas",
                      "that a profile must name the mount: a test of the profile's faults"),
    "S29": SafetyRule("the pipe's temperature first", "watch_gas.hot_probe"),
    "S30": SafetyRule("no discharge-side valve is closed on what runs", "watch_gas.discharge_side"),
    "S31": SafetyRule("a repair behind what it needs", "watch_gas.repair"),
    "S32": SafetyRule("no liquid shut in", "watch_gas.shut_in"),
    "S33": SafetyRule("the standing test only whole", "watch_gas.standing_test"),
    "S34": SafetyRule("label and cylinder before a charge", "watch_gas.charging"),
    "S35": SafetyRule("alarm: out of the room", "watch_gas.stay_out"),
    "S36": SafetyRule("caution before act", "watch_caution.before_its_step",
                      "the share of a call's words that cautions take: a test over whole calls"),
    "S37": SafetyRule("hand-over and seal", "watch_call.handed_over",
                      "what the page of the report says: a test that reads it back"),
    "S38": SafetyRule("emergency", "watch_call.emergency",
                      "words of distress that the ear does not hand on: a test of the grammar"),
    "S39": SafetyRule("only words count", "watch_call.from_words",
                      "a repeated old answer of the recogniser: a test of the ear"),
    "S40": SafetyRule("one value, one round", "watch_call.of_one_round"),
    "S41": SafetyRule("no fault found only when nothing contradicts", "watch_call.nothing_found",
                      "two readings that cannot both be true: a test of the diagnosis with a table of such pairs"),
    "S42": SafetyRule("somebody is named", "watch_call.somebody_named",
                      "a lock or a count of an earlier call in another name: a test that opens the next call on that log"),
    "call": SafetyRule("every turn asks, waits or ends", "monitor.Monitor.watch"),
}  # fmt: skip
