#include "nest/feeding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "nest/nest.hpp"
#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::FeedShare;
using record::FeedWay;
using record::Litter;
using record::Pup;
using record::Sign;
using reference::Assessed;
using reference::days_between;
using reference::Finding;
using reference::NotAssessed;
using reference::parameter;
using reference::Reference;
using reference::value_of;
using std::chrono::hours;

/// Sums leave dust: 10.5 ml / 0.5 ml must stay 21 marks, and 48 ml in a room of 12 ml four feeds.
constexpr double kDust = 1e-9;

/// After this a pup weighed or looked at is another pup.
constexpr Span kADay = hours{24};
/// Feeds so near each other are one walk to the box.
constexpr Span kTogether = Minutes{30};

/// What of the weights speaks for milk by hand. Dog Owner's Home Veterinary Handbook, 4th ed., p. 493: a pup that does
/// not gain, or is a quarter lighter than the litter, is fed besides (the topic feed_decide of the sayings).
constexpr std::array<std::string_view, 6> kSpeakForMilk{"LOSS_TEN",  "NO_GAIN",         "LOSS_TWO_DAYS",
                                                        "PACE_SLOW", "LIGHT_IN_LITTER", "BIRTH_VERY_LOW"};

Span hours_of(const Reference& reference, const char* name) {
  return Span{std::llround(parameter(reference, name) * 3'600'000.0)};
}

/// The last of two signs that undo each other, if it is `bad`.
const record::Noted<record::SignSeen>* standing_sign(const Pup& pup, Sign bad, Sign good, Instant now) {
  const record::Noted<record::SignSeen>* last = nullptr;
  for (const auto& s : pup.signs)
    if (s.at <= now && (s.what.sign == bad || s.what.sign == good)) last = &s;
  return last && last->what.sign == bad ? last : nullptr;
}

class Feeder {
 public:
  Feeder(const Litter& litter, const Reference& reference, Instant now, std::span<const growth::Standing> standings,
         std::span<const growth::Doubt> doubts, std::span<const Finding> found)
      : litter_{litter}, reference_{reference}, now_{now}, standings_{standings}, doubts_{doubts}, found_{found} {}

  Feeding all() {
    out_.milk = milk_in_use(litter_, reference_, now_);
    for (const auto& c : litter_.care_choices) {
      if (c.at > now_) continue;
      if (c.what.topic == "feeding_line" && (c.what.set == "low" || c.what.set == "high" || c.what.set == "rise"))
        out_.line = c.what.set;
      if (c.what.topic == "tube_feeding") {
        out_.tube_shown_by.reset();
        if (c.what.set == "shown" && c.what.vet && !c.what.vet->empty()) out_.tube_shown_by = c.what.vet;
      }
    }
    for (const auto& s : standings_)
      if (const Pup* pup = litter_.pup(s.label); pup && pup->in_box()) out_.pups.push_back(one(*pup, s));
    return std::move(out_);
  }

 private:
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }

  PupFeeding one(const Pup& pup, const growth::Standing& standing) const {
    PupFeeding p;
    p.label = pup.label;
    const double age = days_between(pup.birth.at, now_);
    advise(p, pup, age);
    keepers_word(p, pup);
    look_back(p, pup);
    stops(p, pup);
    if (age < 1) p.colostrum = colostrum(pup);
    if (p.share == FeedShare::none) return p;
    p.plan = plan(p, pup, standing, age);
    if (const auto* known = value_of(p.plan); known && p.since) {
      const Span apart = Span{hours{24}} / known->today.feeds;
      p.next = p.last && *p.last + apart > *p.since ? *p.last + apart : *p.since;
    }
    return p;
  }

  void advise(PupFeeding& p, const Pup& pup, double age) const {
    if (age >= parameter(reference_, "feeding_until_d")) return;
    if (litter_.dam_death && litter_.dam_death->at <= now_) {
      p.advised = FeedShare::full;
      p.because = "its mother has died";
      if (const auto* rule = reference::rule_of(reference_.count_rules, "PUPS_ORPHANED")) p.source = rule->source;
    } else {
      for (const auto& f : found_) {
        const bool speaks = f.about == pup.label && f.level <= reference::Level::act &&
                            std::find(kSpeakForMilk.begin(), kSpeakForMilk.end(), f.code) != kSpeakForMilk.end();
        if (!speaks || p.advised != FeedShare::none) continue;
        p.advised = FeedShare::top_up;
        p.because = f.because;
        p.source = f.source;
      }
    }
    p.share = p.advised;
  }

  void keepers_word(PupFeeding& p, const Pup& pup) const {
    for (const auto& h : pup.hand_feedings) {
      if (h.at > now_) continue;
      p.keepers = true;
      p.share = h.what.share;
      if (h.what.way) p.way = h.what.way;
      if (h.what.share == FeedShare::none)
        p.since.reset();
      else if (!p.since)
        p.since = h.at;
    }
  }

  void look_back(PupFeeding& p, const Pup& pup) const {
    for (const auto& f : pup.feeds) {
      if (f.at > now_ || f.what.by == FeedWay::nursing) continue;
      p.last = f.at;
      if (now_ - f.at >= kADay) continue;
      ++p.fed.feeds;
      p.fed.ml = p.fed.ml + f.what.ml;
      if (f.what.kcal_ml)
        p.fed.kcal = p.fed.kcal + *f.what.kcal_ml * f.what.ml;
      else
        ++p.fed.without_energy;
    }
    for (const auto& s : pup.signs)
      if (s.what.sign == Sign::loose_stool && s.at <= now_ && now_ - s.at < kADay) p.loose_stool = true;
  }

  void stops(PupFeeding& p, const Pup& pup) const {
    const record::Noted<record::Temperature>* last = nullptr;
    for (const auto& t : pup.temperatures)
      if (t.at <= now_) last = &t;
    if (last) p.temperature_at = last->at;
    // Cold stands until a warmer reading, not until the reading is old: nobody warms by waiting.
    if (last && now_ - last->at < kADay) {
      const auto unit = litter_.units().temperature;
      if (const auto* limit = cold_limit(reference_, days_between(pup.birth.at, last->at));
          limit && reached(*limit, last->what.celsius))
        p.stops.push_back({"FEED_COLD",
                           fmt::format("{} on {}, under {}: warm it first, then take its temperature again",
                                       say(last->what.celsius, unit), when(last->at), say(limit->limit, unit)),
                           last->at});
    }
    if (const auto* taut = standing_sign(pup, Sign::belly_taut, Sign::belly_soft, now_))
      p.stops.push_back(
          {"FEED_TAUT", fmt::format("its belly was taut on {}: no more until it is soft", when(taut->at)), taut->at});
    if (const auto* none = standing_sign(pup, Sign::no_suck, Sign::sucks_well, now_))
      p.stops.push_back({"FEED_NO_SUCK",
                         fmt::format("it did not suck a finger on {}: no bottle, no syringe, no spoon", when(none->at)),
                         none->at});
    if (p.way == FeedWay::tube && !out_.tube_shown_by)
      p.stops.push_back(
          {"FEED_TUBE", "by tube only once a vet has shown you, and their name is written down", p.since});
  }

  Assessed<Plan> plan(const PupFeeding& p, const Pup& pup, const growth::Standing& standing, double age) const {
    const bool weak = value_of(standing.birth_class) && *value_of(standing.birth_class) != growth::BirthClass::normal;
    const auto lines = lines_at(age, reference_);
    const auto* times = times_at(age, weak, reference_);
    if (!lines || !times)
      return NotAssessed{"NO_REFERENCE", "from four weeks on it eats: no line of milk is printed for it"};
    const auto* milk = value_of(out_.milk);
    if (!milk) return std::get<NotAssessed>(out_.milk);
    const auto weight = growth::sound_weight(litter_, pup, standing, doubts_, reference_, now_);
    if (!value_of(weight)) return std::get<NotAssessed>(weight);
    if (const Span old = now_ - value_of(weight)->weighed; old > hours_of(reference_, "feeding_weight_max_h"))
      return NotAssessed{"STALE_WEIGHT", fmt::format("its weight is {} old: weigh it first", say_span(old))};

    const double share = p.share == FeedShare::full ? 1 : parameter(reference_, "feeding_top_up_pct") / 100;
    const auto [rise, rise_says] = rising(p);
    const auto at = [&](KcalPer100g need) {
      return ration(value_of(weight)->grams, need * share, milk->density, times->feeds, reference_);
    };
    const auto low = at(lines->low), high = at(lines->high), today = at(lines->at(rise));
    for (const auto* r : {&low, &high, &today})
      if (!value_of(*r)) return std::get<NotAssessed>(*r);
    return Plan{*value_of(weight), *value_of(low),    *value_of(high),    *value_of(today), rise,
                rise_says,         lines->low_source, lines->high_source, times->source};
  }

  std::pair<double, std::string> rising(const PupFeeding& p) const {
    if (p.loose_stool) return {0, "loose stool: kept on the low line, ask your vet before it rises again"};
    if (out_.line == "low") return {0, "on the low line, as you chose"};
    if (out_.line == "high") return {1, "on the high line, as you chose"};
    const double days = parameter(reference_, "feeding_rise_d");
    const double done = p.since ? std::floor(days_between(*p.since, now_)) : 0;
    if (done >= days) return {1, "on the high line"};
    return {done / days, done < 1 ? "on the low line, the first day"
                                  : fmt::format("day {} of {} from the low line to the high one", say_number(done, 0),
                                                say_number(days, 0))};
  }

  Colostrum colostrum(const Pup& pup) const {
    const auto weight = pup.last_weight();
    const double meal = parameter(reference_, "colostrum_meal_ml_100g");
    return {pup.birth.at + hours_of(reference_, "colostrum_closing_h"),
            pup.birth.at + hours_of(reference_, "colostrum_ends_early_h"),
            pup.birth.at + hours_of(reference_, "colostrum_ends_late_h"),
            Millilitres{weight ? weight->what.grams.count() / 100 * meal : 0}, pup.suckled.has_value()};
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  std::span<const growth::Standing> standings_;
  std::span<const growth::Doubt> doubts_;
  std::span<const Finding> found_;
  Feeding out_;
};

class Telling {
 public:
  Telling(const Feeding& feeding, const Litter& litter, const Reference& reference, Instant now)
      : feeding_{feeding}, litter_{litter}, reference_{reference}, now_{now} {}

  std::vector<Finding> all() {
    for (const auto& p : feeding_.pups) one(p);
    due();
    return std::move(out_);
  }

 private:
  template <class Rule>
  void tell(const Rule* rule, const std::string& about, std::string because, std::optional<Instant> since) {
    if (rule) out_.push_back(reference::found(*rule, about, std::move(because), since));
  }
  void once(std::string_view code, const std::string& about, std::string because, std::optional<Instant> since) {
    tell(reference::rule_of(reference_.count_rules, code), about, std::move(because), since);
  }

  void one(const PupFeeding& p) {
    const bool by_hand = p.keepers && p.share != FeedShare::none;
    for (const auto& stop : p.stops) {
      if (stop.code == "FEED_TAUT")
        tell(
            reference::worst_reached(reference_.span_rules, stop.code, std::chrono::floor<Minutes>(now_ - *stop.since)),
            p.label, stop.why, stop.since);
      else if (stop.code == "FEED_COLD" && now_ - *stop.since < kPupReadingLasts)
        continue;  // PUP_COLD says it
      else if (by_hand || stop.code == "FEED_NO_SUCK")
        once(stop.code, p.label, stop.why, stop.since);
    }
    if (p.loose_stool) once("FEED_LOOSE", p.label, "loose stool noted in the last 24 hours", std::nullopt);
    const auto* plan = value_of(p.plan);
    if (!plan) {
      const auto& why = std::get<NotAssessed>(p.plan);
      if (by_hand && why.code != "NO_REFERENCE") once("FEED_UNKNOWN", p.label, why.why, std::nullopt);
      return;
    }
    amounts(p, *plan, by_hand);
  }

  void amounts(const PupFeeding& p, const Plan& plan, bool by_hand) {
    const Pup* pup = litter_.pup(p.label);
    const record::Noted<record::Feed>* last = nullptr;
    for (const auto& f : pup->feeds)
      if (f.at <= now_ && f.what.by != FeedWay::nursing) last = &f;
    if (last && now_ - last->at < hours{6}) {
      const Millilitres room = plan.today.room;
      tell(reference::worst_reached(reference_.percent_rules, "FEED_TOO_MUCH", Percent{100 * (last->what.ml / room)}),
           p.label,
           fmt::format("{} ml on {}; its stomach takes about {} ml", say_number(last->what.ml.count(), 1),
                       say_day_time(litter_.zone, last->at), say_number(room.count(), 1)),
           last->at);
    }
    if (!by_hand || p.fed.without_energy > 0) return;
    const auto lines = lines_at(days_between(pup->birth.at, now_), reference_);
    const Kilocalories most = lines->most * plan.weight.grams, least = lines->low * plan.weight.grams;
    const auto said = [&](Kilocalories limit, std::string_view which) {
      return fmt::format("{} kcal by hand in 24 hours, {} feeds; the {} line asks {}",
                         say_number(p.fed.kcal.count(), 0), p.fed.feeds, which, say_number(limit.count(), 0));
    };
    if (const auto* over =
            reference::worst_reached(reference_.percent_rules, "FED_OVER", Percent{100 * (p.fed.kcal / most)}))
      tell(over, p.label, said(most, "highest"), std::nullopt);
    if (p.share == FeedShare::full && p.since && now_ - *p.since >= kADay)
      if (const auto* under =
              reference::worst_reached(reference_.percent_rules, "FED_SHORT", Percent{100 * (p.fed.kcal / least)}))
        tell(under, p.label, said(least, "low"), std::nullopt);
  }

  /// One finding for all pups whose feed is due, one for all that are late: ten mouths would be ten cards.
  void due() {
    struct Waiting {
      const reference::SpanRule* rule;
      std::vector<std::string> labels;
      Instant first;
    };
    std::vector<Waiting> all;
    for (const auto& p : feeding_.pups) {
      if (!p.next || !p.stops.empty() || *p.next > now_) continue;
      const auto* rule =
          reference::worst_reached(reference_.span_rules, "FEED_DUE", std::chrono::floor<Minutes>(now_ - *p.next));
      if (!rule) continue;
      auto at = std::find_if(all.begin(), all.end(), [&](const Waiting& w) { return w.rule == rule; });
      if (at == all.end()) at = all.insert(at, {rule, {}, *p.next});
      at->labels.push_back(p.label);
      at->first = std::min(at->first, *p.next);
    }
    for (const auto& w : all)
      tell(w.rule, w.labels.size() == 1 ? w.labels.front() : "litter",
           fmt::format("{} {}, due {}", w.labels.size() == 1 ? "pup" : "pups", fmt::join(w.labels, ", "),
                       say_day_time(litter_.zone, w.first)),
           w.first);
  }

  const Feeding& feeding_;
  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  std::vector<Finding> out_;
};

}  // namespace

Assessed<Ration> ration(Grams pup, KcalPer100g need, KcalPerMl milk, int table_feeds, const Reference& reference) {
  const Kilocalories kcal = need * pup;
  const Millilitres day = kcal / milk;
  const Millilitres room{parameter(reference, "stomach_ml_100g") * pup.count() / 100};
  const int by_room = static_cast<int>(std::ceil(day / room - kDust));
  const int feeds = std::max({1, table_feeds, by_room});
  const Millilitres exact = day / feeds;
  const auto& sizes = reference.syringes;
  const auto holds =
      std::find_if(sizes.begin(), sizes.end(), [&](const auto& s) { return exact.count() <= s.holds_ml.count(); });
  const Millilitres mark = holds == sizes.end() ? sizes.back().mark_ml : holds->mark_ml;
  const double marks = std::floor(exact / mark + kDust);
  if (!(marks >= 1))
    return NotAssessed{"LESS_THAN_A_MARK",
                       fmt::format("a feed of {} ml is less than a syringe can measure", say_number(exact.count(), 3))};
  return Ration{need, kcal, day, room, feeds, by_room > table_feeds, exact, mark * marks, mark};
}

std::optional<Lines> lines_at(double age_d, const Reference& reference) {
  const auto at = [&](std::string_view line) {
    return std::find_if(reference.feeding_energy.begin(), reference.feeding_energy.end(), [&](const auto& row) {
      return row.line == line && age_d >= row.from_d.count() && age_d < row.to_d.count();
    });
  };
  const auto low = at("low"), high = at("high"), none = reference.feeding_energy.end();
  if (low == none || high == none) return std::nullopt;
  return Lines{low->kcal_100g, high->kcal_100g, high->most_kcal_100g, low->source, high->source};
}

Kilocalories full_feeding(Grams birth, int from, int to, const Reference& reference) {
  Grams weight = birth;
  Kilocalories sum{0};
  for (int day = 0; day < to; ++day) {
    if (const auto lines = lines_at(day, reference); lines && day >= from) sum = sum + lines->high * weight;
    const auto week = std::min(static_cast<std::size_t>(day / 7), reference.feeding_weeks.size() - 1);
    weight = weight * (1 + reference.feeding_weeks[week].gain_pct.count() / 100);
  }
  return sum;
}

const reference::FeedingTimes* times_at(double age_d, bool weak, const Reference& reference) {
  const reference::FeedingTimes* out = nullptr;
  for (const auto& row : reference.feeding_times) {
    const bool here = row.chosen && age_d >= row.from_d.count() && age_d < row.to_d.count();
    if (here && (row.who == "any" || weak) && (!out || row.feeds > out->feeds)) out = &row;
  }
  return out;
}

const PupFeeding* Feeding::of(std::string_view label) const {
  const auto at = std::find_if(pups.begin(), pups.end(), [&](const PupFeeding& p) { return p.label == label; });
  return at == pups.end() ? nullptr : &*at;
}

Feeding feeding(const Litter& litter, const Reference& reference, Instant now,
                std::span<const growth::Standing> standings, std::span<const growth::Doubt> doubts,
                std::span<const Finding> found) {
  return Feeder{litter, reference, now, standings, doubts, found}.all();
}

std::vector<FeedRound> feed_rounds(const Feeding& feeding, Instant now) {
  std::vector<std::pair<Instant, std::string>> all;
  for (const auto& p : feeding.pups) {
    const auto* plan = value_of(p.plan);
    if (!plan || !p.keepers || !p.next || !p.stops.empty()) continue;
    const Span apart = kADay / plan->today.feeds;
    Instant at = *p.next;
    if (at <= now) at += (now - at) / apart * apart;
    for (; at < now + kADay; at += apart) all.emplace_back(at, p.label);
  }
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<FeedRound> out;
  for (auto& [at, label] : all) {
    if (out.empty() || at - out.back().at > kTogether) out.push_back({at, {}});
    out.back().pups.push_back(std::move(label));
  }
  return out;
}

std::vector<Finding> findings(const Feeding& feeding, const Litter& litter, const Reference& reference, Instant now) {
  return Telling{feeding, litter, reference, now}.all();
}

}  // namespace lampside::nest
