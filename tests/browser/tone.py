#!/usr/bin/env python3
"""Makes a curve as a printer would: a chart pasted and out of a file, kept under its set-up, a print through it held against the target, the
next patches; with and without scripts. Then looks at every page of it in every theme.

    tone.py HANDCOAT CHROMIUM SHOTS [AXE.js]

Leaves a picture of every page in every theme in SHOTS. Anything that is not as it must be ends it with an error.
"""

import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.parse import quote

from house import Served, look_at, with_browser

SETUP = "cotton, palladium, tubes"


def main():
    program, chromium, shots = sys.argv[1:4]
    axe = Path(sys.argv[4]).read_text() if len(sys.argv) > 4 else None
    Path(shots).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        samples = charts(program, Path(folder))
        for scripts in (True, False):
            with Served(program, Path(folder, f"tone-{scripts}.handcoat")) as own:
                with_browser(chromium, own, lambda tab, own=own, on=scripts: walk(tab, own, on, samples))
        with Served(program, Path(folder, "toned.handcoat")) as own:
            fill(own, samples)
            with_browser(chromium, own, lambda tab: look(tab, own, shots, axe, samples))
    print("a curve made, kept and held against a print, with and without scripts; every page seen in every theme" + ("" if axe else "; axe was not there"))


def charts(program, folder):
    """A chart of an invented paper, and the same paper printed through its curve."""
    chart, fit, corrected = folder / "chart.csv", folder / "fit.json", folder / "corrected.csv"
    said = subprocess.run([program, "tone", "fit", str(chart), "--sample", "--json"], check=True, capture_output=True)
    fit.write_bytes(said.stdout)
    subprocess.run([program, "tone", "verify", str(corrected), "--sample", "--of", str(fit)], check=True, capture_output=True)
    return {"chart": chart, "corrected": corrected}


def keep_setup(own):
    own.run("keep", "paper", "cotton rag", "--lot", "A7")
    own.run("keep", "setup", SETUP, "--paper", "cotton rag", "--metal", "Pd", "--ink", "black only", "--printer", "the wide one")


def give_file(tab, selector, path):
    node = tab.send("DOM.querySelector", nodeId=tab.send("DOM.getDocument")["root"]["nodeId"], selector=selector)["nodeId"]
    tab.send("DOM.setFileInputFiles", nodeId=node, files=[str(path)])


def words(tab, selector="main"):
    return " ".join(tab.evaluate(f"document.querySelector('{selector}').innerText").split())


def walk(tab, own, scripts, samples):
    tab.scripts(scripts)
    keep_setup(own)
    tab.open(own.address + "/")
    tab.click("nav.rivers a[href='/tone']")
    assert "No response is kept yet" in tab.text()
    tab.click("main a[href='/tone/new']")

    # What is no reading is said by its line, and nothing is lost.
    tab.type("#chart-readings", "0 22.4")
    tab.evaluate("document.querySelector('#chart-readings').value = '0 22.4\\n0.5 grey'")
    tab.click("main form button[value=fit]")
    assert "reading_unreadable" in tab.text() and "Line 2" in tab.text(), tab.text()
    assert "grey" in tab.evaluate("document.querySelector('#chart-readings').value"), "what was pasted is there"

    # Out of a file.
    give_file(tab, "#chart-file", samples["chart"])
    tab.click("main form button[value=fit]")
    said = words(tab)
    assert "How good it is" in said and "readings left aside 1 of 31" in said, said
    shown = "[...document.querySelectorAll('.plots svg')].filter((own) => own.getBoundingClientRect().width > 0)"
    assert tab.evaluate(f"{shown}.length") == 3, "three plots are shown, each once"
    tab.type("#keep-note", "first chart")
    tab.click("main form button[value=keep]")
    assert "Response 1 is kept of " + SETUP in tab.text(), tab.text()
    assert "No print through this curve was read yet" in tab.text(), tab.text()
    curve = tab.evaluate("(async () => await (await fetch('/tone/1/curve')).text())()") if scripts else None
    assert curve is None or curve.startswith("input,output\n0.00000000,") and len(curve.splitlines()) == 258

    # Printed through it.
    tab.click("main a[href='/tone/1/verify']")
    give_file(tab, "#print-file", samples["corrected"])
    tab.click("main form button[value=read]")
    said = words(tab)
    assert "What is left" in said and "L* on average over tones (rms)" in said, said
    tab.click("#keep-update", loads=False)
    tab.click("main form button[value=keep]")
    said = words(tab)
    assert "Response 1 is checked" in said and "Response 2 is kept" in said, said

    # The next patches, and a set-up that changes.
    tab.open(own.address + "/tone/1")
    tab.click("main a[href='/tone/1/next']")
    tab.type("#next-patch", "8mm")
    if not scripts:
        tab.click("main form button[type=submit]")
    assert "Print these inputs" in tab.text() or "No more patches are worth their paper" in tab.text(), tab.text()
    own.run("keep", "setup", SETUP, "--change", "--ink", "another black")
    tab.open(own.address + "/tone")
    assert "The ink changed since" in tab.text(), tab.text()


def fill(own, samples):
    """A response that holds, one that was checked, one of a set-up that has changed, one of none."""
    keep_setup(own)
    chart, corrected = str(samples["chart"]), str(samples["corrected"])
    own.run("tone", "fit", chart, "--keep", "--setup", SETUP, "--note", "first chart")
    own.run("tone", "verify", corrected, "--of", "1", "--keep", "--update")
    own.run("tone", "fit", chart, "--keep", "--target", "soft-whites")
    own.run("keep", "setup", "kozo, palladium, sun", "--metal", "Pd", "--ink", "black only")
    own.run("tone", "fit", chart, "--keep", "--setup", "kozo, palladium, sun", "--at", "2026-02-01T10:00Z")
    own.run("keep", "setup", "kozo, palladium, sun", "--change", "--ink", "another black")


def look(tab, own, shots, axe, samples):
    chart, corrected = (quote(samples[name].read_text()) for name in ("chart", "corrected"))
    pages = {
        "tone": "/tone",
        "tone-new": "/tone/new",
        "tone-new-fitted": f"/tone/new?readings={chart}",
        "tone-new-refused": "/tone/new?readings=0%2022%0A0.5%20grey",
        "tone-new-few": "/tone/new?readings=0%2022%0A0.5%2050%0A1%2093",
        "tone-response": "/tone/1",
        "tone-response-unchecked": "/tone/2",
        "tone-response-stale": "/tone/4",
        "tone-verify": "/tone/1/verify",
        "tone-verify-read": f"/tone/1/verify?readings={corrected}",
        "tone-next": "/tone/1/next",
        "tone-chart": "/tone/chart",
        "tone-read": "/tone/read",
        "tone-next-refused": "/tone/2/next?patch=10",
    }
    tab.scripts(True)
    look_at(tab, own, shots, axe, pages, unfolded=("tone-response",))


if __name__ == "__main__":
    main()
