"""A server with a book of its own, a browser on its pages, and what is looked at on every page in every theme."""

import json
import subprocess

from PIL import Image

from browser import Browser, until

THEMES = ["paper", "dark", "amber", "red"]
WIDTHS = [390, 1024]

# A target is what takes the tap: the control, or the label that belongs to it. Links inside a sentence are as high as their line
# (WCAG 2.2, 2.5.8, inline).
SMALL = """[...document.querySelectorAll("a, button, input:not([type=hidden]), summary")].filter((own) => {
  const style = getComputedStyle(own), box = own.getBoundingClientRect();
  if (!box.width || !own.checkVisibility({visibilityProperty: true, contentVisibilityAuto: true}) || own.className === "skip") return false;
  if (own.tagName === "A" && style.display === "inline") return false;
  const boxes = [box, ...[...(own.labels ?? [])].map((label) => label.getBoundingClientRect())];
  return Math.max(...boxes.map((box) => box.height)) < 44 || Math.max(...boxes.map((box) => box.width)) < 44;
}).map((own) => own.outerHTML.slice(0, 120))"""


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
    # What is folded away has a box and is no target.
    boxes = tab.evaluate("""[...document.querySelectorAll(".bench a, .bench button, .bench input[type=text]")]
      .filter((own) => own.checkVisibility()).map((own) => {
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


def look_at(tab, own, shots, axe, pages, unfolded=()):
    """Pages in every theme, as a phone and as a tablet show them, and at the narrowest. Of those named in `unfolded` the picture with nothing
    folded is kept too. Everything is looked at before anything is complained of."""
    trouble = []
    for theme in THEMES:
        tab.size(1024)
        tab.open(own.address + "/")
        tab.click(f"footer button[value={theme}]")
        assert tab.evaluate("document.documentElement.dataset.theme") == theme
        for name, path in pages.items():
            try:
                look_at_one(tab, own.address + path, shots, axe, name, theme, name in unfolded)
            except AssertionError as error:
                trouble.append(f"{name} in {theme}: {error}")
    assert not trouble, "\n".join(trouble)


def look_at_one(tab, address, shots, axe, name, theme, kept):
    tab.open(address)
    until(lambda: not fresh(tab), "the step stays fresh")
    at_the_bench = tab.evaluate("Boolean(document.querySelector('.bench'))")
    for width in WIDTHS:
        tab.picture(f"{shots}/{name}-{theme}-{width}.png", width)
        if at_the_bench:
            bench_targets(tab)
    # What is folded is looked at too.
    tab.evaluate("document.querySelectorAll('main details').forEach((own) => own.open = true)")
    if axe:
        check_with_axe(tab, axe)
    for width in WIDTHS:
        open_picture = f"{shots}/{name}-unfolded-{theme}-{width}.png" if kept else f"{shots}/unfolded.png"
        tab.picture(open_picture, width)
        for picture in (f"{shots}/{name}-{theme}-{width}.png", open_picture):
            assert theme in ("paper", "dark") or blue(picture) == 0, f"{picture}: a pixel has blue in it"
        small = tab.evaluate(SMALL)
        assert not small, f"smaller than 44 px at {width}: {small}"
    tab.size(320)
    over = tab.evaluate("document.documentElement.scrollWidth")
    assert over <= 320, f"{over} px wide at 320"


def check_with_axe(tab, axe):
    tab.evaluate(axe + ";0")
    found = tab.evaluate("axe.run().then((all) => all.violations.map((own) => own.id + ': ' + own.nodes[0].html.slice(0, 160)))")
    assert not found, found


def blue(path):
    """The bluest pixel."""
    return Image.open(path).convert("RGB").getchannel("B").getextrema()[1]
