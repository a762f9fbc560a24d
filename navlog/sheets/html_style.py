"""How the HTML sheet looks: black on white, the flown numbers large, nothing told by colour."""

from __future__ import annotations

from navlog.rules.report import Report
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, HEAD_MARGIN_MM, SIDE_MARGIN_MM, Page

_SCREEN_AND_PRINT = """
body { margin: 0 auto; color: #000; background: #fff; font: 10pt/1.25 "Liberation Sans", Arial, Helvetica, sans-serif; }
h1 { font-size: 13pt; margin: 0 0 1mm; overflow-wrap: anywhere; }
h2 { font-size: 9pt; margin: 2mm 0 0.5mm; overflow-wrap: anywhere; }
p { margin: 0 0 0.5mm; overflow-wrap: anywhere; }
.route, .summary { font-weight: bold; }
.total { font-size: 14pt; font-weight: bold; margin: 3mm 0; }
section, .told, .marks, figcaption { font-size: 9pt; }
.box, .drawings { break-inside: avoid; }
.fields { display: flex; }
.fields span { flex: 1 1 0; min-width: 0; min-height: 9mm; padding: 0.3mm 0.8mm; font-size: 9pt;
  border: 0.4pt solid #000; margin: 0 -0.4pt -0.4pt 0; overflow-wrap: anywhere; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; margin-top: 2mm; }
th { font-size: 9pt; font-weight: normal; text-align: left; vertical-align: baseline; width: 9%; }
tbody th { vertical-align: bottom; padding-bottom: 1mm; }
thead th { border-bottom: 0.8pt solid #000; }
th.flown:nth-child(2) { width: 28%; } th.flown:nth-child(3) { width: 12%; } th.flown:nth-child(4) { width: 12%; }
th.pen { width: 13%; text-align: center; }
td { padding: 0.2mm 0; vertical-align: baseline; overflow-wrap: anywhere; }
td.pen { border-left: 0.4pt solid #000; }
tbody.place { break-inside: avoid; border-bottom: 0.8pt solid #000; }
tbody.place tr:first-child td { padding-top: 1mm; }
tbody.place tr:last-child td { padding-bottom: 1mm; }
.where { font-size: 11pt; } .where b { font-size: 13pt; }
.tune, .marks, .stations p { font-family: "Liberation Mono", "Courier New", monospace; font-weight: bold; }
.tune { font-size: 10.5pt; white-space: pre-wrap; }
td.in { font-size: 14pt; font-weight: bold; } td i { font-style: normal; font-size: 12pt; }
td.flown { font-size: 17pt; font-weight: bold; line-height: 1.1; }
.told, .marks { padding-left: 9%; }
.phrase { display: inline-block; max-width: 100%; }
figure { margin: 2mm 0 0; } svg { width: 100%; height: auto; display: block; }
svg text { font-family: "Liberation Sans", Arial, Helvetica, sans-serif; }
main + main { break-before: page; }
@media screen { body { padding: 5mm; } main + main { margin-top: 15mm; } }
"""


def style(page: Page) -> str:
    """The style sheet for a page; the clip of a knee board covers the top of it."""
    top = CLIP_MARGIN_MM + HEAD_MARGIN_MM
    return (
        f"\n@page {{ size: {page.width_mm:g}mm {page.height_mm:g}mm;"
        f" margin: {top:g}mm {SIDE_MARGIN_MM:g}mm {FOOT_MARGIN_MM:g}mm; }}"
        f"\nbody {{ max-width: {page.width_mm - 2 * SIDE_MARGIN_MM:g}mm; }}"
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
