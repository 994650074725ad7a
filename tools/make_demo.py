#!/usr/bin/env python3
"""Writes demo/juniper.jsonl: the journal of one invented litter, from the first blood test to eight weeks.

Usage: tools/make_demo.py [DIR]     (default: demo/ beside this script's folder)
       tools/make_demo.py --check   (exit 1 if the file that lies there is not what this script writes)

Everything in it is our own invention. The courses behind the figures are published ones, so that the demo behaves
like a real litter:
  progesterone   Hollinshead & Hanlon 2019, Theriogenology 125:37-42 (mean by day from the LH peak)
  temperature    45-bitch study, Tsutsui & Murata 1982 (authors from memory): 37.4 at 20 h, 37.0 at 10 h, 37.4 at 1 h
  birth weight   Mugnier et al. 2020, BMC Vet Res 16, Table 1, Golden Retriever: mean 394.8 g, SD 76.8 g
  growth         Small Animal Clinical Nutrition 5th ed., Table 16-1 (about 8 % a day in week 1, 5 % in weeks 2-4);
                 doubled on day 10-12 (Moon 2001); nothing gained on the first day
The seed is fixed: the same script writes the same bytes.
"""
import json
import math
import random
import sys
import uuid
from datetime import datetime, timedelta, timezone
from pathlib import Path

LITTER = "juniper-2026"
MOMENT = "2026-10-07T04:20:00+01:00"
RNG = random.Random(20261005)
UTC = timezone.utc
CLOCKS_BACK = datetime(2026, 10, 25, 1, tzinfo=UTC)  # Europe/London leaves summer time
ENTRIES = []


def local(day, time):
    """The instant of a London wall-clock time in 2026: local("10-05", "02:30")."""
    naive = datetime.fromisoformat(f"2026-{day}T{time}:00")
    summer = naive.replace(tzinfo=timezone(timedelta(hours=1)))
    return summer if summer < CLOCKS_BACK else naive.replace(tzinfo=UTC)


def later(instant, **span):
    """`instant` plus a span, with the offset London has by then."""
    t = (instant + timedelta(**span)).astimezone(UTC)
    return t.astimezone(timezone(timedelta(hours=1))) if t < CLOCKS_BACK else t


def iso(instant):
    return instant.isoformat(timespec="seconds").replace("+00:00", "Z")


def put(at, kind, about="", by="Tess", note="", written_after=None, **fields):
    """One entry; returns its id. `written_after`: seconds from happening to writing down."""
    seconds = written_after if written_after is not None else RNG.randint(4, 95)
    name = f"{LITTER}/{len(ENTRIES)}/{kind}/{about}/{iso(at)}"
    entry = {"id": str(uuid.uuid5(uuid.NAMESPACE_URL, "lampside-demo:" + name)), "litter": LITTER, "at": iso(at),
             "written": iso(later(at, seconds=seconds)), "by": by, "kind": kind}
    if about:
        entry["about"] = about
    if note:
        entry["note"] = note
    entry.update(fields)
    ENTRIES.append(entry)
    return entry["id"]


def on_curve(nodes, day):
    """Ratio to the birth weight, straight lines on the log scale between the nodes (day, ratio)."""
    for (d0, r0), (d1, r1) in zip(nodes, nodes[1:]):
        if day <= d1:
            return math.exp(math.log(r0) + (math.log(r1) - math.log(r0)) * (day - d0) / (d1 - d0))
    return nodes[-1][1]


THRIVING = [(0, 1), (0.5, 0.995), (1, 1.015), (2, 1.08), (3, 1.16), (5, 1.36), (7, 1.58), (10, 1.97), (14, 2.52),
            (21, 3.65), (28, 5.1), (35, 6.9), (42, 9.1), (49, 11.6), (56, 14.2)]
SLOW = [(0, 1), (1, 0.965), (2, 0.94), (3, 0.94), (4, 0.96), (5, 1.01), (7, 1.17), (10, 1.58), (14, 2.22), (21, 3.6),
        (28, 5.35), (35, 7.6), (42, 10.3), (49, 13.4), (56, 16.6)]

#        label, day, time, sex, birth grams, collar, head first, placenta seen with it
PUPS = [("1", "10-04", "22:48", "male", 441, "red", True, True),
        ("2", "10-04", "23:21", "female", 389, "blue", False, True),
        ("3", "10-04", "23:40", "female", 402, "green", True, False),
        ("4", "10-05", "00:26", "male", 468, "yellow", True, True),
        ("5", "10-05", "00:51", "female", 371, "orange", True, True),
        ("6", "10-05", "01:38", "male", 427, "purple", False, True),
        ("7", "10-05", "02:05", "male", 455, "white", True, True),
        ("8", "10-05", "04:25", "male", 396, None, False, False),
        ("9", "10-05", "04:49", "female", 246, "pink", True, True),
        ("10", "10-05", "05:37", "female", 358, "brown", False, True),
        ("11", "10-05", "06:12", "male", 413, "black", True, True)]
SLOW_PUP, STILLBORN = "9", "8"
BORN = {p[0]: local(p[1], p[2]) for p in PUPS}
GRAMS = {p[0]: p[4] for p in PUPS}
ALIVE = [p[0] for p in PUPS if p[0] != STILLBORN]
PACE = {label: RNG.gauss(1.0, 0.045) for label in ALIVE}


def before_the_due_date():
    put(local("07-20", "19:10"), "litter", written_after=60,
        dam={"name": "Juniper", "breed": "Golden Retriever", "born": "2022-03-14", "kg": 29.6, "parity": 1},
        sire={"name": "Fen", "breed": "Golden Retriever", "born": "2020-06-02", "kg": 33.8},
        adult_kg=30, zone="Europe/London", units={"weight": "g", "temperature": "C"}, place="GB-ENG", scale_g=1,
        vet={"phone": "01632 960118", "night_phone": "01632 960144", "minutes_away": 25},
        note="Lantern Hill. Juniper's second litter.")
    put(local("07-20", "19:20"), "earlier_litter", **{"from": "ovulation"}, days=63, born_alive=7, stillborn=1,
        weaned=7, note="Her first litter, two years ago.")
    for day, time, ng_ml in [("07-27", "09:15", 0.6), ("07-30", "09:05", 0.9), ("08-01", "09:20", 2.6),
                             ("08-03", "09:10", 5.1), ("08-04", "09:00", 7.4), ("08-06", "09:30", 19.8)]:
        put(local(day, time), "progesterone", ng_ml=ng_ml, written_after=7 * 3600)
    put(local("08-03", "12:00"), "ovulation", written_after=86400 + 600,
        note="Judged by the vet from the series, same laboratory throughout.")
    put(local("08-05", "11:40"), "mating", method="natural", note="Fen. Tie 22 minutes.")
    put(local("08-07", "10:55"), "mating", method="natural", note="Fen. Tie 15 minutes.")
    put(local("09-03", "10:30"), "pup_count", method="ultrasound", pups=8, at_least=True)
    put(local("09-28", "16:20"), "pup_count", method="xray", pups=10, at_least=True,
        note="Two spines lie over each other on the right.")
    for week, (day, kg) in enumerate([("08-10", 29.8), ("08-24", 30.4), ("09-07", 32.1), ("09-21", 35.9), ("10-01", 38.2)]):
        put(local(day, "08:10"), "weight", "dam", grams=round(kg * 1000 / 100) * 100, by="Ruth" if week % 2 else "Tess")
    put(local("09-20", "18:00"), "stock", item="collars, coloured", have=12)
    put(local("09-20", "18:02"), "stock", item="milk replacer, g", have=400)
    put(local("09-20", "18:05"), "stock", item="heat lamp bulbs", have=1)
    put(local("09-24", "20:00"), "done", task="box set up")
    put(local("10-01", "20:15"), "note", note="Vet has our dates and is on call; night number rings through.")


def dam_temperature(day, time, celsius, note=""):
    put(local(day, time), "temperature", "dam", celsius=celsius, note=note, by=RNG.choice(["Tess", "Tess", "Ruth"]))


def temperatures_before():
    for day in range(24, 31):  # twice a day
        for time in ("07:30", "19:30"):
            dam_temperature(f"09-{day}", time, round(RNG.gauss(38.15, 0.14), 1))
    for day, times in (("10-01", (38.1, 38.2, 38.0)), ("10-02", (37.9, 38.1, 38.0)), ("10-03", (37.9, 37.9, 37.7))):
        for time, celsius in zip(("07:00", "14:30", "22:00"), times):
            dam_temperature(day, time, celsius)
    dam_temperature("10-04", "03:10", 37.3, "Up in the night, she asked to go out.")
    dam_temperature("10-04", "07:00", 37.2)
    dam_temperature("10-04", "12:45", 37.0)
    dam_temperature("10-04", "17:30", 37.1)
    dam_temperature("10-04", "21:40", 37.4)


def sign(day, time, name, about="dam", note=""):
    return put(local(day, time), "sign", about, sign=name, note=note)


def the_night():
    for day, time, name, note in [
            ("10-04", "08:20", "off_food", "Left her breakfast."), ("10-04", "13:15", "nesting", ""),
            ("10-04", "16:50", "panting", ""), ("10-04", "19:05", "shivering", ""),
            ("10-04", "20:10", "vomiting", "Once, a little."), ("10-04", "20:55", "mucus", "Clear."),
            ("10-04", "22:05", "weak_straining", ""), ("10-04", "22:21", "waters", ""),
            ("10-04", "22:30", "strong_straining", ""), ("10-04", "22:44", "pup_visible", ""),
            ("10-05", "00:02", "weak_straining", ""), ("10-05", "01:20", "strong_straining", ""),
            ("10-05", "01:55", "green_discharge", "After six pups."),
            ("10-05", "03:08", "weak_straining", "On and off."), ("10-05", "03:24", "straining_stopped", ""),
            ("10-05", "03:46", "weak_straining", ""), ("10-05", "04:08", "strong_straining", "Rang the vet at 04:12."),
            ("10-05", "04:22", "pup_visible", "Tail first."), ("10-05", "05:20", "strong_straining", ""),
            ("10-05", "07:05", "settled", "Asleep, all feeding.")]:
        sign(day, time, name, note=note)
    struck = sign("10-05", "02:31", "pup_visible", note="")
    put(local("10-05", "02:33"), "strike", strike=struck, note="Wrong button: her tail.")
    for order, (label, day, time, sex, grams, collar, head_first, placenta) in enumerate(PUPS, 1):
        fields = {"order": order, "sex": sex, "grams": grams, "alive": label != STILLBORN,
                  "presentation": "head_first" if head_first else "tail_first", "placenta": placenta}
        if collar:
            fields["collar"] = collar
        if label == "6":
            fields["sex"] = "female"  # put right in the morning
        note = {"8": "Never breathed. Rubbed for twenty minutes.", "9": "Very small.", "4": "White on the chest."}
        birth = put(local(day, time), "birth", label, note=note.get(label, ""), written_after=RNG.randint(60, 240), **fields)
        if label == "6":
            wrong, right = birth, dict(fields, sex="male")
        if label in ALIVE:
            first = (1, 1, 1, 1, 1) if label == SLOW_PUP else tuple(RNG.choice((1, 2, 2, 2)) for _ in range(5))
            score(later(BORN[label], minutes=5), label, first)
    score(later(BORN[SLOW_PUP], minutes=20), SLOW_PUP, (2, 2, 1, 1, 2))
    hours_later = (local("10-05", "09:12") - BORN["6"]).seconds  # the correction speaks of the same birth
    put(BORN["6"], "birth", "6", corrects=wrong, note="A boy after all.", by="Ruth", written_after=hours_later, **right)
    put(local("10-05", "00:05"), "placenta", note="The third pup's.")
    put(local("10-05", "06:44"), "placenta", note="Eleven in all.")
    put(local("10-05", "04:12"), "note", note="Vet on the phone: watch ten more minutes, then come. Pup came at 04:25.")


def first_sucks():
    for n, label in enumerate(ALIVE):
        minutes = 110 if label == SLOW_PUP else 22 + 7 * n % 31
        put(later(BORN[label], minutes=minutes), "suckled", label, written_after=30)


def score(at, label, parts):
    put(at, "newborn_score", label, **dict(zip(("heart", "breathing", "reflex", "movement", "colour"), parts)))


def true_grams(label, at):
    days = (at - BORN[label]) / timedelta(days=1)
    if label == SLOW_PUP:
        return GRAMS[label] * on_curve(SLOW, days)
    return GRAMS[label] * on_curve(THRIVING, days) ** PACE[label]


def weigh(label, at, by, day_noise=0.0, tub=0, note=""):
    """On a 1 g scale; what a pup has drunk or passed moves the reading by about 1 %, 0.4 % for the very small one."""
    spread = 0.003 if label == SLOW_PUP and at < local("10-09", "00:00") else 0.009
    grams = round(true_grams(label, at) * math.exp(RNG.gauss(0, spread) + day_noise) + tub)
    return put(at, "weight", label, by=by, grams=grams, written_after=RNG.randint(2, 9), note=note), grams


def round_of_weights(start, by, labels=ALIVE):
    at, day_noise = start, RNG.gauss(0, 0.003)
    for label in labels:
        weigh(label, at, by, day_noise)
        at = later(at, seconds=RNG.randint(45, 110))


def weights():
    round_of_weights(local("10-05", "19:00"), "Tess")
    for day in range(6, 12):
        if day == 7:  # begun early; the small one taken out of turn; the rest after she was warm and fed
            round_of_weights(local("10-07", "04:02"), "Tess", ["1", "2", "3", "4", "5"])
            weigh("9", local("10-07", "04:10"), "Tess", note="Taken out of turn, she feels thin.")
            round_of_weights(local("10-07", "07:25"), "Ruth", ["6", "7", "10", "11"])
        else:
            round_of_weights(local(f"10-{day:02}", "06:50"), "Tess" if day % 2 else "Ruth")
        round_of_weights(local(f"10-{day:02}", "19:00"), "Ruth" if day % 2 else "Tess")
    day = local("10-12", "08:00")
    while day < local("11-30", "23:00"):
        if day == local("10-14", "08:00"):
            tub_left_on(day)
        else:
            round_of_weights(later(day, minutes=RNG.randint(-20, 25)), RNG.choice(["Tess", "Ruth"]))
        day = local((day + timedelta(days=1)).strftime("%m-%d"), "08:00")


def tub_left_on(start):
    """The first four of the round with the 240 g tub not taken off. Three are put right, yellow is forgotten."""
    at = start
    for label in ALIVE:
        tub = 240 if label in ("1", "2", "3", "4") else 0
        entry, grams = weigh(label, at, "Ruth", tub=tub)
        if label in ("1", "2", "3"):
            put(at, "weight", label, by="Ruth", grams=grams - 240, corrects=entry, note="Tub was on the scale.",
                written_after=50 * 60)
        at = later(at, seconds=70)


def small_pup():
    def warmth(day, time, celsius, note=""):
        put(local(day, time), "temperature", SLOW_PUP, celsius=celsius, note=note)

    warmth("10-05", "05:20", 34.9)
    warmth("10-05", "12:10", 35.8)
    warmth("10-06", "07:20", 35.7)
    warmth("10-06", "22:15", 35.2)
    warmth("10-07", "04:12", 34.3, "Cool to the touch, lying apart.")
    warmth("10-07", "05:05", 35.1, "Against my skin, then a warm pad under a towel.")
    warmth("10-07", "05:50", 36.1)
    for day in range(8, 15):
        warmth(f"10-{day:02}", "09:00", round(RNG.gauss(36.6, 0.15), 1))
    put(local("10-07", "04:30"), "note", about=SLOW_PUP, note="Rang the vet: warm her first, feed only once she is warm and sucks.")
    at, end = local("10-07", "06:05"), local("10-15", "22:00")
    while at < end:
        hours = (at - local("10-07", "06:05")) / timedelta(hours=1)
        ml = 3 if hours < 3 else round(min(3.5 + hours / 24, 11) * 2) / 2
        # In a feed `by` says how it was given; who wrote it has a field of its own.
        put(at, "feed", SLOW_PUP, by="syringe" if hours < 12 else "bottle", written_by=RNG.choice(["Tess", "Ruth"]),
            ml=ml, kcal_ml=1.1)
        at = later(at, minutes=(150 if hours < 48 else 180 if hours < 120 else 300) + RNG.randint(-12, 12))


def air(at, where, celsius, humidity=None):
    fields = {"where": where, "celsius": celsius}
    if humidity is not None:
        fields["humidity"] = humidity
    put(at, "air", **fields)


def the_box():
    put(local("10-04", "18:30"), "lamp", watts=150, cm=75)
    put(local("10-12", "10:00"), "lamp", watts=150, cm=90)
    put(local("10-19", "10:00"), "lamp", watts=100, cm=90)
    air(local("10-04", "22:30"), "under_lamp", 30.4, 55)
    for n in range(0, 30):
        day = local((datetime(2026, 10, 5) + timedelta(days=n)).strftime("%m-%d"), "00:00")
        warm = 30.3 if n < 7 else 27.4 if n < 14 else 24.8 if n < 24 else 22.5
        for hour in ((3, 9, 15, 21) if n < 7 else (8, 20) if n < 21 else (8,)):
            if n == 2 and hour == 3:
                continue
            air(later(day, hours=hour, minutes=RNG.randint(0, 25)), "under_lamp", round(RNG.gauss(warm, 0.5), 1),
                round(RNG.gauss(57, 3)) if hour in (8, 9) else None)
        air(later(day, hours=9, minutes=40), "cool_end", round(RNG.gauss(warm - 4.2, 0.5), 1))
        if n % 2 == 0:
            air(later(day, hours=21, minutes=40), "room", round(RNG.gauss(21.0, 0.4), 1))
    air(local("10-07", "04:14"), "under_lamp", 25.1)
    put(local("10-07", "04:16"), "note", note="The lamp is out. Looking for the other bulb.")
    put(local("10-07", "04:40"), "lamp", watts=150, cm=75, note="New bulb.")
    air(local("10-07", "05:10"), "under_lamp", 29.6)
    put(local("10-07", "04:41"), "stock", item="heat lamp bulbs", have=0)


def the_dam_after():
    for n in range(0, 14):
        day = (datetime(2026, 10, 5) + timedelta(days=n)).strftime("%m-%d")
        for time in ("10:00", "20:30"):
            dam_temperature(day, time, round(RNG.gauss(39.0 if n == 0 else 38.7 if n < 3 else 38.4, 0.12), 1))
    for n in range(0, 28):
        day = (datetime(2026, 10, 5) + timedelta(days=n)).strftime("%m-%d")
        daily = min(2300 + 130 * n, 4700)
        for time, share in (("08:30", 0.35), ("13:30", 0.3), ("19:45", 0.35)):
            put(local(day, time), "dam_meal", "dam", kcal=round(daily * share / 10) * 10, food="puppy food, soaked")
    for day, kg in (("10-06", 31.4), ("10-12", 30.9), ("10-19", 30.3), ("10-26", 29.8), ("11-09", 29.5), ("11-30", 29.7)):
        put(local(day, "08:45"), "weight", "dam", grams=round(kg * 1000))


def worming():
    """By the label of an invented bottle, down to the 0.1 ml of the syringe: 5 mg/kg, which is what US suspensions say."""
    label = dict(name="worm suspension", active="pyrantel", strength="4.54 mg/ml", dose="5 mg/kg", min_age_d=14,
                 repeat_d=14, mark_ml=0.1, use="wormer")
    put(local("10-18", "20:10"), "product", **label, lot="LH-2217", expires="2027-05-31")
    put(local("11-15", "19:30"), "product", **label, lot="LH-2241", expires="2027-06-30")
    for day, lot in (("10-19", "LH-2217"), ("11-02", "LH-2217"), ("11-16", "LH-2241"), ("11-30", "LH-2241")):
        at = local(day, "11:00")
        for pup in ALIVE:
            if (day, pup) == ("11-02", "4"):
                put(at, "dose_skipped", pup, product="worm suspension", reason="loose stools")
                continue
            grams = round(true_grams(pup, at))
            put(at, "dose", pup, product="worm suspension", active="pyrantel", mg_ml=4.54,
                ml=math.floor(grams / 1000 * 5 / 4.54 * 10) / 10, lot=lot, weight_g=grams)
            at = later(at, minutes=2)
    put(local("10-26", "11:30"), "dose", "dam", product="worm tablets", active="pyrantel", tablets=3, lot="LH-0962",
        note="Three tablets, as the vet said.")


def the_weeks():
    for day, time, about, text in [
            ("10-05", "11:20", "", "Vet called in: ten well, milk in all teats. Small one to be weighed often."),
            ("10-09", "07:10", "9", "Gaining at last. Pulls at the bottle."),
            ("10-12", "20:00", "", "Claws trimmed."), ("10-17", "18:10", "4", "Eyes opening."),
            ("10-19", "18:30", "", "All eyes open."), ("10-25", "09:00", "", "Clocks went back in the night."),
            ("10-27", "08:20", "", "First taste of soaked food."), ("11-03", "15:00", "2", "Climbs out of the box."),
            ("11-12", "17:00", "", "First visitors, shoes off."), ("11-24", "10:40", "", "Vet: all hearts clear, ten chipped."),
            ("11-27", "19:00", "", "Puppy packs ready.")]:
        put(local(day, time), "note", about=about, note=text, by=RNG.choice(["Tess", "Ruth"]))
    for day in ("10-12", "10-19", "10-26", "11-02", "11-09"):
        put(local(day, "20:05"), "done", task="claws trimmed")
    put(local("11-24", "11:00"), "done", task="microchips")
    put(local("11-30", "14:10"), "departure", "7", to="f-2c51")
    put(local("11-30", "16:30"), "departure", "2", to="f-7a08")


def care():
    """Ticks of the plan. Last of all chapters, so that the dice behind the others fall as they always did."""
    def done(day, time, task, *labels, **fields):
        for label in labels or ("",):
            put(local(day, time), "done", label, task=task, **fields)

    for day, task in (("09-20", "box_ready"), ("09-26", "road_ready"), ("10-05", "vet_check"), ("10-06", "tell_council"),
                      ("10-19", "eyes"), ("10-20", "ears"), ("10-26", "water"), ("10-27", "gruel"), ("11-23", "weaned")):
        done(day, "20:20", task)
    for n, day in enumerate(("10-12", "10-19", "10-26", "11-02", "11-09", "11-16", "11-23"), 1):
        done(day, "20:06", "nails" if n == 1 else f"nails.{n}")
    for n, day in enumerate(("10-19", "11-02", "11-16", "11-30"), 1):
        done(day, "11:25", "worm" if n == 1 else f"worm.{n}", *ALIVE)
    done("10-26", "11:31", "worm_dam", "dam")
    done("11-17", "10:10", "vaccine", *ALIVE, note="puppy vaccine, VX-3307")
    done("11-24", "10:45", "litter_exam", *ALIVE)
    for n, label in enumerate(ALIVE, 1):
        put(local("11-24", "11:00"), "microchip", label, number=f"9000320010{4100 + 7 * n:05}", database="the breeders' register")


def supplies():
    """Told last and with fixed seconds, so that it moves no other entry's id or chance."""
    def stock(day, time, item, **fields):
        put(local(day, time), "stock", written_after=20, item=item, **fields)
    for n, (item, have) in enumerate([
            ("whelping box", 1), ("guard rail in the box", 1), ("washable pads", 5), ("towels, small", 40),
            ("scissors, blunt, boiled", 1), ("gloves, disposable", 10), ("lubricant, water based", 1), ("newspaper", 2),
            ("paper towels", 4), ("bin bags", 2), ("record sheets and a pen", 1), ("warm holding box", 1),
            ("lamp guard and chain", 1), ("collars, coloured", 12), ("feeding bottle and syringes", 2),
            ("clock with a second hand", 1), ("thread or floss for the cord", 1), ("bulb syringe", 1)]):
        stock("09-20", f"18:{10 + n}", item, have=have, where="kit")
    for n, item in enumerate(["heat lamp or pad", "heat lamp bulbs", "thermometer, rectal", "scale in grams", "torch"]):
        stock("09-26", f"19:{10 + n}", item, have=1, where="kit", tested="2026-09-26")
    stock("09-26", "19:20", "antiseptic for the cord", have=1, where="kit", expires="2027-06-30")
    stock("09-26", "19:21", "milk replacer, powder", have=400, where="kit", expires="2026-12-31", pack=400, cost=24.5)
    stock("09-26", "19:22", "fleece blankets", have=3, where="house", need=2, purpose="for the basket", unit="pieces")
    for n, item in enumerate(["fuel in the car", "way to the emergency hospital", "vet's numbers beside the box", "carrier with a sheet"]):
        stock("09-27", f"10:{10 + n}", item, have=1, where="house")
    put(local("09-22", "19:00"), "shop_run", written_after=15, day="2026-09-26")
    put(local("09-27", "10:30"), "shop_run", written_after=15, day="2026-10-02")
    stock("10-09", "17:00", "heat lamp bulbs", have=2, where="kit", tested="2026-10-09")


def milk_by_hand():
    """The tin and the decisions behind small_pup's feeds. Last, and without dice: what stands before keeps its ids."""
    put(local("10-07", "05:55"), "milk", name="puppy milk", kcal_ml=1.1, written_after=40)
    for day, time, share in (("10-07", "06:00", "full"), ("10-12", "09:00", "top_up"), ("10-15", "22:10", "none")):
        put(local(day, time), "hand_feeding", SLOW_PUP, share=share, way="syringe" if share == "full" else "bottle",
            written_after=30)
    put(local("10-07", "18:00"), "hand_feeding", SLOW_PUP, share="full", way="bottle", written_after=30)
    put(local("10-07", "06:02"), "sign", SLOW_PUP, sign="sucks_well", written_after=20)


def homes():
    """Three families by their ids; who they are stands in demo/families.vcf. Told last and with fixed seconds."""
    def told(day, time, kind, about="", **fields):
        put(local(day, time), kind, about, written_after=20, **fields)
    told("08-30", "20:00", "pick_rule", order="deposit", keeper_first=1, opens="2026-11-15")
    for day, family, sex, purpose in (("09-02", "f-7a08", "female", "companion"), ("09-05", "f-2c51", None, "children"),
                                      ("09-14", "f-b3e6", "male", "sport")):
        wish = {"sex": sex} if sex else {}
        told(day, "19:00", "family", family=family, status="waiting", purpose=purpose, **wish)
    for day, family in (("09-08", "f-2c51"), ("09-10", "f-7a08"), ("09-20", "f-b3e6")):
        told(day, "12:00", "deposit", family=family, amount=200, currency="GBP", refundable="until the pick")
    for day, amount, what in (("07-28", 96, "progesterone tests"), ("08-05", 750, "stud fee"), ("08-05", 64.2, "travel"),
                              ("09-28", 85.5, "x-ray"), ("10-05", 118, "vet"), ("11-17", 231, "vaccination"),
                              ("11-24", 165, "microchips")):
        told(day, "21:00", "money", amount=amount, currency="GBP", direction="out", paid_by="keeper", **{"for": what})
    told("11-16", "18:00", "choice", "4", made="pick", note="Stays at home.")
    told("11-17", "18:00", "choice", "7", made="pick", family="f-2c51")
    told("11-18", "18:00", "choice", made="pass", family="f-7a08", note="Would like to see them once more.")
    told("11-18", "18:30", "choice", made="pass", family="f-b3e6")
    told("11-24", "18:00", "choice", "2", made="pick", family="f-7a08")
    for day, family in (("11-30", "f-2c51"), ("11-30", "f-7a08")):
        told(day, "17:00", "money", amount=1000, currency="GBP", direction="in", family=family, **{"for": "price of a pup"})


def the_nest():
    """Turns, her food's label, the room beside the lamp, two room sensors in the third night. Last, and without dice."""
    def told(day, time, kind, about="", by="Tess", **fields):
        put(local(day, time), kind, about, by=by, written_after=20, **fields)
    told("10-05", "12:10", "teat_turns", on=True, teats=8, session_min=45, night_from_h=23, night_to_h=6)
    told("10-27", "09:00", "teat_turns", on=False)
    told("10-05", "09:00", "food", name="puppy food, dry", kcal_100g=390)
    for day, time, under, room in (("10-05", "16:00", 30.6, 21.4), ("10-06", "10:30", 30.1, 20.9), ("10-06", "17:15", 30.4, 21.2)):
        told(day, time, "air", where="room", celsius=room)
        told(day, time, "air", where="under_lamp", celsius=under, probe="flat")
    # What Lampside keeps of a sensor: a sign of life every quarter of an hour, and at once what leaves the band.
    for topic, where, field in (("box/lamp", "under_lamp", "temperature"), ("room/wall", "room", None)):
        told("10-06", "19:40", "sensor", topic=topic, where=where, **({"field": field} if field else {}))
        told("10-07", "08:30", "sensor", topic=topic, where=where, off=True, **({"field": field} if field else {}))
    at, out, lit = local("10-06", "19:45"), local("10-07", "03:36"), local("10-07", "04:40")
    def sensed(at, where, celsius):
        put(at, "air", by="sensor", written_after=0, where=where, celsius=round(celsius, 1),
            sensor="room/wall" if where == "room" else "box/lamp")

    n = 0
    while at < local("10-07", "08:30"):
        room = 21.2 - 0.8 * min(1, n / 34) + 0.1 * (n % 3)
        rise = 9.7 + 0.1 * (n % 2)
        if out <= at < lit:
            rise = 9.8 * math.exp(-((at - out) / timedelta(minutes=52)))
        elif lit <= at:
            rise = 9.8 - 6.9 * math.exp(-((at - lit) / timedelta(minutes=12.3)))
        sensed(at, "room", room)
        sensed(later(at, seconds=7), "under_lamp", room + rise)
        if at == local("10-07", "03:30"):
            sensed(local("10-07", "03:41"), "under_lamp", 29.3)
        at = later(at, minutes=15)
        n += 1


def journal():
    for chapter in (before_the_due_date, temperatures_before, the_night, weights, small_pup, the_box, the_dam_after,
                    worming, the_weeks, first_sucks, care, supplies, milk_by_hand, homes, the_nest):
        chapter()
    ENTRIES.sort(key=lambda e: (datetime.fromisoformat(e["written"].replace("Z", "+00:00")), e["id"]))
    return "".join(json.dumps(e, sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n" for e in ENTRIES)


def main():
    args = [a for a in sys.argv[1:] if a != "--check"]
    folder = Path(args[0]) if args else Path(__file__).resolve().parent.parent / "demo"
    files = {folder / "juniper.jsonl": journal(), folder / "moment.txt": MOMENT + "\n"}
    if "--check" in sys.argv:
        stale = [str(p.name) for p, text in files.items() if not p.exists() or p.read_text(encoding="utf-8") != text]
        if stale:
            sys.exit(f"not what tools/make_demo.py writes: {', '.join(stale)} - run tools/make_demo.py")
        return
    for path, text in files.items():
        path.write_text(text, encoding="utf-8")
    print(f"{len(ENTRIES)} entries in {folder / 'juniper.jsonl'}")


if __name__ == "__main__":
    main()
