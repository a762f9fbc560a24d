"""How the HTML page looks: black on white, dark where the reader asks for it, the flown numbers large."""

from __future__ import annotations

from navlog.rules.report import Report
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, HEAD_MARGIN_MM, SIDE_MARGIN_MM, Page

_SCREEN_AND_PRINT = """
:root { color-scheme: light dark; --ink: #000; --paper: #fff; --pen: #000; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #ddd; --paper: #000; --pen: #888; }
  svg { filter: invert(1); }
}
* { box-sizing: border-box; }
body { margin: 0 auto; color: var(--ink); background: var(--paper);
  font: 9pt/1.2 "Liberation Sans", Arial, Helvetica, sans-serif; }
h1 span { font-size: 10pt; }
h1 { font-size: 12pt; line-height: 1.1; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 9pt; margin: 1.5mm 0 0.3mm; overflow-wrap: anywhere; }
p { margin: 0; overflow-wrap: anywhere; }
.strong { font-weight: bold; }
.small p { font-size: 8pt; margin-top: 1mm; }
.fields { display: flex; flex-wrap: wrap; margin-top: -0.4pt; }
.fields label { flex: 1 1 17mm; border: 0.4pt solid var(--pen); margin: 0 -0.4pt -0.4pt 0; padding: 0 0.6mm;
  font-size: 8pt; line-height: 1; overflow-wrap: anywhere; }
.radios:has(+ .row) { break-after: avoid; }
.closing { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: end; }
.radios label { flex: 0 0 auto; max-width: 100%; font-size: 9pt; font-weight: bold; border: 0; margin-right: 1mm;
  display: flex; align-items: center; gap: 1mm; }
input { width: 100%; height: 5mm; display: block; padding: 0; border: 0; border-radius: 0; color: inherit;
  background: transparent; font: 12pt "Liberation Sans", Arial, sans-serif; }
.radios input { border: 0.4pt solid var(--pen); width: 14mm; } .closing input { width: 10mm; }
.closing label { font-size: 8pt; font-weight: normal; }
input[type=checkbox] { display: inline-block; appearance: none; width: 3mm; height: 3mm; margin: -1mm 0.6mm 0;
  border: 0.5pt solid var(--pen); vertical-align: baseline; }
input[type=checkbox]:checked { background: var(--ink); }
.row { display: grid; line-height: 1.05; border-bottom: 0.6pt solid var(--pen);
  break-inside: avoid;
  grid-template-columns: 3.9em 4.1em 2.8em 2.8em 2.5em minmax(6.2em, 1fr) 6.2em 3.9em 4.1em; font-size: 10pt;
  grid-template-areas: "place eta ata fuel turn tune set hdg alt" "way way ata fuel told told told told min"; }
.heads { font-weight: bold; } .heads div { font-size: 8pt; }
.row > div { min-width: 0; white-space: nowrap; }
.place { grid-area: place; font-weight: bold; align-self: baseline; }
.row > .place { white-space: normal; overflow-wrap: anywhere; }
.eta { grid-area: eta; align-self: baseline; font-size: 8pt; } .eta b { font-size: 14pt; }
.turn { grid-area: turn; font-weight: bold; align-self: baseline; }
.tune { grid-area: tune; align-self: baseline; } .row.anew .tune { font-weight: bold; }
.set { grid-area: set; font-weight: bold; align-self: baseline; } .set b, .hdg b { font-size: 15pt; }
.set i { font-style: normal; font-size: 8.5pt; }
.hdg { grid-area: hdg; font-weight: bold; align-self: baseline; }
.alt { grid-area: alt; font-weight: bold; text-align: right; align-self: baseline; }
.min { grid-area: min; text-align: right; }
.way { grid-area: way; font-size: 9pt; display: grid; grid-template-columns: 1fr 2.8em 2.2em; text-align: right;
  padding-right: 0.8mm; align-content: start; }
.row > .way span:nth-child(3n+1) { text-align: left; white-space: normal; overflow-wrap: anywhere; }
.way span:first-child { font-weight: bold; } .way .legs, .way .legs ~ span { font-size: 8pt; }
.told { grid-area: told; font-size: 8.5pt; }
.row > .told { white-space: normal; }
.told > span { margin-right: 2mm; overflow-wrap: anywhere; } .told > span.whole { white-space: nowrap; }
.told code { font: bold 8.5pt "Liberation Mono", "Courier New", monospace; white-space: pre; }
.ata, .fuel { border: 0.4pt solid var(--pen); min-height: 8mm; margin-right: -0.4pt; }
.heads .ata, .heads .fuel { border: 0; min-height: 0; }
.ata { grid-area: ata; } .fuel { grid-area: fuel; line-height: 1; }
.fuel b { font-size: 9pt; font-weight: normal; }
.n { white-space: nowrap; }
pre { font: bold 8pt/1.2 "Liberation Mono", "Courier New", monospace; margin: 0.5mm 0; }
.radios .off { font-size: 10pt; font-weight: bold; }
.drawings, figure { break-inside: avoid; }
figure { margin: 2mm 0 0; } figcaption { font-size: 9pt; } svg { width: 100%; height: auto; display: block; }
svg text { font-family: "Liberation Sans", Arial, Helvetica, sans-serif; }
.back { break-before: page; } main + main { break-before: page; }
@media screen {
  body { padding: 3mm; } .row { padding: 0.3mm 0; }
  .back { margin-top: 6mm; } main + main { margin-top: 15mm; }
}
@media screen and (min-width: 700px) {
  body { font-size: 11pt; } .row { font-size: 13pt; } .way { font-size: 13pt; } .way .legs, .way .legs ~ span,
  .heads div { font-size: 10pt; }
  .eta b { font-size: 18pt; } .set b, .hdg b { font-size: 20pt; } .told, .told code, .set i { font-size: 11pt; }
  h1 { font-size: 15pt; } h2, pre { font-size: 11pt; } .small p { font-size: 10pt; }
}
@media screen and (max-width: 519px) {
  .row { grid-template-columns: 1fr 1fr 6.4em 4.2em 4.3em;
    grid-template-areas: "place eta set hdg alt" "turn turn tune tune min" "way way way ata fuel"
      "told told told told told"; }
  .tune, .hdg { text-align: right; }
}
"""


def style(page: Page) -> str:
    """The style sheet for a page; the clip of a knee board covers the top of it."""
    top = CLIP_MARGIN_MM + HEAD_MARGIN_MM
    width = page.width_mm - 2 * SIDE_MARGIN_MM
    return (
        f"\n@page {{ size: {page.width_mm:g}mm {page.height_mm:g}mm;"
        f" margin: {top:g}mm {SIDE_MARGIN_MM:g}mm {FOOT_MARGIN_MM:g}mm; }}"
        f"\n@media print {{ body {{ max-width: {width:g}mm; }} }}"
        f"\n@media screen {{ body {{ max-width: {max(width, 190.0):g}mm; }} }}"
        f"{_SCREEN_AND_PRINT}"
    )


def flight_page(number: int, report: Report) -> str:
    """The flight's name and day, and the page number, at the head of each of its pages."""
    request = report.log.route.request
    name = css_text(f"{request.name}  {request.day:%Y-%m-%d}")
    font = 'font: 9pt "Liberation Sans", Arial, sans-serif; vertical-align: bottom; padding-bottom: 1mm'
    return (
        f"@page flight{number} {{ @top-left {{ content: {name}; {font}; }}"
        f' @top-right {{ content: counter(page) "/" counter(pages); {font}; }} }}\n'
        f"#flight{number} {{ page: flight{number}; }}"
    )


def css_text(text: str) -> str:
    """A string of CSS in which every character but letters, digits and spaces is a number (CSS Syntax 3, 4.3.7)."""
    plain = (
        character if character.isalnum() and character.isascii() else f"\\{ord(character):x} " for character in text
    )
    return f'"{"".join(plain)}"'
