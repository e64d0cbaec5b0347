"""A headless Chromium, spoken to over its DevTools protocol, with real key strokes and mouse clicks."""

import base64
import json
import shutil
import subprocess
import tempfile
import time
import urllib.request
from pathlib import Path

import websocket

PATIENCE = 60


class Browser:
    """One tab. `trouble` collects what the page complained of, `asked` every address it asked for."""

    def __init__(self, program):
        self.folder = tempfile.mkdtemp(prefix="handcoat-browser-")
        arguments = ["--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0", "--no-first-run",
                     "--disable-background-networking", "--disable-component-update", "--disable-sync", "--lang=en",
                     "--force-color-profile=srgb", "--remote-allow-origins=*", f"--user-data-dir={self.folder}", "about:blank"]
        self.process = subprocess.Popen([program, *arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        port_file = Path(self.folder, "DevToolsActivePort")
        until(lambda: port_file.exists() and port_file.read_text().count("\n") >= 1, "the browser does not start")
        port = port_file.read_text().split("\n")[0]
        pages = until(lambda: tabs(port), "the browser opens no tab")
        self.socket = websocket.create_connection(pages[0]["webSocketDebuggerUrl"], timeout=PATIENCE)
        self.number, self.trouble, self.asked, self.loaded = 0, [], [], 0
        self.going = self.at = None
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.send(f"{domain}.enable")

    def close(self):
        self.socket.close()
        self.process.terminate()
        self.process.wait(PATIENCE)
        shutil.rmtree(self.folder, ignore_errors=True)

    def send(self, method, **parameters):
        self.number += 1
        self.socket.send(json.dumps({"id": self.number, "method": method, "params": parameters}))
        while True:
            message = json.loads(self.socket.recv())
            if message.get("id") == self.number:
                if "error" in message:
                    raise AssertionError(f"{method}: {message['error']['message']}")
                return message["result"]
            self.heard(message)

    def heard(self, message):
        what, said = message.get("method"), message.get("params", {})
        if what == "Network.requestWillBeSent":
            self.asked.append(said["request"]["url"])
        elif what == "Log.entryAdded" and said["entry"]["level"] in ("error", "warning"):
            # A refusal is a page with its own status; that a browser notes the status is no trouble.
            if "the server responded with a status of 4" not in said["entry"]["text"]:
                self.trouble.append(said["entry"]["text"])
        elif what == "Runtime.exceptionThrown":
            self.trouble.append(said["exceptionDetails"]["text"])
        elif what == "Page.frameNavigated" and "parentId" not in said["frame"]:
            self.going = said["frame"]["url"]
        elif what == "Page.loadEventFired":
            self.loaded += 1
            self.at = self.going

    def wait_for_load(self, before, at=None):
        end = time.monotonic() + PATIENCE
        while self.loaded == before or (at and self.at != at):
            assert time.monotonic() < end, "the page does not load"
            self.heard(json.loads(self.socket.recv()))
        self.evaluate("document.fonts.ready.then(() => true)")

    def open(self, address, leads_to=None):
        """Goes there. A page that sends itself on is not asked anything before the one it leads to has come."""
        before = self.loaded
        self.send("Page.navigate", url=address)
        self.wait_for_load(before, leads_to)

    def evaluate(self, script):
        answer = self.send("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in answer, f"{script[:80]}: {answer['exceptionDetails']}"
        return answer["result"].get("value")

    def size(self, width, height=900):
        self.send("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)

    def scripts(self, on):
        self.send("Emulation.setScriptExecutionDisabled", value=not on)

    def click(self, selector, loads=True):
        """A real click in the middle of something; the page it leads to is waited for."""
        script = f"""(() => {{ const found = document.querySelector({json.dumps(selector)}); if (!found) return null;
            found.scrollIntoView({{block: "center"}}); const box = found.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2]; }})()"""
        place = self.evaluate(script)
        assert place, f"nothing is `{selector}` on {self.evaluate('location.href')}"
        before = self.loaded
        for kind in ("mousePressed", "mouseReleased"):
            self.send("Input.dispatchMouseEvent", type=kind, x=place[0], y=place[1], button="left", clickCount=1)
        if loads:
            self.wait_for_load(before)

    def type(self, selector, text):
        """Into a field, in place of what is there."""
        self.click(selector, loads=False)
        self.evaluate(f"document.querySelector({json.dumps(selector)}).select()")
        self.send("Input.insertText", text=text)

    def key(self, name, code):
        for kind in ("keyDown", "keyUp"):
            self.send("Input.dispatchKeyEvent", type=kind, key=name, code=name, windowsVirtualKeyCode=code,
                      text="\r" if name == "Enter" and kind == "keyDown" else "")

    def text(self):
        return self.evaluate("document.body.innerText")

    def picture(self, path, width):
        """The whole page, as high as it is."""
        self.size(width)
        height = self.evaluate("document.documentElement.scrollHeight")
        self.size(width, max(height, 600))
        data = self.send("Page.captureScreenshot", format="png")["data"]
        Path(path).write_bytes(base64.b64decode(data))


def tabs(port):
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/json/list", timeout=2) as answer:
            return [tab for tab in json.load(answer) if tab["type"] == "page"]
    except OSError:
        return []


def until(found, complaint):
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        if value := found():
            return value
        time.sleep(0.05)
    raise AssertionError(complaint)
