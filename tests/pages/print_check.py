"""Prints pages with Chromium and looks at what comes out.

usage: print_check.py FOLDER
Every page in FOLDER opens without the network, logs nothing to the console, asks for nothing outside the file, and
prints on as many sheets of the size that its name says: permit.1.210x297.html is one sheet of A4 (millimetres);
study.0.210x297.html may take as many as it likes.
Exit code 0 when all is so, 1 when not (each failure on a line), 77 when Chromium is not installed.
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

POINTS_PER_MM = 72 / 25.4


def sheets_of(pdf):
    """Sizes of the pages in mm, as pdfinfo tells them."""
    said = subprocess.run(["pdfinfo", "-f", "1", "-l", "99", pdf], check=True, capture_output=True, text=True).stdout
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", said)
    return [(float(w) / POINTS_PER_MM, float(h) / POINTS_PER_MM) for w, h in sizes]


def complaints(chromium, page, pdf):
    wanted = re.search(r"\.(\d+)\.(\d+)x(\d+)\.html$", page.name)
    if not wanted:
        return ["has a name that does not say on how many sheets it is to print"]
    found = []
    text = page.read_text(encoding="utf-8")
    if re.search(r"(src|href)\s*=|url\(|@import", text):
        found.append("asks for something outside itself")
    with tempfile.TemporaryDirectory() as profile:
        run = subprocess.run(
            [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
             "--host-resolver-rules=MAP * ~NOTFOUND", "--enable-logging=stderr", f"--user-data-dir={profile}",
             "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri()],
            capture_output=True, text=True, timeout=120)
    found += [line for line in run.stderr.splitlines() if "CONSOLE" in line]
    if not pdf.exists():
        return found + ["was not printed: " + run.stderr[-300:]]
    sizes = sheets_of(pdf)
    count, width, height = (int(x) for x in wanted.groups())
    if count and len(sizes) != count:
        found.append(f"prints on {len(sizes)} sheets instead of {count}")
    found += [f"has a sheet of {w:.0f} x {h:.0f} mm" for w, h in sizes if abs(w - width) > 1 or abs(h - height) > 1]
    return found


def main():
    chromium = shutil.which("chromium")
    if not chromium or not shutil.which("pdfinfo"):
        sys.exit(77)
    folder = pathlib.Path(sys.argv[1]).resolve()
    pages = sorted(folder.glob("*.html"))
    failed = not pages
    for page in pages:
        for complaint in complaints(chromium, page, page.with_suffix(".pdf")):
            print(f"{page.name}: {complaint}")
            failed = True
    print(f"{len(pages)} pages looked at")
    sys.exit(1 if failed else 0)


main()
