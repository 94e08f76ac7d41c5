"""A general typesetter as a yardstick: `typeset.py sheet|record PHOTOS OUT`.

Sets a document like a care sheet (2 pages) or a process record (a table of 330 rows and 24 photos), tagged, as
PDF/A-3a and PDF/UA-1. Prints CPU seconds and peak memory in KiB of this process: `0.812 210432`.
"""

import pathlib
import resource
import sys

import typst

ROWS = 330
HEAD = """
#set document(title: "A like document", author: "Bench")
#set page(paper: "a4", margin: (x: 18mm, y: 20mm), numbering: "1 of 1", header: [A like document])
#set text(size: 8.5pt, lang: "en")
= K-01
"""
WORDS = "What is left of the acid keeps dissolving the paste under the sealer; haze and peeling follow. "


def sheet():
    parts = [HEAD]
    for title in ["First days", "Every day", "Wipe at once", "Never", "Sealing", "Renewal", "Problems", "Warranty"]:
        parts.append(f"== {title}\n{WORDS * 4}\n" + "".join(f"- {WORDS}\n" for _ in range(4)))
    return "".join(parts)


def row(number):
    values = " \\ ".join(["grit: 100 resin", "wet or dry: wet", "surface: 18.5 °C", "margin to dew point: 4.2 K",
                             "result: cut out", "power: electric", "note: left edge needs a second look"])
    cells = [f"{1 + number % 28} Mar 2025, 10:20", f"*Grit pass* \\ Ines Marek · Bench tablet \\ entry {number:012x}", values]
    return "".join(f"[{cell}], " for cell in [*cells, "–"])


def record(photos):
    rows = "".join(row(number) for number in range(ROWS))
    head = "table.header([when], [step], [recorded], [finding])"
    table = f"== Every step\n#table(columns: (23mm, 37mm, 1fr, 37mm), {head}, {rows})\n"
    pictures = "".join(f'image("{name}", alt: "A face"), ' for name in photos)
    return f"{HEAD}{WORDS * 8}\n{table}== Photos\n#grid(columns: 3, gutter: 10pt, {pictures})\n"


kind, folder, out = sys.argv[1:]
root = pathlib.Path(folder)
names = sorted(path.name for path in root.glob("*.jpg"))
source = root / f"{kind}.typ"
source.write_text(sheet() if kind == "sheet" else record(names), encoding="utf-8")
typst.compile(str(source), output=out, format="pdf", pdf_standards=["a-3a", "ua-1"])
used = resource.getrusage(resource.RUSAGE_SELF)
print(f"{used.ru_utime + used.ru_stime:.3f} {used.ru_maxrss}")
