#!/usr/bin/env python3
"""Walks through the pages as a printer would, with a browser and without its scripts, and looks at what is seen.

    walk.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import json
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

from PIL import Image

from browser import Browser, until

THEMES = ["paper", "dark", "amber", "red"]
WIDTHS = [390, 1024]
PLAN = "/stock/plan?salt=PdCl2&hydrate=none&purity=99%25&make=60mL&balance=0.01g"
OVER = PLAN + "&weighed=5.92g&bottle=100mL"
WRONG = "/stock/plan?salt=PdXl2&make=60mL&balance=0.01g"

# A target is what takes the tap: the control, or the label that belongs to it. Links inside a sentence are as high as their line
# (WCAG 2.2, 2.5.8, inline).
SMALL = """[...document.querySelectorAll("a, button, input:not([type=hidden]), summary")].filter((own) => {
  const style = getComputedStyle(own), box = own.getBoundingClientRect();
  if (!box.width || !own.checkVisibility({visibilityProperty: true, contentVisibilityAuto: true}) || own.className === "skip") return false;
  if (own.tagName === "A" && style.display === "inline") return false;
  const boxes = [box, ...[...(own.labels ?? [])].map((label) => label.getBoundingClientRect())];
  return Math.max(...boxes.map((box) => box.height)) < 44 || Math.max(...boxes.map((box) => box.width)) < 44;
}).map((own) => own.outerHTML.slice(0, 120))"""


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


class Served:
    """A server with a new book."""

    def __init__(self, program, book, *more):
        self.program, self.book, self.more = program, str(book), more
        subprocess.run([program, "new", self.book], check=True, capture_output=True)

    def __enter__(self):
        self.start()
        return self

    def start(self):
        """At any free port the first time, and then there again: a killed server is started where it was."""
        port = self.address.rsplit(":", 1)[1] if hasattr(self, "address") else "0"
        arguments = [self.program, "serve", "--json", "--port", port, "--book", self.book, *self.more]
        self.process = subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True)
        said = json.loads(self.process.stdout.readline())
        self.address, self.code = said["url"].rstrip("/"), said["pairing_code"]

    def kill(self):
        self.process.kill()
        self.process.wait(10)

    def __exit__(self, *_):
        self.process.terminate()
        assert self.process.wait(10) == 0, "the server did not end cleanly"

    def run(self, *arguments):
        subprocess.run([self.program, *arguments, "--book", self.book], check=True, capture_output=True)


def with_browser(chromium, own, walk):
    tab = Browser(chromium)
    try:
        tab.size(1024)
        walk(tab)
        foreign = [address for address in tab.asked if not address.startswith((own.address, "data:", "about:"))]
        assert not foreign, f"asked elsewhere: {foreign}"
        assert not tab.trouble, f"the browser complains: {tab.trouble}"
    finally:
        tab.close()


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


def fresh(tab):
    """Whether the step has just come up and takes no answer yet."""
    return tab.evaluate("Boolean(document.querySelector('.bench.fresh'))")


def tap(tab, selector):
    """A button of the bench, when it takes answers."""
    until(lambda: not fresh(tab), "the step stays fresh")
    tab.click(selector)


def typed(tab):
    """What the keys have written so far, as the links carry it."""
    return tab.evaluate("new URLSearchParams(location.search).get('typed') ?? ''")


def press(tab, name, code):
    # A page gives its first button or field the focus a moment after it is loaded.
    until(lambda: not fresh(tab), "the step stays fresh")
    until(lambda: tab.evaluate("['BUTTON', 'INPUT'].includes(document.activeElement.tagName)"), "nothing has the focus")
    before = tab.loaded
    tab.key(name, code)
    tab.wait_for_load(before)


def bench_targets(tab):
    """Wet gloves: every target at least 64 px high and wide, and 12 px from the next; the main buttons 84, and 20 apart."""
    boxes = tab.evaluate("""[...document.querySelectorAll(".bench a, .bench button, .bench input[type=text]")].map((own) => {
      const box = own.getBoundingClientRect();
      return [own.innerText || own.id, box.x, box.y, box.width, box.height, Boolean(own.closest(".main-two, .ways-out"))]; })""")
    for name, _, _, width, height, main_one in boxes:
        least = 84 if main_one else 64
        assert width >= 64 and height >= least, f"{name}: {width} x {height} px"
    for place, one in enumerate(boxes):
        for other in boxes[place + 1:]:
            across = max(one[1], other[1]) - min(one[1] + one[3], other[1] + other[3])
            down = max(one[2], other[2]) - min(one[2] + one[4], other[2] + other[4])
            least = 20 if one[5] and other[5] else 12
            assert max(across, down) >= least - 0.5, f"{one[0]} and {other[0]}: {max(across, down)} px apart"


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
             "plan": PLAN, "plan-over": OVER, "plan-wrong": WRONG, "ledger": "/ledger?price=Pd+38EUR%2Fg", "emergency": "/emergency",
             "settings": "/settings", "pair": "/pair", "lost": "/nowhere"}
    weigh, ways = begin_work(tab, own, 3), begin_work(tab, own, 6)
    pages |= {"bench": "/bench", "weigh": weigh, "keys": weigh + "?typed=1.2", "ways": ways}
    for theme in THEMES:
        tab.size(1024)
        tab.open(own.address + "/")
        tab.click(f"footer button[value={theme}]")
        assert tab.evaluate("document.documentElement.dataset.theme") == theme
        for name, path in pages.items():
            tab.open(own.address + path)
            until(lambda: not fresh(tab), "the step stays fresh")
            for width in WIDTHS:
                tab.picture(f"{shots}/{name}-{theme}-{width}.png", width)
            # What is folded is looked at too.
            tab.evaluate("document.querySelectorAll('main details').forEach((own) => own.open = true)")
            if axe:
                check_with_axe(tab, axe, f"{name} in {theme}")
            for width in WIDTHS:
                tab.picture(f"{shots}/unfolded.png", width)
                for picture in (f"{shots}/{name}-{theme}-{width}.png", f"{shots}/unfolded.png"):
                    assert theme in ("paper", "dark") or blue(picture) == 0, f"{picture}: a pixel has blue in it"
                small = tab.evaluate(SMALL)
                assert not small, f"{name} at {width}: smaller than 44 px: {small}"
            tab.size(320)
            over = tab.evaluate("document.documentElement.scrollWidth")
            assert over <= 320, f"{name} in {theme} is {over} px wide at 320"
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


def check_with_axe(tab, axe, where):
    tab.evaluate(axe + ";0")
    found = tab.evaluate("axe.run().then((all) => all.violations.map((own) => own.id + ': ' + own.nodes[0].html.slice(0, 160)))")
    assert not found, f"{where}: {found}"


def blue(path):
    """The bluest pixel."""
    return Image.open(path).convert("RGB").getchannel("B").getextrema()[1]


if __name__ == "__main__":
    main()
