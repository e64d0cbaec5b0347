#!/usr/bin/env python3
"""Goes the way from a chart to a negative as a printer would: the page of the chart, a scan that is dropped, what was found on it, the fit, the proof, the negative; with and
without scripts. Then looks at the pages of it in every theme.

    chart.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

from browser import until
from house import Served, look_at, with_browser
from tone import SETUP, give_file, words

SCAN, PICTURE = "scan-of-the-print.tif", "still-life.tif"


def main():
    program, chromium, shots = sys.argv[1:4]
    axe = Path(sys.argv[4]).read_text() if len(sys.argv) > 4 else None
    Path(shots).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        samples = Path(folder, "tour")
        subprocess.run([program, "tour", str(samples)], check=True, capture_output=True)
        picture = samples / PICTURE
        for scripts in (True, False):
            with Served(program, Path(folder, f"chart-{scripts}.handcoat")) as own:
                with_browser(chromium, own, lambda tab, own=own, on=scripts: walk(tab, own, on, samples / SCAN, picture))
                if not scripts:
                    with_browser(chromium, own, lambda tab, own=own: look(tab, own, shots, axe, picture.name))
    print("a chart made, scanned, read and fitted, a picture proofed and made a negative, with and without scripts; every page seen in every theme")


def shines(tab, selector):
    """How many pictures there are, each of them loaded."""
    tab.evaluate(f"document.querySelectorAll('{selector}').forEach((own) => own.loading = 'eager')")
    loaded = f"[...document.querySelectorAll('{selector}')].every((own) => own.complete && own.naturalWidth > 0)"
    until(lambda: tab.evaluate(loaded), f"{selector} shows nothing")
    return tab.evaluate(f"document.querySelectorAll('{selector}').length")


def walk(tab, own, scripts, scan, picture):
    tab.scripts(scripts)
    own.run("keep", "paper", "cotton rag", "--lot", "A7")
    own.run("keep", "setup", SETUP, "--paper", "cotton rag", "--metal", "Pd", "--ink-colour", "#204060")
    tab.open(own.address + "/tone")
    assert "Next: a chart on film." in tab.text(), tab.text()
    tab.click("main .way a[href^='/tone/chart']")
    chosen = tab.evaluate("document.querySelector('input[name=setup]:checked').value")
    assert chosen == SETUP, chosen
    said = words(tab)
    for part in ("without colour management", "Dry print", "No automatic corrections", "How to print and scan it, A4"):
        assert part in said, f"no {part}: {said}"

    # The scan is dropped, and what was found is seen.
    tab.click("main a[href^='/tone/read']")
    give_file(tab, "#scan-file", scan)
    tab.click("main form[action^='/tone/read/upload'] button[type=submit]")
    said = words(tab)
    assert "What was read" in said and "Fit a response of these readings" in said, said
    assert shines(tab, "figure.picture img") == 1
    tab.click("main button[value=fit]")
    assert "How good it is" in words(tab), words(tab)
    tab.click("main form button[value=keep]")
    # It was printed in grey, and the set-up has an ink.
    assert "Its chart was printed in grey, and negatives of the set-up are in the ink #204060." in tab.text(), tab.text()
    tab.open(own.address + "/tone")
    assert "Next: a new chart" in tab.text(), tab.text()

    # A picture: first as it would print, then as a negative that says what speaks against it.
    tab.open(own.address + "/negative/new")
    give_file(tab, "#send-file", picture)
    tab.click("main form[action='/negative/upload'] button[type=submit]")
    tab.open(f"{own.address}/negative/proof?picture={picture.name}&curve=1")
    assert shines(tab, ".pair img") == 2
    tab.open(f"{own.address}/negative/new?picture={picture.name}&curve=1&width=2in&ppi=200")
    tab.click("main form[action='/negative/new'] button[type=submit]")
    until(lambda: (tab.open(own.address + "/negative/1"), "Download the file" in tab.text())[1], "there is no negative")
    assert "The chart of the curve was printed in grey, and this negative is in the ink #204060" in tab.text(), tab.text()
    assert "As it would print" in tab.text() and shines(tab, ".pair img") == 2, tab.text()


def look(tab, own, shots, axe, picture):
    pages = {
        "chart-made": "/tone/chart?setup=1",
        "chart-read": "/tone/read",
        "chart-proof": f"/negative/proof?picture={picture}&curve=1",
        "chart-negative-new": f"/negative/new?picture={picture}&curve=1",
        "chart-negative": "/negative/1",
    }
    tab.scripts(True)
    look_at(tab, own, shots, axe, pages)


if __name__ == "__main__":
    main()
