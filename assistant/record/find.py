"""The page that finds a call without a server: the browser reads a month's calls after the other, as files beside it."""

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from assistant.language.wording import spoken_cause
from assistant.record.aggregate import Store
from assistant.record.row import Row
from assistant.record.story import GUIDANCE, STANDINGS
from assistant.record.style import Html, html, link, page_of

_SCRIPT = Path(__file__).with_name("find.js")
_OFFERED = 300
"""Names that a field offers; others can be typed."""
_FIELDS = (("site", "Site", "site"), ("rack", "Rack", "rack"), ("compressor", "Compressor", "compressor"),
           ("technician", "Technician", "technician"), ("cause", "Cause", "cause"))  # fmt: skip


def find_script(month: str, rows: Sequence[Row], has_page: Callable[[dict[str, Any]], bool]) -> str:
    """A month's calls, the newest first, as the script that hands them to the page."""
    lines = [
        [row.call if has_page(row.plain()) else "", row.began, row.site, row.rack, row.compressor, row.technician,
         spoken_cause(row.cause) if row.cause else "no cause found", STANDINGS.get(row.standing, ""),
         "sealed" if row.sealed else "not sealed"]
        for row in reversed(rows)
    ]  # fmt: skip
    return f"found({json.dumps(month)},{json.dumps(lines, separators=(',', ':'))});\n"


def find_page(store: Store, months: Sequence[str]) -> str:
    """The page with its fields."""
    fields, lists = [], []
    for id_, words, column in _FIELDS:
        fields.append(f'<label>{words}<input name="{id_}" list="known-{id_}" autocomplete="off"></label>')
        names = store.names(column, _OFFERED)
        names = [spoken_cause(name) for name in names] if id_ == "cause" else names
        lists.append(f'<datalist id="known-{id_}">' + "".join(f'<option value="{html(name)}">' for name in names) + "</datalist>")
    fields += [f'<label>{words}<input type="date" name="{id_}"></label>' for id_, words in (("from", "From"), ("to", "To"))]
    body = Html(
        f"<nav>{link('index.html', 'What is due')}</nav><h1>Find a call</h1>"
        f'<form class="find" id="find" role="search" data-months="{html(" ".join(months))}">'
        f'{"".join(fields)}{"".join(lists)}</form>'
        '<p id="count" role="status" class="quiet">This page needs scripts to search; the pages of the months do not.</p>'
        '<table><caption class="hidden">calls found</caption><thead><tr>'
        + "".join(f'<th scope="col">{head}</th>' for head in ("began", "machine", "technician", "cause", "log"))
        + '</tr></thead><tbody id="rows"></tbody></table><p><button type="button" id="more" hidden>More</button></p>'
        f"<script>{_SCRIPT.read_text(encoding='utf-8')}</script>"
    )
    return page_of("Find a call", body, GUIDANCE)
