"""Which of several sites a call is about, asked before it begins; and a call begun, or taken up, at it."""

from dataclasses import replace
from pathlib import Path

from assistant.call.effects import Effect, Listen, Say
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard, Silence
from assistant.call.procedure import Procedure
from assistant.fronts.loop import Clock, Front, new_call, profile_hash, resumed_call
from assistant.language.grammar import normalise
from assistant.language.meaning import Question
from assistant.language.remarks import is_emergency
from assistant.profile import Site
from assistant.record.log import Log, facts
from assistant.sites import site_in, spoken_sites

_READ_OUT = 5
"""Sites that are read out to choose from."""
EMERGENCY = (
    "Hands off. Power off at the disconnect, if safe. Touch nobody until the power is off. Out, upwind. "
    "Call emergency services."
)
Begun = tuple[Dialogue, list[Effect], Log]


def begun(
    sites: tuple[Site, ...], calls: Path, clock: Clock, front: Front, call: Path | None = None,
    procedure: Procedure | None = None,
) -> Begun | None:  # fmt: skip
    """A call begun, or taken up; the site is asked where there are several. None when nobody is there to say it.

    Raises:
        LogDamaged: the call to take up is damaged, sealed, or of none of these sites.
    """
    if call is not None:
        return resumed_call(site_of_call(sites, call), call, clock, procedure)
    if len(sites) == 1:
        return new_call(sites[0], calls, clock, procedure)
    chosen = _chosen(sites, front)
    if chosen is None:
        return None
    site, heard = chosen
    dialogue, effects, log = new_call(site, calls, clock, procedure)
    effects = [e for e in effects if not isinstance(e, Listen) and not (isinstance(e, Say) and e.purpose == "ask")]
    answered = dialogue.receive(replace(heard, meaning=None, at=max(heard.at, clock.now())))
    return dialogue, effects + answered, log


def site_of_call(sites: tuple[Site, ...], call: Path) -> Site:
    """The site whose profile the call was opened with; the first where none is: what is wrong is said then."""
    opened: CallOpened | None = next((f for _, f in facts(call) if isinstance(f, CallOpened)), None)
    same = (s for s in sites if opened is not None and profile_hash(s) == opened.profile)
    return next(same, next((s for s in sites if opened is not None and s.name == opened.site), sites[0]))


def _chosen(sites: tuple[Site, ...], front: Front) -> tuple[Site, Heard] | None:
    """The site that is named, with the words it was named in."""
    words = {spoken: site.name for spoken, site in spoken_sites(sites).items()}
    racks = {spoken: rack.id for site in sites for rack in site.racks for spoken in rack.spoken}
    machines = {w: c.id for site in sites for r in site.racks for c in r.compressors for w in (c.id, f"compressor {c.id}")}
    local = {"site": words, "rack": racks, "compressor": machines}
    question = Question("site", also=("rack", "compressor"), local=local)
    names = [site.spoken[0] for site in sites]
    few = f" {', '.join(names[:-1])} or {names[-1]}?" if len(names) <= _READ_OUT else ""
    ask = f"Which site?{few}"
    while True:
        front.say(Say("ask", ask))
        heard = front.listen(Listen(question, "site", "choice", None))
        if heard is None:
            return None
        if isinstance(heard, Heard):
            text = normalise(heard.words)
            if is_emergency(text):
                front.say(Say("caution", EMERGENCY, urgent=True))
                continue
            if site := site_in(text, sites):
                return site, heard
        ask = "Which site?" if isinstance(heard, Silence) else f"Say again, I need the site.{few or ' Say its name.'}"

