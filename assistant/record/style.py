"""How pages look: on a phone and on a wide screen, in light and dark, on paper; and the few parts that all of them share."""

from collections.abc import Sequence
from html import escape
from pathlib import Path
from urllib.parse import quote

STYLE = Path(__file__).with_name("page.css").read_text(encoding="utf-8")


WHOLE_ROWS = 12
"""A table of so few rows is not divided between two sheets of paper."""


class Html(str):
    """Text that is HTML already: everything in it was escaped."""

    __slots__ = ()


Cell = str | Html


def html(text: Cell) -> Html:
    """Any text as HTML, the commas that typed words keep apart put back; what is HTML already stays as it is."""
    return text if isinstance(text, Html) else Html(escape(text.replace(" ,", ",")))


def link(target: str, words: Cell, at: str = "") -> Html:
    """A link to a file near the page, by its relative path, and to a place in it; without a file to a place in this page."""
    place = f"#{quote(at, safe='')}" if at else ""
    return Html(f'<a href="{quote(target, safe="/")}{place}">{html(words)}</a>')


def table(rows: Sequence[Sequence[Cell]], head: Sequence[str], ids: Sequence[str] = (), caption: str = "") -> Html:
    """A table. On a phone each row is a block, its cells named by their column.

    Args:
        rows: cells that are text are escaped here.
        head: names of the columns.
        ids: of each row, so that it can be linked to.
        caption: what it shows, for who hears the page.
    """
    top = "".join(f'<th scope="col">{escape(h)}</th>' for h in head)
    body = []
    for number, row in enumerate(rows):
        cells = "".join(
            f'<td data-head="{escape(name)}">{html(cell)}</td>' if name and cell else f"<td>{html(cell)}</td>"
            for name, cell in zip(head, row, strict=True)
        )
        body.append(f'<tr id="{escape(ids[number])}">{cells}</tr>' if ids else f"<tr>{cells}</tr>")
    named = f'<caption class="hidden">{escape(caption)}</caption>' if caption else ""
    short = ' class="short"' if len(rows) <= WHOLE_ROWS else ""
    return Html(f"<table{short}>{named}<thead><tr>{top}</tr></thead><tbody>{''.join(body)}</tbody></table>")


def page_of(title: str, body: str, foot: str, head: str = "") -> str:
    """A whole page.

    Args:
        title: text.
        body: HTML, put into the page's main part.
        foot: text at its end.
        head: HTML that goes into the head of the page.
    """
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" '
        f'content="width=device-width,initial-scale=1"><title>{escape(title)}</title><style>{STYLE}</style>{head}</head>'
        f'<body><main>{body}</main><footer><p class="quiet">{escape(foot)}</p></footer></body></html>'
    )
