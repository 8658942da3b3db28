"""The demo site with racks of the kinds that it does not have: invented, as the site is."""

from dataclasses import replace

from assistant.profile import Rack, Site, load_profile


def every_kind() -> Site:
    """A site with a rack of each kind that a rule of safety looks at, beside those of the demo site."""
    site = load_profile()
    a = site.racks[0]

    def kind(name: str, **changes: object) -> Rack:
        return replace(a, id=name, spoken=(f"rack {name}", name), **changes)  # type: ignore[arg-type]

    return replace(site, racks=(
        *site.racks,
        kind("d", panel=replace(a.panel, drive=True, winding_sets=2)),
        kind("e", panel=replace(a.panel, control_isolator_stops="rack", capacitors=True),
             injection=replace(a.injection, line_in_sight=False)),
        kind("f", refrigerant="R454C", closed_room=False),
        kind("g", refrigerant="R744", probe=replace(a.probe, mount="in_gas")),
        kind("h", probe=replace(a.probe, kind="ptc", test_plug="jumper"), machine_kind="scroll"),
    ))  # fmt: skip
