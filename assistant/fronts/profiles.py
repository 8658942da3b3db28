"""What is wrong with a site's profile, or with a folder of them, line by line."""

from collections.abc import Callable
from pathlib import Path

from assistant.profile import ProfileFaults, load_profile
from assistant.profile_faults import unheard
from assistant.sites import load_sites

Out = Callable[[str], None]
GOOD, FAULTY, WRONG = 0, 1, 2


def check(path: Path, out: Out, complain: Out) -> int:
    """Print what is wrong.

    Args:
        path: a profile, or a folder of them.
        out: takes each line.
        complain: takes the line that says that there is no such file.

    Returns:
        0 good, 1 faults, 2 no such file.
    """
    return _folder(path, out, complain) if path.is_dir() else _file(path, out, complain)


def _file(path: Path, out: Out, complain: Out) -> int:
    try:
        site = load_profile(path)
    except ProfileFaults as faults:
        there = path.is_file()
        (out if there else complain)("\n".join(faults.faults))
        return FAULTY if there else WRONG
    known = _known_words()
    not_heard = unheard(site, known) if known else []
    for words in not_heard:
        out(f"{path.name}: {words}")
    if not known:
        out("no speech model yet, so nobody knows whether its names are heard; 'rackcall model' fetches it")
    if not_heard:
        return FAULTY
    count = sum(len(rack.compressors) for rack in site.racks)
    out(f"{path}: good; {len(site.racks)} racks, {count} compressors")
    return GOOD


def _folder(path: Path, out: Out, complain: Out) -> int:
    """Each profile, and whether the sites can be told apart when they are said."""
    worst = max((_file(file, out, complain) for file in sorted(path.glob("*.toml"))), default=GOOD)
    try:
        load_sites(path)
    except ProfileFaults as faults:
        if worst == GOOD:
            out("\n".join(faults.faults))
        return max(worst, FAULTY)
    return worst


def _known_words() -> frozenset[str]:
    """Words that the speech model hears; none where there is no model."""
    from assistant.hearing import model
    from assistant.hearing.graph import known_words

    try:
        folder = model.model_folder()
        model.check(folder)
        return known_words(folder)
    except model.ModelMissing:
        return frozenset()
