#!/usr/bin/env python3
"""Writes the journal of a full litter for the benchmarks: 12 pups, 8 weeks, about 3,000 entries, the same every time.

Usage: bench/make_full_litter.py FILE
Births over one night, weights four times a day to the end of week 2 and then twice, temperatures, air, meals, feeds for four pups.
"""
import json
import math
import sys
from datetime import datetime, timedelta, timezone

BIRTH = datetime(2026, 3, 1, 2, tzinfo=timezone.utc)
PUPS, DAYS = 12, 56


def journal():
    lines = []

    def put(hours, kind, about="", minutes=0, **fields):
        at = (BIRTH + timedelta(hours=hours, minutes=minutes)).isoformat().replace("+00:00", "Z")
        entry = {"id": f"00000000-0000-4000-8000-{len(lines) + 1:012x}", "litter": "bench-2026", "at": at, "written": at, "kind": kind}
        entry.update(fields, **({"about": about} if about else {}))
        entry["written_by" if kind == "feed" else "by"] = "bench"
        lines.append(json.dumps(entry, sort_keys=True, separators=(",", ":")))

    put(-24 * 70, "litter", dam={"name": "Bench", "breed": "Golden Retriever", "kg": 30, "parity": 1}, zone="Europe/London", scale_g=1,
        vet={"phone": "01632 960118", "night_phone": "01632 960144"})
    put(-24 * 63, "ovulation")
    put(-24 * 61, "mating", method="natural")
    put(-24 * 7, "pup_count", method="xray", pups=PUPS, at_least=True)
    for h in range(240, 0, -8):
        put(-h, "temperature", "dam", celsius=38.1 if h > 20 else 37.2)
    for pup in range(1, PUPS + 1):
        label, grams, offset = str(pup), 340 + 11 * pup, 35 * pup
        put(0, "birth", label, offset, order=pup, sex="male" if pup % 2 else "female", grams=grams, collar=f"collar {label}")
        put(0, "newborn_score", label, offset + 5, heart=2, breathing=2, reflex=1, movement=2, colour=2)
        h = 12
        while h <= 24 * DAYS:
            days = h / 24
            now = grams * math.exp(0.075 * days - 0.0005 * days * days) * (1 + 0.008 * math.sin(h * 1.7 + pup))
            put(h, "weight", label, pup, grams=round(now))
            h += 6 if h < 24 * 14 else 12
        for day in range(7):
            put(24 * day + 12, "temperature", label, pup, celsius=36.4)
    for day in range(DAYS):
        for h in (8, 20):
            put(24 * day + h, "temperature", "dam", celsius=38.5)
            put(24 * day + h, "dam_meal", "dam", kcal=1500, food="soaked")
            put(24 * day + h, "air", celsius=30.0 if day < 7 else 25.0, where="under_lamp")
        for feed in range(8 if day < 21 else 0):
            for pup in "1234":
                put(24 * day + 3 * feed + 12, "feed", pup, ml=8, by="bottle", kcal_ml=1.1)
    put(24 * DAYS, "note", note="Eight weeks.")
    return lines


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1].startswith("-"):
        sys.exit(__doc__)
    with open(sys.argv[1], "w", encoding="utf-8") as out:
        out.write("\n".join(journal()) + "\n")
