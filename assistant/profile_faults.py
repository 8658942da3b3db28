"""What is wrong with a site that reads well: what cannot be said or heard, lists that disagree, settings that no machine has."""

import re
from collections.abc import Collection, Iterator

from assistant.language.numbers import spoken_number
from assistant.language.offered import commands
from assistant.language.phrasebook import tagged
from assistant.language.remarks import is_emergency
from assistant.site import Rack, Site

Fault = tuple[str, str, str]
"""The key it is about, the sentence, and a text of the profile that stands at or before its line."""
_SAID = re.compile(r"[a-z']+( [a-z']+)*")


def in_words(name: str) -> str:
    """A name as it would be spoken: "A-3" is "a three".

    >>> in_words("A-3"), in_words("B 12"), in_words("rack_2")
    ('a three', 'b twelve', 'rack two')
    """
    parts = re.findall(r"[a-z']+|[0-9]+", name.lower())
    return " ".join(spoken_number(float(part)) if part.isdigit() else part for part in parts)


def of_site(site: Site) -> Iterator[Fault]:
    """Every fault of a site, each with where to look for it."""
    yield from _said(site)
    for rack in site.racks:
        yield from _lists(rack)
        yield from _settings(rack)


def _said(site: Site) -> Iterator[Fault]:
    """Names that are asked for and cannot be said, or mean two things."""
    for rack in site.racks:
        for key, name in (("id", rack.id), *((k, n) for c in rack.compressors for k, n in (("id", c.id), ("tag", c.tag)))):
            if not _SAID.fullmatch(name):
                yield key, f"{name!r} cannot be said as it stands; write it as it is spoken: {in_words(name)!r}", f'"{name}"'
    yield from _twice([(words, f"rack {rack.id}") for rack in site.racks for words in rack.spoken], "rack")
    yield from _twice([(rack.id, f"rack number {n}") for n, rack in enumerate(site.racks, 1)], "rack id")
    yield from _twice([(words, person.name) for person in site.people for words in person.spoken], "person")
    yield from _twice([(words, person.name) for person in site.technicians for words in person.spoken], "technician")
    if not site.people:
        yield "person", "no [[person]]: what is left for later is handed over to somebody by name", ""
    for people in (site.people, site.technicians):
        ids = [person.id for person in people]
        for id_ in sorted({id_ for id_ in ids if ids.count(id_) > 1}):
            yield "id", f"{id_!r} stands there twice; each person has an id of its own", f'"{id_}"'
    yield from _reserved(site)


def _reserved(site: Site) -> Iterator[Fault]:
    """Names that already mean something at any question: a command, a yes or a no; and a name that stands there twice."""
    taken = {*commands(), *tagged("yes_no", "yes"), *tagged("yes_no", "no")}
    named = [("site", site.spoken), *((f"rack {rack.id}", rack.spoken) for rack in site.racks)]
    named += [(person.name, person.spoken) for person in (*site.people, *site.technicians)]
    for owner, phrases in named:
        for words in phrases:
            if words in taken or is_emergency(words):
                yield "spoken", f"{words!r} is a command or an answer at every question; call {owner} otherwise", f'"{words}"'
        if len(set(phrases)) < len(phrases):
            yield "spoken", f"{owner}: a phrase stands there twice", f'"{phrases[0]}"'
    for rack in site.racks:
        for name in (rack.id, *(one.id for one in rack.compressors)):
            if name in taken or is_emergency(name):
                yield "id", f"{name!r} is a command or an answer at every question", f'"{name}"'


def _twice(names: list[tuple[str, str]], what: str) -> Iterator[Fault]:
    owners: dict[str, str] = {}
    for words, owner in names:
        other = owners.setdefault(words, owner)
        if other != owner:
            yield "spoken", f"{words!r} means two: {other} and {owner}; say each {what} differently", f'"{words}"'


def _lists(rack: Rack) -> Iterator[Fault]:
    """Lists that go with one another and have not the same length."""
    count, losses = len(rack.compressors), len(rack.liquid_line_psi)
    if losses and losses != count:
        yield (
            "liquid_line_psi",
            f"'liquid_line_psi' has {losses} figures and rack {rack.id} has {count} compressors: one for each",
            f'id = "{rack.id}"',
        )


def _settings(rack: Rack) -> Iterator[Fault]:
    """Figures that are each possible, and together no machine's."""
    at = f'id = "{rack.id}"'
    head, suction = rack.head_minimum_psig, rack.suction_set_point_psig
    if head <= suction:
        yield "head_minimum_psig", f"'head_minimum_psig' is {head:g} and the suction is set to {suction:g}: head lies over it", at
    if rack.high_cutout_psig and rack.high_cutout_psig <= head:
        yield "high_cutout_psig", f"'high_cutout_psig' is {rack.high_cutout_psig:g}, under the head's minimum of {head:g}", at
    if rack.low_cutout_psig is not None and rack.low_cutout_psig >= suction:
        yield "low_cutout_psig", f"'low_cutout_psig' is {rack.low_cutout_psig:g}, over the suction's set point of {suction:g}", at
    names = [contact.name for contact in rack.panel.contacts]
    if not names:
        yield "contacts", "'contacts' is empty: which contact is open is asked by its number on the strip", at
    if len(set(names)) < len(names):
        yield "contacts", "two contacts have the same name", at
    if rack.panel.drive and rack.machine_kind == "scroll" and rack.panel.winding_sets == 2:
        yield "winding_sets", "a scroll on a drive has one set of windings", at
    if not rack.condenser_fans > 0:
        yield "condenser_fans", "'condenser_fans' is 0: a rack has at least one", at


def unheard(site: Site, known: Collection[str]) -> list[str]:
    """Words that the speech model does not have, among those that are asked for, as sentences.

    Args:
        site: the profile.
        known: every word of the model.
    """
    said = {"site": site.spoken, "person": tuple(w for p in (*site.people, *site.technicians) for w in p.spoken)}
    for rack in site.racks:
        said[f"rack {rack.id}"] = (*rack.spoken, *(w for c in rack.compressors for w in (c.id, c.tag)))
    found = []
    for what, phrases in said.items():
        words = dict.fromkeys(w for phrase in phrases for w in phrase.split() if w not in known)
        found += [f"{what}: the ear does not know {word!r}; say it in other words" for word in words]
    return found
