#!/usr/bin/env python3
"""The whelping forecast a second time, from the formulas of docs/due.md: 50 invented records, their log densities.

Plain Python 3.11, no library. Numbers come from reference/*.toml; the sums are done another way than in src/due:
wider axes and a plain double sum for the chain, readings of a laboratory one after the other instead of in closed
form, the thermometer's mixture by its first two moments as textbooks write them.

    python3 tests/due/oracle/make_rows.py        writes records.csv and densities.csv beside this file
"""

import math
import pathlib
import random
import tomllib
from collections import defaultdict

HERE = pathlib.Path(__file__).resolve().parent
SEED, CASES = 20260301, 50
INF = float("inf")


def table(name):
    return tomllib.loads((HERE.parents[2] / "reference" / f"{name}.toml").read_text())["row"]


P = {row["name"]: row["value"] for row in table("parameters")}
FOETOMETRY = [row for row in table("foetometry") if row["chosen"]]
LITTER_MEAN = {row["breed"]: row["litter_mean"] for row in table("birth_weights")}
SHIFT = {row["breed"]: row["shift_d"] for row in table("gestation_shifts") if row["chosen"]}
SIGNS = {row["sign"]: row for row in table("sign_leads")}


def normal(x, sd):
    return math.exp(-0.5 * (x / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def above(z):
    return 0.5 * math.erfc(z / math.sqrt(2))


def student3(x, scale):
    return math.gamma(2) / (math.gamma(1.5) * math.sqrt(3 * math.pi) * scale) * (1 + (x / scale) ** 2 / 3) ** -2


def ln(x):
    return math.log(x) if x > 0 else -INF


def line(knots):
    """Straight lines between knots, level beyond them."""
    knots = sorted(knots)

    def at(x):
        if x <= knots[0][0]:
            return knots[0][1]
        for (x0, y0), (x1, y1) in zip(knots, knots[1:]):
            if x <= x1:
                return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        return knots[-1][1]

    return at


def progesterone_course(around):
    return line([(r["hours"], math.log(r["ng_ml"])) for r in table("progesterone_course") if r["around"] == around])


EARLY, LATE = progesterone_course("lh_surge"), progesterone_course("whelping")
TEMPERATURE = [(r["before_h"], r["mean_c"]) for r in table("temperature_course")]
TOP, LOWEST = max(c for _, c in TEMPERATURE), min(c for _, c in TEMPERATURE)
DROP = line([(h, (TOP - c) / (TOP - LOWEST)) for h, c in TEMPERATURE])


class Record:
    """One record. Moments are hours after 2026-03-01T00:00Z; entries are (hour, figure) by kind."""

    def __init__(self, breed, kg, now, entries):
        self.breed, self.kg, self.now = breed, kg, now
        self.by_kind = defaultdict(list)
        for kind, hour, figure in sorted(entries, key=lambda e: e[1]):
            self.by_kind[kind].append((hour, figure))

    def hours(self, kind):
        return [hour for hour, _ in self.by_kind[kind]]

    def pups(self):
        for kind in ("xray", "ultrasound"):
            if self.by_kind[kind]:
                return self.by_kind[kind][-1][1]
        return None

    def scan_row(self, measure):
        own = [r for r in FOETOMETRY if r["measure"] == measure and r["breed"] and r["breed"] == self.breed]
        kg = self.kg or 20
        general = [r for r in FOETOMETRY if r["measure"] == measure and not r["breed"] and r["over_kg"] < kg <= r["to_kg"]]
        return (own or general)[0]

    def scans(self, measure):
        """(hour of the scan, days to go, published error) for each."""
        row = self.scan_row(measure)
        for hour, mm in self.by_kind[measure]:
            says = row["at_zero"] + row["per_mm"] * mm
            to_go = 65 - says if row["gives_age"] else says
            yield hour, to_go, row["late_sd_d"] if to_go < 65 - 39 else row["early_sd_d"]

    def around_ovulation(self, hour):
        for kind, back in (("lh_surge", 0), ("ovulation", 2), ("dioestrus", 8), ("mating", 2)):
            if self.by_kind[kind]:
                return hour < self.hours(kind)[0] - 24 * back + 24 * 25
        readings = [r for r in self.by_kind["progesterone"] if r[0] < self.hours("progesterone")[0] + 24 * 25]
        first = readings[0][1]
        return hour <= readings[-1][0] and (first < 2 or any(ng > 1.5 * first for _, ng in readings))

    def early_progesterone(self):
        return [r for r in self.by_kind["progesterone"] if self.around_ovulation(r[0])]

    def late_progesterone(self):
        return [r for r in self.by_kind["progesterone"] if not self.around_ovulation(r[0])]

    def steps(self):
        """Means and spreads in days: surge to dioestrus, dioestrus to whelping."""
        first = P["lh_to_dioestrus_d"] + SHIFT.get(self.breed, 0)
        second = P["dioestrus_to_whelping_d"]
        sd1, sd2 = P["lh_to_dioestrus_sd_d"], P["dioestrus_to_whelping_sd_d"]
        # Her habit: the mean of a normal, its prior N(0, dam_habit_sd), from earlier litters.
        precision, moment = P["dam_habit_sd_d"] ** -2, 0.0
        for anchor, mean, read in (
            ("lh_surge", 0, P["lh_read_sd_d"]),
            ("ovulation", P["lh_to_ovulation_d"], P["ovulation_read_sd_d"]),
            ("mating", P["mating_after_lh_d"], P["mating_after_lh_sd_d"]),
        ):
            for _, days in self.by_kind["earlier_" + anchor]:
                own = 1 / (sd1**2 + sd2**2 + read**2)
                precision += own
                moment += own * (days - (first + second - mean))
        habit = moment / precision
        usual = LITTER_MEAN.get(self.breed)
        if usual is None and self.kg:
            size = "small" if self.kg <= 10 else "medium" if self.kg <= 25 else "large" if self.kg <= 45 else "giant"
            usual = P["litter_mean_" + size]
        by_size = P["litter_size_shift_d"] * (self.pups() - usual) if self.pups() and usual else 0
        return (first, sd1), (second + by_size + habit, sd2)

    def hours_looked_at(self):
        """Whole hours from 14 days before the earliest date an entry points to, to 14 days past the latest or now."""
        points = [h - 48 + 24 * 65 for h in self.hours("mating") + self.hours("ovulation")]
        points += [h + 24 * 65 for h in self.hours("lh_surge")]
        points += [h + 24 * 57 for h in self.hours("dioestrus")]
        points += [h + 24 * to_go for m in ("ICC", "BPD") for h, to_go, _ in self.scans(m)]
        limit = P["progesterone_dates_to_ng_ml"]
        points += [h + 24 * 64 for h, ng in self.early_progesterone() if 1 <= ng <= limit]
        return math.floor(min(points) - 24 * 14), math.floor(max(max(points), self.now) + 24 * 14)


def with_gross_error(good, odd):
    return ln((1 - P["gross_error"]) * good + P["gross_error"] * odd)


def dated(record, kind, days_after, sd):
    """A day judged, said `days_after` days after the event: its noon is meant."""
    seen = math.floor(record.hours(kind)[-1] / 24) * 24 + 12
    return lambda h: with_gross_error(
        normal((seen - h) / 24 - days_after, sd), student3((seen - h) / 24 - days_after, P["gross_error_scale_d"])
    )


def mating(record):
    limit = P["progesterone_dates_to_ng_ml"]
    known = any(record.by_kind[k] for k in ("lh_surge", "ovulation", "dioestrus"))
    known = known or any(1 <= ng <= limit for _, ng in record.early_progesterone())
    first = record.hours("mating")[0]
    timed = not known and any(ng > limit and abs(first - h) <= 72 for h, ng in record.by_kind["progesterone"])
    which = "timed_mating_after_lh" if timed else "mating_after_lh"
    mean, sd, opens, shuts = P[which + "_d"], P[which + "_sd_d"], P["fertile_from_d"], P["fertile_to_d"]

    def at(h):
        good = odd = 0.0
        for m in record.hours("mating"):
            spread = math.sqrt(sd**2 + (0.2887**2 if m % 24 == 12 else 0))
            day = (m - h) / 24
            outside = opens - day if day < opens else day - shuts if day > shuts else 0
            good += (1 / (shuts - opens) if known else normal(day - mean, spread)) * math.exp(-2 * outside**2)
            odd += student3(day - mean, math.sqrt(spread**2 + P["gross_error_scale_d"] ** 2))
        n = len(record.hours("mating"))
        return with_gross_error(good / n, odd / n)

    return at


def surge_by_progesterone(record):
    noise, assay, limit = P["progesterone_noise_ln"], P["progesterone_assay_ln"], math.log(P["progesterone_dates_to_ng_ml"])
    readings = [(h, math.log(max(ng, 0.1))) for h, ng in record.early_progesterone()]

    def joint(h, unit):
        # The laboratory's offset has a normal prior; each reading is predicted from those before it.
        offset, variance, out = 0.0, assay**2, 1.0
        for hour, y in readings:
            mean = EARLY(hour - h) + unit
            if y > limit:
                out *= max(above((limit - mean) / math.sqrt(noise**2 + assay**2)), 1e-300)
                continue
            whole = variance + noise**2
            off = y - mean - offset
            out *= normal(off, math.sqrt(whole))
            offset += variance / whole * off
            variance *= noise**2 / whole
        return out

    anything = math.prod(normal(y - math.log(3), 1.2) if y <= limit else 0.5 for _, y in readings)
    return lambda h: with_gross_error(joint(h, 0), 0.5 * anything + 0.5 * joint(h, math.log(3.18)))


def whelping_by_progesterone(record):
    odd = P["late_progesterone_odd"]
    weights = [math.exp(-0.5 * ((k - 5) / 2) ** 2) for k in range(11)]
    readings = [(h, math.log(max(ng, 0.1))) for h, ng in record.late_progesterone()]

    def if_falling(h, never):
        out = 0.0
        for k, weight in enumerate(weights):
            level, product = (k - 5) / 2 * P["late_progesterone_level_ln"], weight / sum(weights)
            for hour, y in readings:
                before = max(h - hour, never, 0)
                part = min(max((before - 36) / 20, 0), 1)
                sd = P["late_progesterone_fall_ln"] * (1 - part) + P["late_progesterone_plateau_ln"] * part
                good = normal(y - LATE(before) - level, sd)
                product *= (1 - odd) * good + odd * normal(y - math.log(4.5), P["late_progesterone_odd_ln"])
            out += product
        return out

    none = P["small_litter_no_fall"] if record.pups() and record.pups() <= 2 else 0
    return lambda h: ln(max((1 - none) * if_falling(h, 0) + none * if_falling(h, 120), 1e-300))


def scan(record, measure):
    """One clue about dioestrus for all scans of a measure: foetuses of a day averaged, the line's bias shared."""
    days = defaultdict(list)
    for hour, to_go, sd in record.scans(measure):
        days[hour // 24].append((hour + 24 * to_go, sd))
    means, errors = [], []
    for readings in days.values():
        sd = sum(s for _, s in readings) / len(readings)
        means.append(sum(d for d, _ in readings) / len(readings))
        errors.append(math.sqrt(max(sd**2 - P["dioestrus_to_whelping_sd_d"] ** 2, 0.4**2)))
    weights = [(0.683 * e) ** -2 for e in errors]
    total = sum(weights)
    due = sum(w * m for w, m in zip(weights, means)) / total
    bias = sum(w * 0.73 * e for w, e in zip(weights, errors)) / total
    sd = math.sqrt(1 / total + bias**2)

    def at(h):
        off = (due - h) / 24 - P["dioestrus_to_whelping_d"]
        return with_gross_error(normal(off, sd), student3(off, P["gross_error_scale_d"]))

    return at


def skeletons(record):
    taken = record.hours("xray")[0]
    return lambda h: ln(max(above(((h - taken) / 24 - P["skeleton_shows_before_d"]) / P["skeleton_shows_sd_d"]), 1e-6))


def signs(record):
    def at(h):
        each = []
        for sign, lead in SIGNS.items():
            if record.by_kind[sign]:
                fades = math.exp(-max(h - record.hours(sign)[-1], 0) / lead["fades_h"])
                each.append(math.log(1 + (lead["times"] - 1) * fades))
        return (sum(each) + max(each)) / 2

    return at


def times(a, b):
    return [[sum(x * y for x, y in zip(row, col)) for col in zip(*b)] for row in a]


def temperatures(record):
    def likelihood(h, drops):
        mean = [P["temperature_level_c"], P["temperature_swing_c"], P["temperature_drop_c"] if drops else 0]
        sds = [P["temperature_level_sd_c"], P["temperature_swing_sd_c"], P["temperature_drop_sd_c"] if drops else 0]
        cov = [[sds[i] ** 2 if i == j else 0.0 for j in range(3)] for i in range(3)]
        out, last = 1.0, None
        for hour, celsius in record.by_kind["temperature"]:
            if last is not None:
                cov[0][0] += P["temperature_wander_c"] ** 2 * (hour - last) / 24
            last = hour
            row = [1.0, -math.cos(2 * math.pi * (hour % 24 - 5) / 24), -DROP(h - hour) if h >= hour else 0.0]
            ph = [r[0] for r in times(cov, [[x] for x in row])]
            variance = sum(x * y for x, y in zip(row, ph)) + P["temperature_noise_c"] ** 2
            off = celsius - sum(x * y for x, y in zip(row, mean))
            true = (1 - P["temperature_misread"]) * normal(off, math.sqrt(variance))
            wrong = P["temperature_misread"] * normal(celsius - P["temperature_level_c"], P["temperature_misread_sd_c"])
            out *= true + wrong
            share = true / (true + wrong)
            # The two cases, each with its mean and covariance, put together by their first two moments.
            kalman = [x / variance for x in ph]
            shrink = [[(i == j) - kalman[i] * row[j] for j in range(3)] for i in range(3)]
            if_true = ([m + k * off for m, k in zip(mean, kalman)], times(shrink, cov))
            if_wrong = (mean, cov)
            joined = [share * a + (1 - share) * b for a, b in zip(if_true[0], if_wrong[0])]
            cov = [[0.0] * 3 for _ in range(3)]
            for part, (m, c) in ((share, if_true), (1 - share, if_wrong)):
                for i in range(3):
                    for j in range(3):
                        cov[i][j] += part * (c[i][j] + (m[i] - joined[i]) * (m[j] - joined[j]))
            mean = joined
        return out

    none = P["temperature_no_drop"]
    flat = likelihood(INF, False)
    return lambda h: ln((1 - none) * likelihood(h, True) + none * flat)


def log_density(record):
    """ln of the chance of each hour looked at."""
    lh, dioestrus, whelping = [], [], []
    if record.by_kind["mating"]:
        lh.append(mating(record))
    if record.by_kind["lh_surge"]:
        lh.append(dated(record, "lh_surge", 0, P["lh_read_sd_d"]))
    if record.by_kind["ovulation"]:
        lh.append(dated(record, "ovulation", P["lh_to_ovulation_d"], P["ovulation_read_sd_d"]))
    if record.early_progesterone():
        lh.append(surge_by_progesterone(record))
    if record.by_kind["dioestrus"]:
        dioestrus.append(dated(record, "dioestrus", 0, P["dioestrus_read_sd_d"]))
    for measure in ("ICC", "BPD"):
        if record.by_kind[measure]:
            dioestrus.append(scan(record, measure))
    if record.late_progesterone():
        whelping.append(whelping_by_progesterone(record))
    if record.by_kind["xray"]:
        whelping.append(skeletons(record))
    if record.by_kind["temperature"]:
        whelping.append(temperatures(record))
    if any(record.by_kind[s] for s in SIGNS):
        whelping.append(signs(record))

    (mean1, sd1), (mean2, sd2) = record.steps()
    first, last = record.hours_looked_at()
    w_axis = range(first, last + 1)
    d_axis = range(first - math.ceil(24 * (mean2 + 11)), last - math.floor(24 * (mean2 - 11)))
    l_axis = range(d_axis.start - math.ceil(24 * (mean1 + 12)), d_axis.stop - math.floor(24 * (mean1 - 12)))

    def own(clues, axis):
        logs = [sum(clue(h) for clue in clues) for h in axis]
        top = max(logs)
        return [math.exp(x - top) for x in logs]

    def handed_on(values, axis, to, mean, sd):
        out = []
        shape = {}
        for t in to:
            total = 0.0
            for f in range(max(axis.start, t - math.ceil(24 * (mean + 11 * sd))), min(axis.stop, t - math.floor(24 * (mean - 11 * sd)))):
                if (t - f) not in shape:
                    shape[t - f] = normal((t - f) / 24 - mean, sd)
                total += values[f - axis.start] * shape[t - f]
            out.append(total)
        return out

    at_lh = own(lh, l_axis)
    into_d = handed_on(at_lh, l_axis, d_axis, mean1, sd1)
    at_d = [a * b for a, b in zip(into_d, own(dioestrus, d_axis))]
    into_w = handed_on(at_d, d_axis, w_axis, mean2, sd2)
    # Not whelped yet: hours gone by are out, the hour of now by the part that is left of it.
    left = [min(max(h - record.now + 0.5, 0), 1) for h in w_axis]
    logs = [sum(c(h) for c in whelping) if part > 0 else -INF for h, part in zip(w_axis, left)]
    top = max(logs)
    joined = [a * math.exp(b - top) * part for a, b, part in zip(into_w, logs, left)]
    total = sum(joined)
    return first, [ln(x / total) for x in joined]


def invented(rng, case):
    """A record: some clues of a pregnancy, some of them wrong. Hours are quarters, so that milliseconds hold them."""
    quarter = lambda h: round(4 * h) / 4
    surge = rng.uniform(0, 240)
    whelps = surge + 24 * rng.gauss(64.5, 1.4)
    now = quarter(whelps - rng.choice([rng.uniform(1, 72), rng.uniform(72, 480)]))
    breed, kg = rng.choice([("Golden Retriever", 30), ("Labrador Retriever", 29), ("German Shepherd", 32), ("Chihuahua", 2.5),
                            ("", 18), ("", 8), ("", 50), ("", None)])
    entries = []

    def add(kind, hour, figure=0.0):
        if quarter(hour) <= now:
            entries.append((kind, quarter(hour), figure))

    wrong = lambda: rng.choice([-6, 6, 9]) * 24 if rng.random() < 0.15 else 0
    for m in range(rng.choice([0, 1, 2, 3])):
        hour = surge + 24 * (rng.gauss(2, 1.5) + 2 * m) + wrong()
        add("mating", math.floor(hour / 24) * 24 + 12 if rng.random() < 0.5 else hour)
    if rng.random() < 0.15:
        add("lh_surge", surge + rng.gauss(0, 24) + wrong())
    if rng.random() < 0.3:
        add("ovulation", surge + 48 + rng.gauss(0, 24) + wrong())
    if rng.random() < 0.3:
        add("dioestrus", surge + 192 + rng.gauss(0, 12) + wrong())
    if rng.random() < 0.45:
        unit = 3.18 if rng.random() < 0.15 else 1
        for day in range(rng.choice([1, 3, 5])):
            hour = quarter(surge + 24 * (rng.uniform(-3, -1) + 1.7 * day))
            add("progesterone", hour, round(unit * math.exp(EARLY(hour - surge) + rng.gauss(0, 0.25)), 2))
    for measure, frm, to in (("ICC", 24, 35), ("BPD", 40, 58)):
        if rng.random() < 0.4 or (measure == "ICC" and not entries):
            for _ in range(rng.choice([1, 2])):
                hour = math.floor(surge / 24 + rng.uniform(frm, to)) * 24 + 10
                for _ in range(rng.choice([1, 3])):
                    to_go = (whelps - hour) / 24 + rng.gauss(0, 1.2)
                    row = Record(breed, kg, now, []).scan_row(measure)
                    mm = ((65 - to_go if row["gives_age"] else to_go) - row["at_zero"]) / row["per_mm"]
                    add(measure, hour, round(max(mm, 3), 1))
    if rng.random() < 0.4:
        add(rng.choice(["xray", "ultrasound"]), surge + 24 * 56, rng.choice([1, 2, 4, 7, 9, 11]))
    for _ in range(rng.choice([0, 0, 1, 3])):
        anchor = rng.choice(["lh_surge", "ovulation", "mating"])
        add("earlier_" + anchor, surge - 24 * 300, rng.choice([61, 63, 64, 66]))
    if rng.random() < 0.55:
        hour = surge + 24 * 57
        for _ in range(14):
            before = whelps - hour
            celsius = 37.9 - 0.2 * math.cos(2 * math.pi * (hour % 24 - 5) / 24) - DROP(max(before, 0)) + rng.gauss(0, 0.2)
            add("temperature", hour, round(celsius - (1.5 if rng.random() < 0.05 else 0), 1))
            hour += rng.uniform(5, 20)
    if rng.random() < 0.3:
        for before in (100, 50, 26, 12):
            add("progesterone", whelps - before, round(math.exp(LATE(before) + rng.gauss(0, 0.25)), 2))
    for sign in SIGNS:
        if rng.random() < 0.12:
            add(sign, now - rng.uniform(0, 40))
    return Record(breed, kg, now, entries), entries


def main():
    rng = random.Random(SEED)
    records, densities, case = [], [], 0
    while case < CASES:
        record, entries = invented(rng, case)
        if not any(k in ("mating", "lh_surge", "ovulation", "dioestrus", "ICC", "BPD") for k, _, _ in entries):
            continue
        records.append(f"{case},dam,{record.breed},{record.kg or 0}")
        records.append(f"{case},now,{record.now},0")
        records += [f"{case},{kind},{hour},{figure}" for kind, hour, figure in sorted(entries, key=lambda e: e[1])]
        first, logs = log_density(record)
        running, seen = 0.0, set()
        for want in (1e-4, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 0.9999):
            running = 0.0
            for i, value in enumerate(logs):
                running += math.exp(value)
                if running >= want:
                    break
            if i not in seen and value > math.log(1e-9):
                seen.add(i)
                densities.append(f"{case},{first + i},{value:.9f}")
        case += 1
    (HERE / "records.csv").write_text("case,kind,hour or breed,figure or kg\n" + "\n".join(records) + "\n")
    (HERE / "densities.csv").write_text("case,hour,ln_chance\n" + "\n".join(densities) + "\n")


if __name__ == "__main__":
    main()
