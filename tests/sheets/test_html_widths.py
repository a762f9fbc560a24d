"""The HTML page in a browser at three widths: nothing is wider than its cell, and no figure is broken in two."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from helpers.drawn import NAMES, report

from navlog.sheets.html import document
from navlog.sheets.pages import PAGES

MEASURE = r"""
<script>
const wide = [...document.querySelectorAll('.row > div, .way span, .told span, p, label, pre, h1, h2, figure')]
  .filter(one => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== 'inline')
  .map(one => `${one.className || one.tagName}: ${one.textContent}`);
const broken = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
let cells = 0;
for (let node = walker.nextNode(); node; node = walker.nextNode()) {
  if (node.parentElement.closest('svg, script')) continue;
  for (const found of node.data.matchAll(/\S*\d\S*/g)) {
    if (found[0].length > 24) continue;
    const range = document.createRange();
    range.setStart(node, found.index);
    range.setEnd(node, found.index + found[0].length);
    const tops = new Set([...range.getClientRects()].map(box => Math.round(box.top)));
    cells += 1;
    if (tops.size > 1) broken.push(found[0]);
  }
}
const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
const rows = [...document.querySelectorAll('.row')].flatMap(row => {
  const boxes = [...row.children].map(one => [one, one.getBoundingClientRect()]).filter(([one]) => one.textContent);
  return boxes.flatMap(([one, a], index) => boxes.slice(index + 1).filter(([, b]) =>
    Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 &&
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2)
    .map(([other]) => `${one.className} ${one.textContent} on ${other.className} ${other.textContent}`));
});
document.title = JSON.stringify({width: innerWidth, wide, broken, over, rows, cells});
</script>
"""


def measured(written: str, width: int, folder: Path) -> dict[str, object]:
    """What a browser of that width makes of the file."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if chromium is None:
        pytest.skip("chromium is not installed: nothing was measured")
    source = folder / "sheet.html"
    allowed = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", written)
    # Headless windows are no narrower than 500 px, so that the page stands in a frame of its width.
    source.write_text(allowed.replace("</body>", f"{MEASURE}</body>"), "utf-8")
    frame = folder / "frame.html"
    frame.write_text(
        f'<iframe id="inside" src="sheet.html" width="{width}" height="1000" style="border:0"></iframe>'
        "<script>inside.onload = () => document.title = inside.contentDocument.title</script>",
        "utf-8",
    )
    switches = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--allow-file-access-from-files"]
    command = [chromium, *switches, f"--user-data-dir={folder / 'user'}", "--window-size=1400,1000", "--dump-dom"]
    done = subprocess.run([*command, frame.as_uri()], check=True, capture_output=True, timeout=120)
    title = re.search(r"<title>(\{.*\})</title>", done.stdout.decode("utf-8"))
    assert title is not None, done.stdout[:500]
    found: dict[str, object] = json.loads(title[1].replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))
    return found


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_no_cell_overflows_and_no_figure_breaks(width: int, tmp_path: Path) -> None:
    found = measured(document([report(name) for name in NAMES], PAGES["half-letter"]), width, tmp_path)
    assert found["width"] == width
    assert int(str(found["cells"])) > 400
    assert found["broken"] == []
    assert found["wide"] == []
    assert found["rows"] == []
    assert found["over"] == 0


def test_a_cell_too_narrow_is_found(tmp_path: Path) -> None:
    narrowed = document([report("marsh")], PAGES["half-letter"]).replace("minmax(6.2em, 1fr)", "2em")
    found = measured(narrowed, 820, tmp_path)
    assert found["wide"] != []
