"""The demo site with racks of the kinds that it does not have: invented, as the site is.

`python -m tests.safety.racks FILE` writes it as a profile, for `rackcall procedure check --profile FILE`.
"""

import re
import sys
import tempfile
from functools import cache
from pathlib import Path

from assistant.profile import DEMO_SITE, Site, load_profile


def as_a_profile() -> str:
    """The demo site's profile, and after it a rack of each kind that a rule of safety looks at."""
    text = DEMO_SITE.read_text()
    rack_a = "[[rack]]" + text.split("[[rack]]")[1]

    def kind(name: str, **settings: str) -> str:
        rack = rack_a.replace('tag = "a ', f'tag = "{name} ')
        for key, value in {"id": f'"{name}"', "spoken": f'["rack {name}", "{name}"]', **settings}.items():
            rack, times = re.subn(rf"(?m)^(# )?{key} = .*$", f"{key} = {value}", rack, count=1)
            assert times, f"rack a has no line of {key}"
        return rack

    curve = "[[32, 500], [77, 1000], [212, 2500], [302, 4500]]"  # invented: a ptc probe is known by its table
    coil = next(line for line in rack_a.splitlines(keepends=True) if line.startswith("coil_ohms"))
    ptc = kind("h", kind='"ptc"', machine_kind='"scroll"')
    return "\n".join((
        text,
        kind("d", drive="true", winding_sets="2"),
        kind("e", control_isolator_stops='"rack"', capacitors="true", line_in_sight="false").replace(coil, ""),
        kind("f", refrigerant='"R454C"', closed_room="false"),
        kind("g", refrigerant='"R744"', mount='"in_gas"'),
        ptc.replace("r25_ohm = 100000", f"table = {curve}").replace("beta_k = 4000", ""),
    ))  # fmt: skip


@cache
def every_kind() -> Site:
    """A site with a rack of each kind that a rule of safety looks at, beside those of the demo site."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "every_kind.toml"
        path.write_text(as_a_profile())
        return load_profile(path)


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(as_a_profile())
