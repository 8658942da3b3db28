"""A cause is proven by its own proving test and by nothing less."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import assistant.branches
from assistant.branches.diagnosis import diagnose, rules
from assistant.language.vocabulary import Entry, vocabulary
from assistant.trade.case import FACTS, Case, Conclusion, SiteFacts, Standing
from assistant.trade.derive import DERIVED, derive, values
from assistant.trade.probe import ProbeCurve
from tests.trade.paper_cases import ROWS
from tests.trade.paper_kit import SITE, Row

MADE_BY_THE_CALLER = {"surroundings_degf", "probe_curve_ohms_after"}


def _causes() -> list[dict[str, str]]:
    folder = Path(assistant.branches.__file__).parent
    with open(folder / "causes.csv", newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _standings(case: Case) -> dict[str, Standing]:
    return {one.cause: one.standing for one in diagnose(case)}


@pytest.mark.parametrize("row", ROWS, ids=[row.name for row in ROWS])
def test_its_own_readings_give_a_cause_its_standing(row: Row) -> None:
    assert _standings(row.case).get(row.cause) == row.standing


@pytest.mark.parametrize("row", ROWS, ids=[row.name for row in ROWS])
def test_a_near_miss_does_not(row: Row) -> None:
    assert _standings(row.miss).get(row.cause) != row.standing


def test_every_cause_is_judged_and_on_paper() -> None:
    assert set(rules()) == {row["id"] for row in _causes()}
    assert set(rules()) == {row.cause for row in ROWS}
    best = {row.cause for row in ROWS if row.standing == "proven"}
    assert set(rules()) - best == {"liquid_feed_restricted", "injection_wrong_size", "oil_logged"}


def test_the_paper_uses_only_ids_and_facts_that_exist() -> None:
    for row in ROWS:
        for case in (row.case, row.miss):
            assert case.readings.keys() <= vocabulary().keys()
            assert case.derived.keys() <= DERIVED.keys() | MADE_BY_THE_CALLER
            assert case.facts <= FACTS.keys()
        for conclusion in diagnose(row.case):
            assert conclusion.evidence, conclusion
            known = {*row.case.readings, *row.case.derived, *row.case.facts}
            assert set(conclusion.evidence) <= known, conclusion


def test_what_to_do_is_one_short_spoken_line_without_ids() -> None:
    for row in ROWS:
        for conclusion in diagnose(row.case):
            said = conclusion.action
            assert said.endswith(".")
            assert len(said) <= 110
            assert "_" not in said
            for word in ("contactor", "saturation", "obligation", "condensing difference", "probe"):
                assert word not in said.lower()


def _split(degf: float, band_delta_degf: float) -> Conclusion:
    known = Case(
        {"heat_reclaim": "off", "rack_discharge_pressure": 230.0}, {"condensing_difference": degf},
        frozenset({"every_fan_called"}), SITE, {"condensing_difference": (degf - band_delta_degf, degf + band_delta_degf)},
    )  # fmt: skip
    found = [one for one in diagnose(known) if one.cause == "head_high"]
    return found[0] if found else Conclusion("head_high", "suspected", (), "left open")


def test_a_split_a_degree_over_its_limit_proves_no_high_head_by_a_gauge_that_is_two_degrees_off() -> None:
    near = _split(16.0, 2.0)
    assert (near.standing, near.uncertain) == ("supported", ("condensing_difference",))
    assert (_split(16.0, 0.5).standing, _split(16.0, 0.5).uncertain) == ("proven", ())


def test_a_split_a_degree_under_its_limit_rules_nothing_out_by_that_gauge() -> None:
    assert _split(14.0, 2.0).action == "left open"
    assert _split(14.0, 0.5).standing == "ruled_out"


def test_a_coil_that_reads_open_is_proven_whatever_the_meter_is_off_by() -> None:
    coil = Case({"injection_coil_ohms": "over_range"}, {}, frozenset({"dead_when_coil_read"}), SITE)
    assert [(one.standing, one.uncertain) for one in diagnose(coil) if one.cause == "injection_coil_failed"] == [("proven", ())]


def test_nothing_known_gives_no_conclusion() -> None:
    assert diagnose(Case()) == ()


def test_the_proven_come_first() -> None:
    found = diagnose(replace(SITUATION, facts=frozenset({"dead_when_coil_read"})))
    order = ["proven", "supported", "suspected", "ruled_out"]
    assert [one.standing for one in found] == sorted((one.standing for one in found), key=order.index)
    assert found[0].standing == "proven"
    assert found[-1].standing == "ruled_out"


SITUATION = Case(
    {"injection_coil_ohms": "over_range", "injection_hand_valve": "open", "sight_glass": "bubbles"}, site=SITE
)


def _answer(entry: Entry) -> st.SearchStrategy[object]:
    words = list(entry.choices) or (["yes", "no"] if entry.kind == "yes_no" else [])
    if words:
        return st.sampled_from(words)
    if entry.low_us is not None and entry.high_us is not None:
        edges = [entry.low_us, entry.high_us, 0.0, 1.0, 5.0, 20.0, 90.0, 208.0, 400.0, 8000.0, 72_000.0]
        edges = [value for value in edges if entry.low_us <= value <= entry.high_us]
        return st.sampled_from([*edges, "over_range", "below_resolution", "none_present", "not_measurable"])
    return st.just("R22")


UNJUDGED = ("arrival", "safety", "watch", "close")
READINGS = {id_: _answer(entry) for id_, entry in vocabulary().items() if entry.group not in UNJUDGED}
NUMBERS = st.sampled_from(
    [-30.0, -5.0, 0.4, 2.5, 5.0, 12.0, 30.0, 45.0, 90.0, 200.0, 260.0, 8050.0, 72_000.0]
)
RANDOM = st.builds(
    Case,
    readings=st.fixed_dictionaries({}, optional=READINGS),
    derived=st.dictionaries(
        st.sampled_from(sorted(DERIVED.keys() | MADE_BY_THE_CALLER)), NUMBERS, max_size=20
    ),
    facts=st.frozensets(st.sampled_from(sorted(FACTS)), max_size=25),
    site=st.sampled_from([SITE, SiteFacts(), replace(SITE, coil_ohms=None, discharge_reset="automatic")]),
)


def _together(cases: list[Case], extra: Case) -> Case:
    """Several cases of the paper as one call: they prove, and contradict each other, far more often."""
    return Case(
        {**extra.readings, **{name: value for case in cases for name, value in case.readings.items()}},
        {**extra.derived, **{name: value for case in cases for name, value in case.derived.items()}},
        extra.facts.union(*(case.facts for case in cases)),
        extra.site,
    )


PAPER = [case for row in ROWS for case in (row.case, row.miss)]
CASES = st.builds(_together, st.lists(st.sampled_from(PAPER), max_size=6), RANDOM)


def _without(case: Case, name: str) -> Case:
    # The air at the machine replaces the air into the condenser: without the better one, neither is there.
    gone = {name, "ambient_temperature"} if name == "surroundings_degf" else {name}
    return replace(
        case,
        readings={key: value for key, value in case.readings.items() if key not in gone},
        derived={key: value for key, value in case.derived.items() if key != name},
        # With a reading missing not everything was checked: the dialogue cannot say that it was.
        facts=case.facts - {name, "all_checked"},
    )


def _never_better(case: Case, fewer: Case) -> None:
    """Proven stays proven or falls, unless the reading that was left out is what spoke against it."""
    full, less = _standings(case), _standings(fewer)
    for cause, standing in less.items():
        if standing in ("proven", "ruled_out"):
            assert full.get(cause) in ("proven", "ruled_out"), cause
        if standing == "ruled_out":
            assert full.get(cause) != "supported", cause


def test_one_reading_left_out_of_a_case_on_paper_or_of_two_proves_nothing_new() -> None:
    tried = 0
    for first in (Case(), *PAPER[::9]):
        for second in PAPER:
            case = _together([first, second], Case(site=second.site))
            for name in (*second.readings, *second.derived, *second.facts):
                _never_better(case, _without(case, name))
                tried += 1
    assert tried > 10_000


@settings(max_examples=600)
@given(case=CASES, data=st.data())
def test_a_reading_that_is_missing_never_makes_a_cause_better_proven(case: Case, data: st.DataObject) -> None:
    kept = data.draw(st.sets(st.sampled_from([*case.readings, *case.derived, *case.facts, "nothing"])))
    fewer = case
    for name in {*case.readings, *case.derived, *case.facts} - kept:
        fewer = _without(fewer, name)
    _never_better(case, fewer)


@pytest.mark.parametrize("row", [row for row in ROWS if row.standing == "proven"], ids=lambda row: row.name)
def test_a_proof_from_the_table_loses_its_standing_with_the_last_reading_it_rests_on(row: Row) -> None:
    conclusion = next(one for one in diagnose(row.case) if one.cause == row.cause)
    bare = replace(
        row.case,
        readings={k: v for k, v in row.case.readings.items() if k not in conclusion.evidence},
        derived={k: v for k, v in row.case.derived.items() if k not in conclusion.evidence},
        facts=row.case.facts - set(conclusion.evidence),
    )
    assert _standings(bare).get(row.cause) != "proven"


def test_the_dirty_probe_of_the_worked_job_is_proven_from_raw_readings() -> None:
    """scenarios.json S1: 27 degrees hot as found, on the curve once cleaned."""
    site = replace(
        SITE, probe_curve=ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0), coil_ohms=18.0, control_volts=24.0
    )
    readings = {
        "probe_ohms.module_end": 5250.0, "probe_ohms.cleaned": 8050.0, "probe_pipe_temperature": 201.0,
        "injection_coil_ohms": 18.2, "injection_coil_volts": 24.6, "running_now": "off",
    }  # fmt: skip
    derived = values(derive(readings, site, "off"))
    found = _standings(Case(readings, derived, frozenset({"dead_when_coil_read"}), site))
    assert found["probe_fouled"] == "proven"
    assert found["injection_coil_failed"] == "ruled_out"
    assert found["probe_failed"] == "ruled_out"


def test_a_hot_head_and_a_cool_clamp_are_no_verdict_on_the_probe() -> None:
    """The head is 60 degrees over the clamp for half an hour: the probe is good."""
    curve = ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0)
    site = replace(SITE, probe_curve=curve)
    readings = {
        "probe_ohms.module_end": curve.ohm(210.0), "probe_ohms": curve.ohm(210.0),
        "probe_pipe_temperature": 150.0,
    }  # fmt: skip
    found = _standings(Case(readings, values(derive(readings, site, "off")), frozenset(), site))
    assert not {"probe_failed", "probe_wiring_faulty", "probe_fouled"} & found.keys()


@pytest.mark.parametrize(("at_the_probe_share", "standing"), [(1.0, "ruled_out"), (1.05, "ruled_out"), (0.7, None)])
def test_a_lead_that_adds_nothing_to_what_the_probe_reads_is_none_of_its_causes(at_the_probe_share: float, standing: str | None):
    """A probe that reads at itself what it reads at the module end is off by itself; common practice."""
    curve = ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0)
    site = replace(SITE, probe_curve=curve)
    off = curve.ohm(100.0)
    readings = {
        "probe_ohms.module_end": off, "probe_ohms": off * at_the_probe_share, "probe_pipe_temperature": 75.0,
        "probe_condition": "clean",
    }  # fmt: skip
    found = _standings(Case(readings, values(derive(readings, site, "off")), frozenset({"standing_over_an_hour"}), site))
    assert found.get("probe_wiring_faulty") == standing
