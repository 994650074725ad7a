// What the calendar and the thermometer say before whelping.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "due/forecast.hpp"
#include "due/overdue.hpp"
#include "due/told.hpp"
#include "reference/rules.hpp"

namespace lampside::due {
namespace {

using record::Litter;
using record::Sign;
using reference::Finding;
using reference::Reference;

using reference::reached;
using reference::rule_of;
using reference::to_span;
using reference::worst_reached;

bool has_labour_sign(const Litter& litter, Instant from, Instant now) {
  return std::any_of(litter.signs.begin(), litter.signs.end(), [&](const auto& s) {
    if (s.at < from || s.at > now) return false;
    return s.what.sign == Sign::strong_straining || s.what.sign == Sign::weak_straining ||
           s.what.sign == Sign::waters || s.what.sign == Sign::green_discharge || s.what.sign == Sign::pup_visible;
  });
}

class Asking {
 public:
  Asking(const Litter& litter, const Reference& reference, Instant now, const reference::Assessed<Forecast>& forecast)
      : litter_{litter}, reference_{reference}, now_{now}, forecast_{forecast} {}

  std::vector<Finding> all() {
    const auto* due = reference::value_of(forecast_);
    window(due);
    overdue();
    early();
    temperature(due);
    if (due) getting_ready(*due);
    return std::move(out_);
  }

 private:
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }
  void add_count(std::string_view code, const std::string& because, std::optional<Instant> since) {
    for (const auto* rule : reference::rules_of(reference_.count_rules, code))
      out_.push_back(reference::found(*rule, "dam", because, since));
  }

  void window(const Forecast* due) {
    if (due) {
      add_count("DUE_WINDOW",
                fmt::format("most likely {}; nine times in ten between {} and {}; {:.0f} % in the next 24 hours",
                            when(told(due->p50)), when(told(due->p05)), when(told(due->p95)), due->chance.h24 * 100),
                std::nullopt);
      for (const Conflict& c : due->conflicts) out_.back().because += ". " + c.says;
    } else if (const auto& none = std::get<reference::NotAssessed>(forecast_); none.code == "NO_DATA") {
      add_count("NO_DUE_DATE", none.why, std::nullopt);
    }
  }

  void overdue() {
    for (const OverdueLine& line : overdue_lines(litter_, reference_)) {
      const double days = reference::days_between(line.from, now_);
      const auto* rule = worst_reached(reference_.day_rules, line.code, Days{days});
      if (!rule) continue;
      out_.push_back(reference::found(
          *rule, "dam",
          fmt::format("{} days since {} on {}; the limit is day {}", say_number(std::floor(days * 10) / 10, 1),
                      line.what, say_day(litter_.zone.day_of(line.from)), say_number(rule->limit.count(), 1)),
          line.from + to_span(rule->limit)));
    }
  }

  void early_from(std::string_view code, Instant anchor, std::string_view what) {
    const auto born = litter_.first_birth();
    for (const auto* rule : reference::rules_of(reference_.day_rules, code)) {
      const Instant limit = anchor + to_span(rule->limit);
      const bool labour = now_ < limit && has_labour_sign(litter_, anchor, now_);
      // A pup born too early stays one for the first days of its life.
      const bool pup = born && *born <= now_ && *born < limit && now_ - *born < std::chrono::hours{72};
      if (!labour && !pup) continue;
      out_.push_back(reference::found(
          *rule, "dam",
          fmt::format("{}, and day {} after {} is only on {}", pup ? "a pup is born" : "signs of labour",
                      say_number(rule->limit.count(), 0), what, say_day(litter_.zone.day_of(limit))),
          pup ? born : std::nullopt));
    }
  }

 public:
  /// By the best date of the cycle, and by the first mating too: a date judged wrong must not silence the other.
  void early() {
    if (!litter_.dioestrus.empty())
      early_from("LABOUR_EARLY_DIOESTRUS", litter_.dioestrus.front().at, "dioestrus began");
    else if (!litter_.lh_surges.empty())
      early_from("LABOUR_EARLY_LH", litter_.lh_surges.front().at, "the LH surge");
    else if (!litter_.ovulations.empty())
      early_from("LABOUR_EARLY_OVULATION", litter_.ovulations.front().at, "ovulation");
    if (!litter_.matings.empty()) early_from("LABOUR_EARLY", litter_.matings.front().at, "the first mating");
  }
  std::vector<Finding> after_birth() {
    early();
    return std::move(out_);
  }
  std::optional<Instant> dropped() const {
    const auto* low = rule_of(reference_.temperature_rules, "DAM_TEMP_DROP");
    if (!low) return std::nullopt;
    const auto drop = drop_since(last_days(reference::value_of(forecast_)), *low,
                                 rule_of(reference_.temperature_rules, "DROP_RETURNED"));
    return drop && !drop->returned ? std::optional{drop->since} : std::nullopt;
  }

 private:
  struct Drop {
    Instant since;
    Celsius lowest;
    const record::Noted<record::Temperature>* returned = nullptr;  ///< the first normal reading after it
    bool stayed_up = false;                                        ///< and still normal twelve hours later or more
    bool low_before = false;  ///< she was as low before her last days began, and not seen normal since
  };
  /// The first reading at or under the limit since she was last normal for a day; readings either side of the limit
  /// within a day are one fall, so that one more reading never starts the clock again.
  std::optional<Drop> drop_since(Instant earliest, const reference::TemperatureRule& low,
                                 const reference::TemperatureRule* normal) const {
    std::optional<Drop> drop;
    bool low_before = false;
    for (const auto& r : litter_.dam_temperatures) {
      if (r.at > now_) continue;
      const bool is_low = reached(low, r.what.celsius), is_normal = normal && reached(*normal, r.what.celsius);
      if (r.at < earliest) {
        if ((is_low || is_normal) && earliest - r.at <= to_span(Days{3})) low_before = is_low;
      } else if (is_low) {
        const bool false_one = drop && drop->returned && r.at - drop->returned->at >= std::chrono::hours{24};
        if (!drop || false_one) drop = Drop{r.at, r.what.celsius, nullptr, false, low_before && !drop};
        drop->returned = nullptr;
        drop->stayed_up = false;
        drop->lowest = std::min(drop->lowest, r.what.celsius);
      } else if (drop && is_normal) {
        if (!drop->returned) drop->returned = &r;
        drop->stayed_up = r.at - drop->returned->at >= std::chrono::hours{12};
      }
    }
    return drop;
  }

  Instant last_days(const Forecast* due) const { return due ? due->opens - to_span(Days{3}) : now_ - to_span(Days{4}); }
  /// A fall starts its clock from three days before her window opens by her dates alone: earlier dips are common and
  /// lead to nothing. From a week before that, a low reading is told all the same.
  void temperature(const Forecast* due) {
    const auto& readings = litter_.dam_temperatures;
    const auto* low = rule_of(reference_.temperature_rules, "DAM_TEMP_DROP");
    const auto* normal = rule_of(reference_.temperature_rules, "DROP_RETURNED");
    const auto* folk = rule_of(reference_.temperature_rules, "DAM_UNDER_100F");
    if (!low || readings.empty()) return;
    const Instant last_days = this->last_days(due);
    const Instant earliest = due ? last_days - to_span(Days{7}) : last_days;
    const auto unit = litter_.units().temperature;
    const auto drop = drop_since(last_days, *low, normal);
    if (drop && !has_labour_sign(litter_, drop->since, now_)) {
      const Span gone = now_ - drop->since;
      const std::string told =
          fmt::format("first reading at or under {} was on {}, {} ago (lowest {})", say(low->limit, unit),
                      when(drop->since), say_span(gone), say(drop->lowest, unit));
      if (drop->returned)
        out_.push_back(reference::found(
            *normal, "dam",
            fmt::format("it fell to {} and was back at {} on {}, with no labour seen", say(drop->lowest, unit),
                        say(drop->returned->what.celsius, unit), when(drop->returned->at)),
            drop->returned->at));
      // The clock says all that the drop says, and more: one of the two is enough.
      if (const auto* clock = clock_reached(gone, *drop))
        out_.push_back(
            reference::found(*clock, "dam", told + ", and no labour is recorded", drop->since + clock->limit));
      else if (!drop->returned)
        out_.push_back(reference::found(*low, "dam", told, drop->since));
    }
    const auto& last = readings.back();
    const bool fresh = last.at >= earliest && last.at <= now_ && now_ - last.at <= std::chrono::hours{24};
    if (drop || !fresh) return;
    const std::string said = fmt::format("{} on {}", say(last.what.celsius, unit), when(last.at));
    if (last.at < last_days && reached(*low, last.what.celsius))
      out_.push_back(reference::found(
          *low, "dam", said + "; her window opens only on " + when(told(due->opens)) + ", so it may be a false one",
          last.at));
    else if (folk && reached(*folk, last.what.celsius))
      out_.push_back(reference::found(*folk, "dam", said, last.at));
  }
  /// "Go now" is for a fall that stands. A dip that went back and stayed there, or no fall at all since she was as low
  /// before, still rings the vet.
  const reference::SpanRule* clock_reached(Span gone, const Drop& drop) const {
    const reference::SpanRule* out = nullptr;
    for (const auto* rule : reference::rules_of(reference_.span_rules, "DROP_CLOCK")) {
      const bool doubtful = drop.low_before || drop.stayed_up;
      if (rule->level == reference::Level::emergency && doubtful) continue;
      if (reached(*rule, std::chrono::floor<Minutes>(gone))) out = rule;
    }
    return out;
  }

  /// Counted back from the day the window opens, not from its middle: she may come early.
  void getting_ready(const Forecast& due) {
    const Days left{reference::days_between(now_, due.p05)};
    const std::string opens = fmt::format("her window opens {}", when(told(due.p05)));
    const bool box_done =
        std::any_of(litter_.done.begin(), litter_.done.end(), [](const auto& d) { return d.what.task == "box_ready"; });
    if (const auto* r = worst_reached(reference_.day_rules, "BOX_READY", left); r && !box_done)
      out_.push_back(reference::found(*r, "box", opens, due.p05 - to_span(r->limit)));
    const bool has_number = litter_.facts.vet && (litter_.facts.vet->phone || litter_.facts.vet->night_phone);
    for (const auto* r : reference::rules_of(reference_.count_rules, "VET_NUMBER_MISSING"))
      if (!has_number && left <= Days{static_cast<double>(r->limit)})
        out_.push_back(reference::found(*r, "litter", opens + ", and no number is in the settings", std::nullopt));
    for (const auto* r : reference::rules_of(reference_.span_rules, "DAM_TEMP_OLD")) {
      if (now_ < due.p05 - to_span(Days{2})) continue;
      const auto& readings = litter_.dam_temperatures;
      if (!readings.empty() && now_ - readings.back().at < r->limit) continue;
      out_.push_back(reference::found(*r, "dam",
                                      readings.empty()
                                          ? std::string("no temperature is recorded yet")
                                          : fmt::format("the last reading is from {}", when(readings.back().at)),
                                      std::nullopt));
    }
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  const reference::Assessed<Forecast>& forecast_;
  std::vector<Finding> out_;
};

}  // namespace

std::optional<Instant> temperature_dropped(const Litter& litter, const Reference& reference, Instant now,
                                           const reference::Assessed<Forecast>& forecast) {
  if (litter.first_birth() || (litter.dam_death && litter.dam_death->at <= now)) return std::nullopt;
  return Asking{litter, reference, now, forecast}.dropped();
}

std::vector<Finding> findings(const Litter& litter, const Reference& reference, Instant now,
                              const reference::Assessed<Forecast>& forecast) {
  if (litter.dam_death && litter.dam_death->at <= now) return {};
  if (litter.first_birth()) return Asking{litter, reference, now, forecast}.after_birth();
  return Asking{litter, reference, now, forecast}.all();
}

}  // namespace lampside::due
