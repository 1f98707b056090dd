"""Draws one day of a plan as SVG: `stillroom plan FOLDER --json | python docs/pictures/draw_day.py 2027-04-10 > day.svg`.

A row for each person, for what somebody has to be near, and for each piece of equipment.
"""

from __future__ import annotations

import json
import sys
from datetime import datetime, timedelta
from typing import Any
from xml.sax.saxutils import escape

GROUND, RIM, INK = "#fbf7ee", "#1d3f72", "#222222"
FILL = {"hands": "#6d2c4e", "near": "#4d7c4f", "free": "#8a8f98"}
MEAL = "#c08a1e"
WIDTH, LEFT, ROW, LANE_GAP, TOP = 1120, 150, 26, 8, 84


def main() -> None:
    """Plan from standard input, day from the command line, picture to standard output."""
    plan, day = json.load(sys.stdin), sys.argv[1]
    print(picture(plan, day))


def picture(plan: dict[str, Any], day: str) -> str:
    """The SVG text of one day."""
    names = {run["key"]: run["name"] for run in plan["runs"]}
    tasks = [{**t, "text": f"{names[t['run']]}: {t['text']}"} for t in plan["tasks"] if t["start"].startswith(day)]
    start = _clock(min(task["start"] for task in tasks)).replace(minute=0)
    end = min(max(_clock(task["end"]) for task in tasks), start.replace(hour=0) + timedelta(hours=24))
    scale = (WIDTH - LEFT - 16) / (end - start).total_seconds()

    def x(moment: datetime) -> float:
        return LEFT + max(0.0, (min(moment, end) - start).total_seconds()) * scale

    parts, y = [], TOP
    for name, lanes in _rows(tasks):
        parts.append(f'<text x="12" y="{y + 17}" class="name">{escape(name)}</text>')
        for lane in lanes:
            parts.extend(_bar(task, x(_clock(task["start"])), x(_clock(task["end"])), y) for task in lane)
            y += ROW
        y += LANE_GAP
    height = y + 34
    parts.extend(_axis(start, end, x, height))
    parts.extend(_meals(plan, day, x, height))
    title = f"{_clock(day + ' 00:00:00'):%A %d %B %Y}, {plan['household']} (invented)"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{escape(title)}">'
        "<style>text{font:12px system-ui,sans-serif;fill:#222}.name{font-weight:600}.t{fill:#fff;font-size:11px}"
        ".h{font-size:17px;font-weight:700;fill:#1d3f72}.a{fill:#555;font-variant-numeric:tabular-nums}</style>"
        f'<rect width="{WIDTH}" height="{height}" rx="10" fill="{GROUND}" stroke="{RIM}" stroke-width="3"/>'
        f'<text x="14" y="28" class="h">{escape(title)}</text>' + "".join(parts) + "</svg>"
    )


def _rows(tasks: list[dict[str, Any]]) -> list[tuple[str, list[list[dict[str, Any]]]]]:
    """Rows with lanes in which nothing overlaps."""
    named: dict[str, list[dict[str, Any]]] = {}
    for task in tasks:
        if task["person"]:
            named.setdefault(task["person"], []).append(task)
    people = sorted(named)
    named["near"] = [task for task in tasks if task["attention"] == "near"]
    for task in tasks:
        for equipment in task["equipment"]:
            named.setdefault(equipment.split("× ")[-1].split(" at ")[0], []).append(task)
    order = [*people, "near", *sorted(set(named) - set(people) - {"near"})]
    return [(name, _lanes(named[name])) for name in order if named[name]]


def _lanes(tasks: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    lanes: list[list[dict[str, Any]]] = []
    for task in sorted(tasks, key=lambda task: task["start"]):
        for lane in lanes:
            if lane[-1]["end"] <= task["start"]:
                lane.append(task)
                break
        else:
            lanes.append([task])
    return lanes


def _bar(task: dict[str, Any], left: float, right: float, y: int) -> str:
    width = max(2.0, right - left - 1)
    letters = int(width / 6)
    text = task["text"] if len(task["text"]) <= letters else task["text"][: max(0, letters - 1)] + "…"
    label = f'<text x="{left + 4:.1f}" y="{y + 15}" class="t">{escape(text)}</text>' if letters > 4 else ""
    fill = FILL[task["attention"]]
    return (
        f'<rect x="{left:.1f}" y="{y}" width="{width:.1f}" height="{ROW - 4}" rx="4" fill="{fill}">'
        f"<title>{escape(task['start'][11:16])} {escape(task['text'])}</title></rect>{label}"
    )


def _axis(start: datetime, end: datetime, x: Any, height: int) -> list[str]:
    parts, hour = [], start
    while hour <= end:
        parts.append(
            f'<line x1="{x(hour):.1f}" x2="{x(hour):.1f}" y1="{TOP - 6}" y2="{height - 26}" stroke="#1d3f7222"/>'
        )
        parts.append(f'<text x="{x(hour) - 8:.1f}" y="{TOP - 12}" class="a">{hour:%H}</text>')
        hour += timedelta(hours=1)
    for number, (kind, words) in enumerate(
        (("hands", "takes hands"), ("near", "someone near"), ("free", "runs alone"))
    ):
        left = LEFT + number * 130
        parts.append(f'<rect x="{left}" y="{height - 20}" width="12" height="12" rx="3" fill="{FILL[kind]}"/>')
        parts.append(f'<text x="{left + 18}" y="{height - 10}">{words}</text>')
    return parts


def _meals(plan: dict[str, Any], day: str, x: Any, height: int) -> list[str]:
    names: dict[str, list[str]] = {}
    for meal in plan["meals"]:
        if meal["at"].startswith(day):
            names.setdefault(meal["at"], []).append(meal["name"])
    parts = []
    for moment, meals in names.items():
        at = x(_clock(moment))
        words = f"{' and '.join(meals)} {moment[11:16]}"
        parts.append(
            f'<line x1="{at:.1f}" x2="{at:.1f}" y1="{TOP - 6}" y2="{height - 26}" stroke="{MEAL}" stroke-width="3"/>'
        )
        parts.append(f'<text x="{at:.1f}" y="{TOP - 32}" text-anchor="middle" class="name">{escape(words)}</text>')
    return parts


def _clock(text: str) -> datetime:
    return datetime.fromisoformat(text)


if __name__ == "__main__":
    main()
