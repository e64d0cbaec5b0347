#!/usr/bin/env python3
"""Walks through the pages as a printer would, with a browser and without its scripts, and looks at what is seen.

    walk.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import subprocess
import sys
import tempfile
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
        with Served(program, Path(folder, "seen.handcoat")) as own:
            fill(own)
            with_browser(chromium, own, lambda tab: look(tab, own, shots, axe))
    print("walked with and without scripts; every page seen in every theme" + ("" if axe else "; axe was not there"))


class Served:
    """A server with a new book."""

    def __init__(self, program, book):
        self.program, self.book = program, str(book)
        subprocess.run([program, "new", self.book], check=True, capture_output=True)

    def __enter__(self):
        arguments = [self.program, "serve", "--port", "0", "--book", self.book]
        self.process = subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True)
        self.address = self.process.stdout.readline().strip().rstrip("/")
        return self

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

    # By keyboard alone: the skip link is the first stop and leads to the page.
    tab.open(own.address + "/shelf")
    tab.key("Tab", 9)
    assert tab.evaluate("document.activeElement.className") == "skip"
    tab.key("Enter", 13)
    assert tab.evaluate("document.activeElement.id") == "page"


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


def look(tab, own, shots, axe):
    """Every page in every theme, as a phone and as a tablet show it, and at the narrowest."""
    tab.open(own.address + "/shelf")
    item = tab.evaluate("[...document.querySelectorAll('.shelf a.name')].find((own) => own.innerText === 'palladium stock').pathname")
    jar = tab.evaluate("[...document.querySelectorAll('.shelf a.name')].find((own) => own.innerText === 'Heron').pathname")
    pages = {"today": "/?act=8", "shelf": "/shelf", "bottle": item, "jar": jar, "receive": "/receive", "plan-empty": "/stock/plan",
             "plan": PLAN, "plan-over": OVER, "plan-wrong": WRONG, "ledger": "/ledger?price=Pd+38EUR%2Fg", "emergency": "/emergency",
             "settings": "/settings", "pair": "/pair", "lost": "/nowhere"}
    for theme in THEMES:
        tab.size(1024)
        tab.open(own.address + "/")
        tab.click(f"footer button[value={theme}]")
        assert tab.evaluate("document.documentElement.dataset.theme") == theme
        for name, path in pages.items():
            tab.open(own.address + path)
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
