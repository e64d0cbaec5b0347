#!/usr/bin/env python3
"""Walks through the pages as a printer would, with a browser and without its scripts, and looks at what is seen.

    walk.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import sys
import tempfile
import urllib.request
from pathlib import Path

from browser import until
from house import Served, bench_targets, fresh, look_at, press, tap, typed, with_browser

PLAN = "/stock/plan?salt=PdCl2&hydrate=none&purity=99%25&make=60mL&balance=0.01g"
OVER = PLAN + "&weighed=5.92g&bottle=100mL"
IRON = "/stock/plan?salt=ferric+oxalate&hydrate=6&make=100mL&balance=0.01g&and=oxalic+acid%3D2%25"
WRONG = "/stock/plan?salt=PdXl2&make=60mL&balance=0.01g"

def main():
    program, chromium, shots = sys.argv[1:4]
    axe = Path(sys.argv[4]).read_text() if len(sys.argv) > 4 else None
    Path(shots).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for scripts in (True, False):
            with Served(program, Path(folder, f"walk-{scripts}.handcoat")) as own:
                with_browser(chromium, own, lambda tab, own=own, on=scripts: walk(tab, own, on))
            with Served(program, Path(folder, f"pair-{scripts}.handcoat"), "--lan") as own:
                with_browser(chromium, own, lambda tab, own=own, on=scripts: pair(tab, own, on))
        with Served(program, Path(folder, "seen.handcoat")) as own:
            fill(own)
            with_browser(chromium, own, lambda tab: look(tab, own, shots, axe))
    print("walked with and without scripts; every page seen in every theme" + ("" if axe else "; axe was not there"))


def walk(tab, own, scripts):
    """Receive, plan, count, undo."""
    tab.scripts(scripts)
    tab.open(own.address + "/")
    assert "Nothing has come in yet" in tab.text()
    tab.click("main a[href='/receive']")
    tab.type("#receive-formula", "PdXl2")
    tab.type("#receive-mass", "10g")
    tab.click("main form button[type=submit]")
    assert "element_unknown" in tab.text(), tab.text()
    assert tab.evaluate("document.activeElement.id") == "receive-formula", "the field that is wrong has the focus"
    assert tab.evaluate("document.querySelector('#receive-mass').value") == "10g", "what was typed is still there"
    tab.type("#receive-formula", "PdCl2")
    tab.type("#receive-mass", "10,5 g")
    tab.type("#receive-name", "Heron")
    tab.click("main form button[type=submit]")
    assert "Heron is on the shelf: 10.5 g." in tab.text(), tab.text()

    tab.click("a.btn[href^='/stock/plan']")
    tab.type("#plan-make", "60mL")
    tab.type("#plan-balance", "0,01g")
    if scripts:
        until(lambda: "Palladium stock, 60 mL" in tab.evaluate("document.querySelector('#status').innerText"), "no plan follows")
        until(lambda: "make=60mL" in tab.evaluate("location.search"), "the address does not follow")
        tab.type("#plan-make", "sixty")
        until(lambda: tab.evaluate("document.querySelector('#plan-make').ariaInvalid") == "true", "no refusal follows")
        tab.type("#plan-make", "60mL")
        until(lambda: tab.evaluate("document.querySelector('#plan-make').ariaInvalid") is None, "the refusal stays")
    else:
        tab.click("main form button[type=submit]")
    assert "5.4" in tab.evaluate("document.querySelector('#result').innerText")

    tab.click("nav.rivers a[href='/shelf']")
    tab.click(".shelf a.name")
    tab.click("#count summary", loads=False)
    tab.type("#count-mass", "9.9g")
    tab.click("#count button[type=submit]")
    assert "0.6 g are missing" in tab.text(), tab.text()
    tab.click(".done button")
    assert "is taken back" in tab.text()
    tab.click("nav.rivers a[href='/shelf']")
    assert "10.5 g" in tab.evaluate("document.querySelector('.shelf').innerText")

    mix(tab, own, scripts)

    # By keyboard alone: the skip link is the first stop and leads to the page.
    tab.open(own.address + "/shelf")
    tab.key("Tab", 9)
    assert tab.evaluate("document.activeElement.className") == "skip"
    tab.key("Enter", 13)
    assert tab.evaluate("document.activeElement.id") == "page"

    # Nothing that has the focus is hidden under the bar at the bottom of a phone (WCAG 2.2, 2.4.11).
    tab.size(390, 700)
    tab.open(own.address + "/receive")
    stops = set()
    for _ in range(40):
        tab.key("Tab", 9)
        hidden = tab.evaluate("""(() => { const own = document.activeElement, bar = document.querySelector(".fold");
            if (own === document.body || bar.contains(own)) return "";
            const box = own.getBoundingClientRect();
            return box.top >= bar.getBoundingClientRect().top || box.bottom <= 0 ? own.outerHTML : ""; })()""")
        assert not hidden, f"the focus is out of sight: {hidden}"
        stops.add(tab.evaluate("document.activeElement.outerHTML"))
    assert len(stops) > 12, f"the keyboard reaches {len(stops)} places only"
    tab.size(1024)


def pair(tab, own, scripts):
    """The camera brings the code behind the #; without scripts it is typed."""
    tab.scripts(scripts)
    if scripts:
        tab.open(f"{own.address}/pair#{own.code}", leads_to=own.address + "/")
        assert own.code not in tab.evaluate("location.href")
    else:
        tab.open(own.address + "/pair")
        tab.type("#pair-code", own.code.lower())
        tab.click("main form button[type=submit]")
    assert tab.evaluate("document.querySelector('h1').innerText") == "Today"
    tab.open(own.address + "/settings")
    assert "device · since" in tab.text(), tab.text()
    tab.click("#devices form[action='/pair/code'] button")
    assert "Pair a device" in tab.text()


def mix(tab, own, scripts):
    """Mix at the bench by taps and by keys: an overweighed powder, a way out, a killed server, a label, a count and its undo."""
    tab.click("nav.rivers a[href='/bench']")
    tab.type("#mix-make", "20mL")
    tab.type("#mix-balance", "0.01g")
    tab.type("#mix-capacity", "30mL")
    tab.type("#mix-name", "Weir")
    tab.click("main form button[type=submit]")
    assert "Glasses and gloves on" in tab.text(), tab.text()
    work = tab.evaluate("location.pathname")
    bench_targets(tab)
    if scripts:
        # The second tap of a wet glove lands on the next step and is no answer to it.
        press(tab, "Enter", 13)
        tab.evaluate("document.querySelector('.bench.fresh button[type=submit]')?.click()")
        until(lambda: not fresh(tab), "the step stays fresh")
        assert "weigh it empty" in tab.text(), tab.text()
        tap(tab, ".below button")
    # The button has the focus: Enter is enough.
    press(tab, "Enter", 13)
    bench_targets(tab)
    for key in "61.2":
        tab.click(f".key[href$='{typed(tab)}{key}']")
    tap(tab, ".reading form button")
    for _ in range(4):
        press(tab, "Enter", 13)
    assert "Weigh palladium" in tab.text(), tab.text()
    tap(tab, ".main-two a")
    tab.type("#reads", "2,4")
    press(tab, "Enter", 13)
    assert "2.40 g, planned 1.8" in tab.text(), tab.text()
    bench_targets(tab)

    # Killed without a word and started again: the work stands where it stood.
    own.kill()
    own.start()
    tab.open(own.address + work)
    assert "2.40 g, planned 1.8" in tab.text(), tab.text()
    tap(tab, ".ways-out form:nth-of-type(2) button")
    for _ in range(5):
        tap(tab, ".main-two button")
    tab.open(own.address + work)
    assert "weigh it full" in tab.text(), tab.text()
    tab.type("#reads", "92.0")
    tap(tab, ".reading form button")
    assert "Look at it again tomorrow" in tab.text(), tab.text()

    tab.open(own.address + "/shelf")
    bottle = tab.evaluate("[...document.querySelectorAll('.shelf a.name')].find((own) => own.innerText === 'Weir').pathname")
    tab.open(own.address + bottle)
    with urllib.request.urlopen(own.address + tab.evaluate("document.querySelector(\"a[href$='/label']\").pathname")) as label:
        assert label.read(5) == b"%PDF-"
    tab.click("#count summary", loads=False)
    tab.type("#count-volume", "20mL")
    tab.click("#count button[type=submit]")
    assert "stand as unexplained" in tab.text(), tab.text()
    tab.click(".done button")
    assert "is taken back" in tab.text()


def fill(own):
    """A little of everything."""
    for line in [
        ["receive", "PdCl2", "--mass", "10g", "--hydrate", "none", "--purity", "99%", "--price", "480", "--currency", "EUR",
         "--name", "Heron", "--balance", "0.01g"],
        ["receive", "K2PtCl4", "--mass", "5g", "--purity", "99%", "--name", "Rail"],
        ["receive", "NaCl", "--mass", "500g", "--purity", "99%", "--name", "plain salt"],
        ["sweep", "--from", "Heron", "--mass", "0.03g", "--into", "Heron swept"],
        ["mix", "--from", "Heron", "--mass", "5.42g", "--chloride-from", "plain salt", "--chloride", "3.7g", "--make", "60mL",
         "--balance", "0.01g", "--name", "palladium stock", "--at", "2026-03-14T10:00Z"],
        ["receive", "Na2PdCl4", "--volume", "50mL", "--percent", "15", "--name", "bought"],
        ["receive", "Fe2(C2O4)3", "--volume", "50mL", "--percent", "27", "--name", "iron"],
        ["lose", "bought", "--amount", "1mL"],
        ["hazards", "palladium stock", "--supplier", "Invented Works", "--date", "2026-01-20", "--signal", "Danger", "--statement", "H290",
         "--statement", "H314", "--statement", "H317", "--statement", "H334", "--pictogram", "GHS05", "--pictogram", "GHS07",
         "--pictogram", "GHS08", "--pure"],
        ["hazards", "Heron", "--supplier", "Invented Works", "--date", "2025-11-02", "--signal", "Danger", "--statement", "H302",
         "--pictogram", "GHS07"],
    ]:
        own.run("stock", *line)


def begin_work(tab, own, steps):
    """Work at the bench that stands after so many steps; the last reading is far over."""
    tab.open(own.address + "/bench")
    tab.evaluate("document.querySelector('input[name=jar]').checked = true")
    tab.type("#mix-make", "20mL")
    tab.type("#mix-balance", "0.01g")
    tab.click("main form button[type=submit]")
    for _ in range(steps):
        tap(tab, ".main-two button, .reading form:nth-of-type(2) button")
    if steps == 6:
        tap(tab, ".main-two a")
        tab.type("#reads", "2.4")
        tap(tab, ".reading form button")
    return tab.evaluate("location.pathname")


def look(tab, own, shots, axe):
    """Every page in every theme, as a phone and as a tablet show it, and at the narrowest."""
    tab.open(own.address + "/shelf")
    item = tab.evaluate("[...document.querySelectorAll('.shelf a.name')].find((own) => own.innerText === 'palladium stock').pathname")
    jar = tab.evaluate("[...document.querySelectorAll('.shelf a.name')].find((own) => own.innerText === 'Heron').pathname")
    pages = {"today": "/?act=8", "shelf": "/shelf", "bottle": item, "jar": jar, "receive": "/receive", "plan-empty": "/stock/plan",
             "plan": PLAN, "plan-over": OVER, "plan-iron": IRON, "plan-wrong": WRONG, "ledger": "/ledger?price=Pd+38EUR%2Fg", "emergency": "/emergency",
             "settings": "/settings", "pair": "/pair", "lost": "/nowhere"}
    weigh, ways = begin_work(tab, own, 3), begin_work(tab, own, 6)
    pages |= {"bench": "/bench", "weigh": weigh, "keys": weigh + "?typed=1.2", "ways": ways}
    look_at(tab, own, shots, axe, pages, unfolded=("jar", "bottle"))
    rivers_unfold(tab, own, shots)


def rivers_unfold(tab, own, shots):
    """On a phone the rivers are folded at the bottom, and no script unfolds them."""
    tab.scripts(False)
    tab.size(390, 780)
    tab.open(own.address + "/shelf")
    tab.click(".fold summary", loads=False)
    assert tab.evaluate("getComputedStyle(document.querySelector('.rivers')).display") == "none"
    data = tab.evaluate("document.querySelector('.fold .unfolded').getBoundingClientRect().height")
    assert data > 200, "the rivers do not unfold"
    tab.picture(f"{shots}/rivers-unfolded-390.png", 390)
    tab.click(".fold .unfolded a[href='/ledger']")
    assert "Ledger" in tab.text()


if __name__ == "__main__":
    main()
