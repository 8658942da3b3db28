"""The pages in a real browser: no complaint in its console, nothing that keeps anybody out, hostile text stays text."""

import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from assistant.record.board import write_board
from assistant.record.printing import BrowserMissing, browser, print_page
from assistant.record.report import write_report
from tests.record.test_board import FIRST, LATER, _call
from tests.simulated import Rack
from tests.talk import Talk

sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed: pip install '.[test]'")
HOSTILE = "<img src=x onerror=alert(1)> </script><script>alert(2)</script> \u202e javascript:alert(3)"


@pytest.fixture(scope="module")
def engine() -> Iterator["sync_api.Browser"]:
    try:
        program = browser()
    except BrowserMissing as error:
        pytest.skip(str(error))
    with sync_api.sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture(scope="module")
def board(tmp_path_factory: pytest.TempPathFactory) -> Path:
    calls = tmp_path_factory.mktemp("calls")
    _call(calls, "one", 0, Rack("injection_coil_failed", words={"refrigerant_added": "sixty pounds"}))
    words = {"refrigerant_added": "two hundred pounds", "leak_repaired": "no"}
    _call(calls, "two", 20, Rack("refrigerant_low", words=words), trips=2)
    _call(calls, "open", 41, Rack("none"), until="coil")
    Talk().hear("b four", "all good", "make a note", HOSTILE).write(calls / "hostile <b>")
    shutil.copytree(calls / "one", calls / "damaged")
    (calls / "damaged" / "events.jsonl").write_text("<script>alert(4)</script>\n", encoding="utf-8")
    return write_board(calls, now=LATER).index.parent


@pytest.fixture
def page(engine: "sync_api.Browser") -> Iterator["sync_api.Page"]:
    context = engine.new_context()
    one = context.new_page()
    one.complaints = []  # type: ignore[attr-defined]
    one.on("console", lambda message: one.complaints.append(message.text))  # type: ignore[attr-defined]
    one.on("pageerror", lambda error: one.complaints.append(str(error)))  # type: ignore[attr-defined]
    one.on("dialog", lambda dialog: (one.complaints.append("a dialog"), dialog.dismiss()))  # type: ignore[attr-defined]
    yield one
    assert one.complaints == []  # type: ignore[attr-defined]
    context.close()


def test_evidence_is_followed_to_its_line(page: "sync_api.Page", board: Path) -> None:
    page.goto((board / "index.html").as_uri())
    page.get_by_role("link", name="injection coil failed").first.click()
    page.wait_for_url("**/calls/one.html")
    page.locator("dl.lead a").first.click()
    place = page.url.partition("#")[2]
    assert place.startswith("line-")
    assert page.locator(f"#{place}").is_visible()
    assert "over range" in page.locator(f"#{place}").inner_text()


def test_a_call_is_found_without_a_server(page: "sync_api.Page", board: Path) -> None:
    page.goto((board / "find.html").as_uri())
    page.wait_for_selector("#rows tr")
    assert page.locator("#rows tr").count() == 4
    page.fill("[name=cause]", "refrigerant")
    page.wait_for_function("document.querySelectorAll('#rows tr').length === 1")
    assert page.locator("#count").inner_text() == "1 calls"
    page.fill("[name=cause]", "")
    page.fill("[name=from]", (FIRST + timedelta(days=30)).date().isoformat())
    page.wait_for_function("document.querySelectorAll('#rows tr').length === 1")
    page.locator("#rows a").click()
    page.wait_for_url("**/calls/open.html")


def test_hostile_text_stays_text(page: "sync_api.Page", board: Path) -> None:
    page.goto((board / "calls" / "hostile <b>.html").as_uri())
    assert "onerror=alert(1)" in page.inner_text("body")
    assert page.locator("img").count() == page.locator("script").count() == 0
    page.goto((board / "index.html").as_uri())
    assert page.locator("script").count() == 0
    page.goto((board / "find.html").as_uri())
    page.wait_for_selector("#rows tr")
    assert page.locator("#rows a[href*='%3Cb%3E']").is_visible()
    assert page.locator("#rows b").count() == 0


PAGES = ("index.html", "find.html", "calls/one.html", "calls/two.html", "machines-1.html", "month-2026-03-1.html", "due-1.html")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_on_the_pages_keeps_anybody_out(engine: "sync_api.Browser", board: Path, scheme: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed")
    context = engine.new_context(color_scheme=scheme)
    one = context.new_page()
    found = []
    for name in PAGES:
        one.goto((board / name).as_uri())
        one.wait_for_timeout(50)
        result = axe.Axe().run(one)
        found += [f"{name}: {v['id']}: {v['nodes'][0]['html'][:120]}" for v in result.response["violations"]]
    context.close()
    assert found == []


@pytest.mark.parametrize("width", [390, 820, 1440])
def test_no_page_is_wider_than_its_screen(engine: "sync_api.Browser", board: Path, width: int) -> None:
    context = engine.new_context(viewport={"width": width, "height": 900})
    one = context.new_page()
    for name in PAGES:
        one.goto((board / name).as_uri())
        assert one.evaluate("document.documentElement.scrollWidth") <= width, name
    context.close()


def test_a_report_is_printed_as_a_pdf(engine: "sync_api.Browser", board: Path, tmp_path: Path) -> None:
    report = write_report(board.parent / "one", tmp_path / "page.html")
    printed = print_page(report)
    data = printed.read_bytes()
    assert data.startswith(b"%PDF")
    assert printed.stat().st_mode & 0o777 == 0o640
