#!/usr/bin/env python3
"""A whole day's printing with a browser, with its scripts and without: the drops of a coat, a print recorded, noted, repeated and compared;
three prints side by side with a timer that outlives a killed server; and a ledger that closes over all of it.

    day.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page of it in every theme in SHOTS.
"""

import re
import sys
import tempfile
import time
from pathlib import Path

from browser import until
from house import Served, fresh, look_at, tap, with_browser

TITLES = ["Heron", "Weir", "Alder"]
POURS = "iron=23; palladium stock=24"
# Short enough that nobody waits for it, long enough that a killed server falls into it.
SHORT = {"exposure": "4:00", "coat": "8min", "dry": "5min", "humidify": "0s", "hang": "0s", "baths": "1"}


def main():
    program, chromium, shots = sys.argv[1:4]
    axe = Path(sys.argv[4]).read_text() if len(sys.argv) > 4 else None
    Path(shots).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for scripts in (True, False):
            with Served(program, Path(folder, f"day-{scripts}.handcoat")) as own:
                fill(own)
                with_browser(chromium, own, lambda tab, own=own, on=scripts: day(tab, own, on))
        with Served(program, Path(folder, "seen.handcoat")) as own:
            fill(own)
            with_browser(chromium, own, lambda tab: look(tab, own, shots, axe))
    print("a day with and without scripts; its pages seen in every theme" + ("" if axe else "; axe was not there"))


def fill(own):
    """Two bottles with their prices, and what a print names."""
    for line in [
        ["stock", "receive", "Na2PdCl4", "--volume", "50mL", "--percent", "15", "--hydrate", "none", "--price", "190EUR", "--name",
         "palladium stock"],
        ["stock", "receive", "Fe2(C2O4)3", "--volume", "50mL", "--percent", "27", "--price", "30EUR", "--name", "iron"],
        ["keep", "paper", "cotton rag", "--lot", "A7", "--price", "2.40EUR", "--came", "25"],
        ["keep", "lamp", "tube bank", "--hours", "120"],
        ["keep", "bath", "oxalate developer", "--work", "developer"],
        ["keep", "bath", "citric", "--work", "clearing"],
    ]:
        own.run(*line)


def day(tab, own, scripts):
    tab.scripts(scripts)
    one_print(tab, own, scripts)
    again(tab, own)
    three_prints(tab, own, scripts)
    compare(tab, own)
    the_ledger_closes(tab, own)


def one_print(tab, own, scripts):
    """The drops, the coat as it was made, the print it became, and what is seen of it when it is dry."""
    tab.open(own.address + "/coat")
    tab.type("#coat-image", "8x10in")
    choose(tab, "metal", "palladium stock")
    choose(tab, "iron", "iron")
    choose(tab, "paper", "cotton rag")
    tab.type("#coat-title", "Heron")
    if scripts:
        until(lambda: "Drops, in this order:" in tab.evaluate("document.querySelector('#status').textContent"), "no drops follow")
    else:
        tab.click("main form button[type=submit]")
    drops = [int(own) for own in re.findall(r"(\d+) of ", tab.evaluate("document.querySelector('#status').textContent"))]
    assert len(drops) == 2 and all(10 < own < 200 for own in drops), drops
    tab.click("#result a[href^='/coat/made']")
    assert tab.evaluate("document.querySelector('#made-title').value") == "Heron"
    tab.click("main form button[type=submit]")
    assert "Coat 1 is recorded: Heron." in tab.text(), tab.text()
    tab.click("#coat-1 a.btn")
    unfold(tab)
    tab.type("#print-time", "6:00")
    tab.click("main form button[type=submit]")
    assert "Print 1 is recorded: Heron." in tab.text(), tab.text()

    tab.click("#verdict summary", loads=False)
    tab.type("#verdict-dry", "good, shadows open")
    tab.type("#verdict-density_black", "nearly black")
    tab.click("#verdict form button[type=submit]")
    assert tab.evaluate("document.activeElement.id") == "verdict-density_black", "the field that is wrong has the focus"
    tab.type("#verdict-density_black", "1,45")
    tab.click("#verdict form button[type=submit]")
    assert "good, shadows open" in tab.evaluate("document.querySelector('main').innerText"), tab.text()


def again(tab, own):
    """The same with the bottles of today."""
    tab.open(own.address + "/print/1")
    tab.click("a.btn[href$='/repeat']")
    assert "Heron again" in tab.text(), tab.text()
    tab.click("main a.btn[href^='/print/new']")
    unfold(tab)
    assert tab.evaluate("document.querySelector('#print-time').value") == "6:00", "what was known is there again"
    tab.type("#print-time", "7:30")
    tab.click("main form button[type=submit]")
    assert "Print 2 is recorded" in tab.text() and "print 1 again" in tab.text(), tab.text()


def three_prints(tab, own, scripts):
    """A session: coated, timed, killed and gone on with, until three prints are in the book."""
    begin(tab, own)
    work = tab.evaluate("location.pathname")
    main_tap(tab)
    # One drop more than planned is one drop more in the record.
    before = tab.evaluate("Number(document.querySelector('.pours b').innerText)")
    side_tap(tab, "drop-0")
    assert tab.evaluate("Number(document.querySelector('.pours b').innerText)") == before + 1
    side_tap(tab, "timer")

    # What was left when the page came, and what is left when another server answers, differ by the time between.
    left, seen = left_ms(tab), time.monotonic()
    assert 470_000 < left <= 480_000, f"eight minutes have {left} ms left"
    own.kill()
    time.sleep(3)
    own.start()
    tab.open(own.address + work)
    gone = (time.monotonic() - seen) * 1000
    assert abs(left - gone - left_ms(tab)) < 2000, f"{left} ms, and {gone} ms later {left_ms(tab)} ms"
    if scripts:
        shown = "document.querySelector('[data-left]').textContent"
        first = tab.evaluate(shown)
        until(lambda: tab.evaluate(shown) != first, "the time does not run on the screen")

    taps = 0
    while tab.evaluate("Boolean(document.querySelector('.main-two button'))"):
        main_tap(tab)
        taps += 1
        assert taps < 100, f"the day has no end: {tab.text()}"
    assert "print 3" in tab.text() and "print 5" in tab.text(), tab.text()
    tab.open(own.address + "/print")
    for number in (3, 4, 5):
        assert tab.evaluate(f"Boolean(document.querySelector(\"a[href='/print/{number}']\"))"), f"print {number} is not in the list"
    assert not tab.evaluate("Boolean(document.querySelector(\"a[href='/print/6']\"))"), "one print too many"
    tab.open(own.address + "/print/3")
    assert tab.evaluate("Number(document.querySelector('ol.drops b').innerText)") == before + 1, tab.text()


def compare(tab, own):
    tab.open(own.address + "/print/compare")
    tab.type("#compare-first", "1")
    tab.type("#compare-second", "2")
    tab.click("main form button[type=submit]")
    assert "6:00 → 7:30" in tab.text().replace("\n", " "), tab.text()


def the_ledger_closes(tab, own):
    """Every table of where a jar went sums to what came in, and metal and money to nothing, as they stand on the page."""
    tab.open(own.address + "/ledger")
    tables = tab.evaluate("""[...document.querySelectorAll("table")].map((own) => ({
        of: own.caption.innerText, rows: [...own.querySelectorAll("tbody tr")].map((row) => [...row.cells].map((cell) => cell.innerText)),
        together: own.tFoot?.rows[0].cells[1].innerText ?? null}))""")
    where = [own for own in tables if own["together"]]
    assert len(where) == 3, f"palladium and two sums of money came in: {[own['of'] for own in where]}"
    for own in where:
        amounts = [amount(row[1]) for row in own["rows"]]
        assert len({unit for unit, _ in amounts}) == 1
        assert sum(units for _, units in amounts) == amount(own["together"])[1] == amount(own["of"].split(": ", 1)[1])[1], own
        assert any("prints" in row[0] for row in own["rows"]), f"no print holds any of it: {own}"
    sums = {}
    for unit, units in (amount(row[1]) for row in next(own for own in tables if own["of"].startswith("Metal and money"))["rows"]):
        sums[unit] = sums.get(unit, 0) + units
    assert sums == {"g Pd": 0, "EUR": 0}, sums


def amount(words):
    """`-2.703411 g Pd` and `480.00 EUR` as their unit and whole millionths."""
    number, unit = re.match(r"([-−]?[\d.]+)\s+(g \w\w|[A-Z]{3})", words).groups()
    return unit, round(float(number.replace("−", "-")) * 1e6)


def begin(tab, own):
    tab.open(own.address + "/session?prints=3")
    for place, title in enumerate(TITLES, 1):
        for name, value in [("title", title), ("image", "8x10in"), ("margin", "1cm"), ("paper", "cotton rag"), ("pours", POURS)]:
            tab.type(f"#p{place}-{name}", value)
    unfold(tab)
    for name, value in SHORT.items():
        tab.type(f"#day-{name}", value)
    tab.click("main form[action='/session'] button[type=submit]")
    assert tab.evaluate("Boolean(document.querySelector('.bench.session'))"), tab.text()


def main_tap(tab):
    tap(tab, ".main-two button")


def side_tap(tab, what):
    tap(tab, f".sides form:has(input[name=do][value={what}]) button")


def left_ms(tab):
    return tab.evaluate("Number(document.querySelector('[data-left]').dataset.left)")


def choose(tab, name, word):
    """One of a list, by what it sends or what it says."""
    found = tab.evaluate(f"""(() => {{ const own = [...document.querySelectorAll("input[name={name}]")]
        .find((own) => own.value === "{word}" || own.labels[0].innerText.startsWith("{word}")); return own && own.id; }})()""")
    assert found, f"no {word} among {name}"
    tab.click(f"label[for='{found}']", loads=False)


def unfold(tab):
    tab.evaluate("document.querySelectorAll('main details').forEach((own) => own.open = true)")


def look(tab, own, shots, axe):
    one_print(tab, own, True)
    again(tab, own)
    begin(tab, own)
    over = tab.evaluate("location.pathname")
    while tab.evaluate("Boolean(document.querySelector('.main-two button'))"):
        main_tap(tab)
    # A coat that waits, a supply that is low, and a second day that stands in the middle of its first coat.
    own.run("coat", "made", "Alder again", "--pour", "iron=20", "--pour", "palladium stock=20")
    own.run("keep", "supply", "gloves", "--unit", "pairs", "--low", "10", "--came", "4")
    begin(tab, own)
    work = tab.evaluate("location.pathname")
    main_tap(tab)
    side_tap(tab, "timer")
    drops = "?image=8x10in&metal=palladium+stock&iron=iron&paper=cotton+rag&title=Heron"
    pages = {"coat-empty": "/coat", "coat": "/coat" + drops, "coat-wrong": "/coat" + drops + "&ratio=1%3A0",
             "coat-made": "/coat/made?title=Heron&pour=iron%3D23&pour=palladium+stock%3D24", "coat-open": "/coat/open",
             "session-begin": "/session?prints=2", "session-coat": work, "session-next": work + "?print=2", "session-over": over,
             "session-plan": work + "/plan", "prints": "/print", "print": "/print/2", "print-new": "/print/new?like=1",
             "print-again": "/print/1/repeat", "compare": "/print/compare?first=1&second=2&shows=veil", "keep": "/keep",
             "keep-paper": "/keep/paper", "keep-one": "/keep/paper/1", "shopping": "/keep/shopping", "ledger-day": "/ledger",
             "today-day": "/"}
    look_at(tab, own, shots, axe, pages, unfolded=("print", "print-new"))
    late(tab, own, work + "/plan")


def late(tab, own, plan):
    """A session that goes past midnight says the day beside each time, and is no wider for it."""
    for theme in ("paper", "red"):
        tab.open(own.address + plan)
        tab.evaluate(f"document.documentElement.dataset.theme = '{theme}'")
        tab.evaluate("document.querySelectorAll('.day th, .day td.u').forEach((own) => own.textContent = '0:45 +1 d')")
        tab.size(320)
        over = tab.evaluate("document.documentElement.scrollWidth")
        assert over <= 320, f"{plan} past midnight in {theme}: {over} px wide at 320"


if __name__ == "__main__":
    main()
