#!/usr/bin/env python3
"""Finds a base exposure as a printer would: strips at the lamp, a wedge typed, pasted and out of a file, two numbers by eye, the ladder; with
and without scripts. Then looks at every page of it in every theme.

    light.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import sys
import tempfile
from pathlib import Path

from browser import until
from house import Served, bench_targets, look_at, with_browser

# An invented paper: densities under 21 steps of 0.15 from 0.05, one wedge without agent and one with.
PLAIN = [1.40, 1.39, 1.39, 1.35, 1.34, 1.29, 1.25, 1.17, 1.08, 0.95, 0.81, 0.67, 0.52, 0.41, 0.30, 0.24, 0.19, 0.15, 0.12, 0.10, 0.09]
HARD = [1.41, 1.41, 1.40, 1.38, 1.35, 1.30, 1.22, 1.09, 0.92, 0.73, 0.54, 0.37, 0.26, 0.19, 0.13, 0.10, 0.09, 0.08, 0.08, 0.06, 0.08]
SETUP = "cotton, palladium, tubes"


def main():
    program, chromium, shots = sys.argv[1:4]
    axe = Path(sys.argv[4]).read_text() if len(sys.argv) > 4 else None
    Path(shots).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for scripts in (True, False):
            with Served(program, Path(folder, f"light-{scripts}.handcoat")) as own:
                with_browser(chromium, own, lambda tab, own=own, on=scripts: walk(tab, own, on, folder))
        with Served(program, Path(folder, "lit.handcoat")) as own:
            fill(own, folder)
            with_browser(chromium, own, lambda tab: look(tab, own, shots, axe))
    print("a base exposure found in four ways, with and without scripts; every page seen in every theme" + ("" if axe else "; axe was not there"))


def wedge_file(folder, prints, name="wedge.csv", mark=","):
    """A table of readings; with a semicolon between columns its decimal mark is a comma."""
    lines = [f"{0.05 + 0.15 * step:.2f}{mark}{print_:.2f}" for step, print_ in enumerate(prints)]
    if mark == ";":
        lines = [line.replace(".", ",") for line in lines]
    path = Path(folder, name)
    path.write_text(f"step_density{mark}print_density\n" + "\n".join(lines) + "\n")
    return str(path)


def keep_setup(own):
    own.run("keep", "paper", "cotton rag", "--lot", "A7")
    own.run("keep", "lamp", "tube bank", "--hours", "12")
    own.run("keep", "setup", SETUP, "--paper", "cotton rag", "--metal", "Pd", "--agent", "hexachloroplatinate", "--lamp", "tube bank")


def walk(tab, own, scripts, folder):
    tab.scripts(scripts)
    tab.open(own.address + "/")
    tab.click("nav.rivers a[href='/expose']")
    assert "Keep a set-up" in tab.text()
    keep_setup(own)

    # Strips: planned, one after the other beside the lamp, tapped when dry.
    tab.click("main a[href='/expose/strip']")
    tab.type("#strip-first", "2:00")
    tab.type("#strip-until", "8:00")
    if scripts:
        until(lambda: "7 strips" in tab.evaluate("document.querySelector('#status').textContent"), "no strips follow")
    else:
        tab.click("main form button[type=submit]")
    seconds = tab.evaluate("[...document.querySelectorAll('.adds b')].map((own) => own.innerText).join(' ')")
    assert seconds == "2:00 31 39 50 62 79 99", seconds
    tab.click("a[href*='/expose/strip/bench']")
    tab.size(390, 844)
    for shown in ("2:00", "31", "39", "50", "62", "79", "99"):
        assert tab.evaluate("document.querySelector('.target').innerText").startswith(shown), shown
        bench_targets(tab)
        tab.click(".main-two a")
    assert "no blacker than the one before" in tab.text()
    bench_targets(tab)
    tab.click(".taps li:nth-child(4) a")
    tab.size(1024)
    assert "4:00 through clear film" in " ".join(tab.text().split()), tab.text()
    tab.click("form[action='/expose/tests'] button")
    assert "Test 1 is kept of " + SETUP in tab.text(), tab.text()
    tab.click("nav.rivers a[href='/expose']")
    assert "4:00 through clear film" in " ".join(tab.text().split()), "the base exposure in force"

    # A wedge, typed step by step; then what is not a number.
    tab.open(own.address + "/expose/wedge")
    tab.type("#wedge-test_time", "8:00")
    for step, density in enumerate(PLAIN, 1):
        tab.type(f"#wedge-d{step}", f"{density:.2f}".replace(".", ","))
    if scripts:
        until(lambda: "Base exposure" in tab.evaluate("document.querySelector('#status').textContent"), "no curve follows")
    else:
        tab.click("main form button[type=submit]")
    said = " ".join(tab.evaluate("document.querySelector('#result').innerText").split())
    assert "within 0.03 of Dmax" in said and "By the other criterion".lower() in said.lower(), said
    shown = "[...document.querySelectorAll('#result .drawing svg')].filter((own) => own.getBoundingClientRect().width > 0)"
    assert tab.evaluate(f"{shown}.length") == 1, "one drawing is shown"
    assert tab.evaluate(f"{shown}[0].querySelectorAll('g > title').length") == 21, "each point says its reading"
    tab.type("#keep-dose", "none")
    tab.click("form[action='/expose/tests'] button")
    assert "Test 2 is kept" in tab.text(), tab.text()
    tab.open(own.address + "/expose/wedge?how=paste&test_time=8:00&readings=0.05%20black")
    assert "reading_unreadable" in tab.text() or "column" in tab.text(), tab.text()

    # Pasted, half of it: it did not bracket, and the next step is said.
    pasted = "%0A".join(f"{0.05 + 0.15 * step:.2f}+{HARD[step]:.2f}" for step in range(8, 21))
    tab.open(own.address + f"/expose/wedge?how=paste&test_time=4:00&readings={pasted}")
    assert "It did not bracket" in tab.text() and "8:00, twice as long" in tab.text(), tab.text()

    # Out of a file with decimal commas.
    tab.open(own.address + "/expose/wedge?how=file")
    tab.type("#wedge-test_time", "8:00")
    tab.click("#wedge-decimal_mark-1", loads=False)
    node = tab.send("DOM.querySelector", nodeId=tab.send("DOM.getDocument")["root"]["nodeId"], selector="#wedge-file")["nodeId"]
    tab.send("DOM.setFileInputFiles", nodeId=node, files=[wedge_file(folder, HARD, mark=";")])
    tab.click("main form button[type=submit]")
    assert "within 0.03 of Dmax" in tab.text(), tab.text()
    tab.type("#keep-dose", "2mg/mL")
    tab.click("form[action='/expose/tests'] button")
    assert "Test 3 is kept" in tab.text(), tab.text()
    tab.click(".done button")
    assert "taken back" in tab.text()
    tab.open(own.address + "/expose")
    assert "Test 3" not in tab.text(), "what was taken back is no test"

    # By eye, of no set-up.
    tab.open(own.address + "/expose/eye")
    for field, text in (("test_time", "8:00"), ("last_black", "4"), ("last_tone", "15")):
        tab.type(f"#eye-{field}", text)
    if scripts:
        until(lambda: "Base exposure" in tab.evaluate("document.querySelector('#status').textContent"), "no time follows")
    else:
        tab.click("main form button[type=submit]")
    tab.type("#keep-dose", "1mg/mL")
    tab.click("form[action='/expose/tests'] button")
    assert "Test 4 is kept" in tab.text(), "a number that was taken back is never used again: " + tab.text()

    # The ladder of both, and the negative.
    tab.open(own.address + "/expose")
    tab.click("a[href^='/expose/ladder?setup']")
    tab.type("#ladder-range", "1.7")
    if scripts:
        until(lambda: "The negative asks for" in tab.text(), "no dose follows")
    else:
        tab.click("main form button[type=submit]")
    assert "The negative asks for" in tab.text() and "% borrowed" in tab.text(), tab.text()


def fill(own, folder):
    """A set-up that is suspect, three wedges, strips, a wedge that did not bracket."""
    keep_setup(own)
    at = ["--at", "2026-02-01T10:00Z", "--keep", "--setup", SETUP]
    own.run("expose", "wedge", wedge_file(folder, PLAIN), "--test-time", "8:00", "--dose", "none", *at)
    own.run("expose", "wedge", wedge_file(folder, HARD), "--test-time", "8:00", "--dose", "2mg/mL", *at)
    own.run("expose", "eye", "--test-time", "8:00", "--last-black", "4", "--last-tone", "16", "--dose", "0.5mg/mL", *at)
    own.run("expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "5", "--keep")
    own.run("expose", "wedge", wedge_file(folder, HARD[6:]), "--test-time", "4:00", "--keep")
    own.run("keep", "paper", "cotton rag", "--change", "--lot", "B2")
    own.run("keep", "setup", "kozo, palladium, sun", "--metal", "Pd")


def look(tab, own, shots, axe):
    readings = "&".join(f"d{step}={print_:.2f}" for step, print_ in enumerate(PLAIN, 1))
    pages = {
        "expose": "/expose",
        "expose-wedge": f"/expose/wedge?test_time=8:00&{readings}",
        "expose-wedge-empty": "/expose/wedge",
        "expose-wedge-31": "/expose/wedge?tablet=31",
        "expose-wedge-paste": "/expose/wedge?how=paste&test_time=4:00&readings=" + "%0A".join(f"{own:.2f}" for own in PLAIN),
        "expose-wedge-file": "/expose/wedge?how=file",
        "expose-wedge-refused": "/expose/wedge?how=paste&test_time=4:00&readings=1.40%0Ablack",
        "expose-eye": "/expose/eye?test_time=8:00&last_black=4&last_tone=15",
        "expose-eye-short": "/expose/eye?test_time=8:00&last_black=0&last_tone=15",
        "expose-strip": "/expose/strip?first=2:00&until=8:00",
        "expose-strip-tapped": "/expose/strip?first=2:00&until=8:00&tapped=5",
        "expose-strip-longer": "/expose/strip?first=2:00&until=8:00&tapped=none",
        "expose-strip-bench": "/expose/strip/bench?first=2:00&until=8:00&at=4",
        "expose-strip-tap": "/expose/strip/bench?first=0:10&until=4:00&at=dry",
        "expose-ladder": "/expose/ladder?setup=1&range=1.7",
        "expose-ladder-borrowed": "/expose/ladder?agent=dichromate&range=2.4",
        "expose-test-wedge": "/expose/tests/1",
        "expose-test-strip": "/expose/tests/4",
        "expose-test-short": "/expose/tests/5",
        "keep-setup": "/keep/setup/1",
    }
    tab.scripts(True)
    look_at(tab, own, shots, axe, pages, unfolded=("expose-wedge", "expose-ladder"))


if __name__ == "__main__":
    main()
