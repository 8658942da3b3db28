"""The sites that a call may be about: one profile, a folder of them, or the user's own folder."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path

from assistant.profile import DEMO_SITE, ProfileFaults, Site, load_profile


def own_folder() -> Path:
    """Where the user's profiles are looked for when none is given."""
    from platformdirs import user_config_path

    return user_config_path("rackcall") / "sites"


def load_sites(given: Path | None) -> tuple[Site, ...]:
    """Every site, in the order of the file names; the demo's alone where the user has none.

    Args:
        given: a profile, or a folder of profiles; None for the user's own folder.

    Raises:
        ProfileFaults: one of them cannot be used, the folder holds none, or two sites cannot be told apart when they are said.
    """
    folder = given or own_folder()
    if given is not None and not given.is_dir():
        return (load_profile(given),)
    files = sorted(folder.glob("*.toml")) if folder.is_dir() else []
    if not files:
        if given is None:
            return (load_profile(DEMO_SITE),)
        raise ProfileFaults([f"{folder}: holds no profile; 'rackcall profile new {folder}/NAME.toml' writes one"])
    sites: list[Site] = []
    faults: list[str] = []
    for file in files:
        try:
            sites.append(load_profile(file))
        except ProfileFaults as found:
            faults += found.faults
    faults += _said_alike(sites)
    if faults:
        raise ProfileFaults(faults)
    return tuple(sites)


def _said_alike(sites: list[Site]) -> list[str]:
    """Words that mean two sites."""
    owner: dict[str, Site] = {}
    faults = []
    for site in sites:
        for words in site.spoken:
            other = owner.setdefault(words, site)
            if other is not site:
                faults.append(f"{Path(site.source).name}: {words!r} is said for {other.name} too ({Path(other.source).name})")
    return faults


def differences(before: Site, today: Site) -> list[str]:
    """What one profile says otherwise than another, each in a few words: the part, what it was, what it is."""
    return list(_differences("", before, today))


def _differences(where: str, before: object, today: object) -> Iterator[str]:
    if is_dataclass(before) and is_dataclass(today) and type(before) is type(today):
        for one in fields(before):
            if one.compare:
                yield from _differences(f"{where} {one.name}".strip(), getattr(before, one.name), getattr(today, one.name))
    elif isinstance(before, tuple) and isinstance(today, tuple) and len(before) == len(today):
        for number, (old, new) in enumerate(zip(before, today, strict=True)):
            name = getattr(old, "id", number + 1)
            yield from _differences(f"{where} {name}", old, new)
    elif before != today:
        yield f"{where.replace('_', ' ')} was {_brief(before)}, is {_brief(today)}"


def _brief(value: object) -> str:
    return f"{len(value)} of them" if isinstance(value, tuple) else str(value)


def is_demo(site: Site) -> bool:
    """Whether this is the invented site of the package, and nobody's own."""
    return Path(site.source) == DEMO_SITE


def spoken_sites(sites: tuple[Site, ...]) -> dict[str, Site]:
    """Words for each site, the longest first."""
    pairs = [(words, site) for site in sites for words in site.spoken]
    return dict(sorted(pairs, key=lambda pair: -len(pair[0].split())))


def site_in(words: str, sites: tuple[Site, ...]) -> Site | None:
    """The site that is named among these words; None for none, or for two.

    Args:
        words: normalised.
    """
    found: list[Site] = []
    rest = f" {words} "
    for spoken, site in spoken_sites(sites).items():
        if f" {spoken} " in rest:
            rest = rest.replace(f" {spoken} ", " ")
            found += [] if site in found else [site]
    return found[0] if len(found) == 1 else None
