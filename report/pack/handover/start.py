"""Loads the hand-over and draws one chart: RPE against the speed of the slowest rep.

    python3 start.py

Needs Python 3.8 or newer and nothing else. With pandas the tables can be had in
one line each: pandas.read_parquet("sets.parquet").
"""

import csv
import json
import re
from datetime import date, datetime
from pathlib import Path

HERE = Path(__file__).resolve().parent
SIGNS = "=+\\-@\uff1d\uff0b\uff0d\uff20"


def restore(text):
    """Takes away the quote that keeps spreadsheets from running a text."""
    text = re.sub("^'('*[" + SIGNS + "\t\r\n])", r"\1", text)
    return re.sub("([,;|\t\r\n])'('*[" + SIGNS + "])", r"\1\2", text)


READ = {
    "string": restore,
    "number": float,
    "integer": int,
    "boolean": lambda text: text == "true",
    "date": date.fromisoformat,
    "datetime": lambda text: datetime.fromisoformat(text.replace("Z", "+00:00")),
    "list": lambda text: text.split("; "),
}


def load(name):
    """Returns the rows of a CSV file, typed as datapackage.json says; empty is None."""
    package = json.loads((HERE / "datapackage.json").read_text(encoding="utf-8"))
    schema = next(r["schema"] for r in package["resources"] if r["path"] == name)
    types = {f["name"]: READ[f["type"]] for f in schema["fields"]}
    with open(HERE / name, encoding="utf-8", newline="") as file:
        return [
            {column: types[column](text) if text else None for column, text in row.items()}
            for row in csv.DictReader(file)
        ]


def effort_chart(points, title):
    """Returns an SVG of (RPE, speed) points with the mean of each RPE."""
    width, height, left, bottom = 640, 420, 60, 50
    top_speed = max(v for _, v in points) * 1.1
    x = lambda rpe: left + (rpe - 4.5) / 6 * (width - left - 20)
    y = lambda v: height - bottom - v / top_speed * (height - bottom - 40)
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" font-family="sans-serif" font-size="13">',
        f'<rect width="{width}" height="{height}" fill="white"/><text x="{left}" y="22">{title}</text>',
    ]
    for rpe in range(5, 11):
        out.append(f'<text x="{x(rpe)}" y="{height - bottom + 20}" text-anchor="middle">{rpe}</text>')
    for i in range(6):
        v = top_speed * i / 5
        out.append(f'<text x="{left - 8}" y="{y(v) + 4}" text-anchor="end">{v:.2f}</text>')
        out.append(f'<line x1="{left}" x2="{width - 20}" y1="{y(v)}" y2="{y(v)}" stroke="#ddd"/>')
    out.append(f'<text x="{width / 2}" y="{height - 8}" text-anchor="middle">RPE of the set</text>')
    out.append(f'<text x="14" y="{height / 2}" text-anchor="middle" transform="rotate(-90 14 {height / 2})">slowest rep (m/s)</text>')
    for rpe, v in points:
        out.append(f'<circle cx="{x(rpe):.1f}" cy="{y(v):.1f}" r="3" fill="none" stroke="#444"/>')
    for rpe in sorted({r for r, _ in points}):
        speeds = [v for r, v in points if r == rpe]
        mean = sum(speeds) / len(speeds)
        out.append(f'<line x1="{x(rpe) - 12}" x2="{x(rpe) + 12}" y1="{y(mean):.1f}" y2="{y(mean):.1f}" stroke="black" stroke-width="3"/>')
        out.append(f'<text x="{x(rpe) + 15}" y="{y(mean) + 4:.1f}">n {len(speeds)}</text>')
    return "\n".join(out + ["</svg>\n"])


if __name__ == "__main__":
    reps, sets = load("reps.csv"), load("sets.csv")
    print(len(reps), "reps,", len(sets), "sets")
    by_lift = {}
    for s in sets:
        if s["rpe"] is not None and s["rpe"] >= 5 and s["slowest_m_s"] is not None:
            by_lift.setdefault((s["lifter"], s["lift"]), []).append((s["rpe"], s["slowest_m_s"]))
    if not by_lift:
        raise SystemExit("no set has both RPE and speed")
    (lifter, lift), points = max(by_lift.items(), key=lambda item: (len(item[1]), item[0]))
    Path("effort-py.svg").write_text(effort_chart(points, f"{lifter}, {lift}: {len(points)} sets"), encoding="utf-8")
    print(f"effort-py.svg: {lifter}, {lift}, {len(points)} sets")
