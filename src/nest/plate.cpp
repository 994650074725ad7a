#include "nest/plate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "measure/text.hpp"
#include "nest/figures.hpp"
#include "nest/supply_of_milk.hpp"
#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::Litter;
using record::Pup;
using reference::NotAssessed;
using reference::Reference;
using std::chrono::days;

constexpr int kWeeks = 4, kWeanFrom = 3, kWeanTo = 7;
constexpr int kPast = 7;
/// Her weight says how she is doing for so long.
constexpr Span kWeightLasts = std::chrono::hours{7 * 24};

double metabolic(Kilograms dam) { return std::pow(dam.count(), 0.75); }

template <class T>
const record::Noted<T>* latest(const std::vector<record::Noted<T>>& all, Instant now) {
  const record::Noted<T>* out = nullptr;
  for (const auto& one : all)
    if (one.at <= now && (!out || one.at >= out->at)) out = &one;
  return out;
}

/// In the box at the end of that day (or now), and not fed only by hand.
int nursed(const Litter& litter, CivilDay day, Instant now) {
  const Instant end = std::min(now, litter.zone.start_of(day + days{1}));
  return static_cast<int>(std::count_if(litter.pups.begin(), litter.pups.end(), [&](const Pup& p) {
    return p.born_alive() && p.birth.at <= end && !(p.death && p.death->at <= end) &&
           !(p.departure && p.departure->at <= end) && !drinks_nothing(p, end);
  }));
}

class Maker {
 public:
  Maker(const Litter& litter, const Reference& reference, Instant now, std::optional<Instant> expected)
      : litter_{litter}, reference_{reference}, now_{now}, today_{litter.zone.day_of(now)} {
    const auto born = litter.first_birth();
    born_ = born && *born <= now;
    if (born_)
      whelps_ = litter.zone.day_of(*born);
    else if (expected)
      whelps_ = litter.zone.day_of(*expected);
    if (litter.facts.dam && litter.facts.dam->kg) dam_ = litter.facts.dam->kg;
  }

  Plate make() {
    Plate out;
    if (dam_) out.weight = *dam_;
    out.pregnant = !born_;
    out.giant = dam_ && dam_->count() > parameter(reference_, "plate_giant_kg");
    out.today = need(today_);
    ahead(out);
    if (const auto* food = latest(litter_.foods, now_)) out.food = *food;
    if (const auto* today = reference::value_of(out.today))
      out.grams = out.in_food(today->kcal);
    else if (out.food)
      out.grams = std::get<NotAssessed>(out.today);
    out.eaten = day_of(today_);
    for (int n = 1; n <= kPast; ++n) out.past.push_back(day_of(today_ - days{n}));
    if (dam_)
      for (const auto& w : litter_.dam_weights)
        if (w.at <= now_)
          out.curve.push_back({w.at, to_kilograms(w.what.grams), percent_change(to_grams(*dam_), w.what.grams)});
    if (born_)
      for (int week = kWeanFrom; week <= kWeanTo; ++week)
        out.weaning.push_back({week, *whelps_ + days{7 * (week - 1)}, *whelps_ + days{7 * week - 1},
                               &figure(reference_, fmt::format("weaning_week_{}", week))});
    return out;
  }

 private:
  [[nodiscard]] reference::Assessed<Need> need(CivilDay day) const {
    if (!dam_) return NotAssessed{"NO_DATA", "her weight is not in the settings"};
    if (!whelps_) return NotAssessed{"NO_DATA", "nothing dates this litter yet"};
    const auto since = (day - *whelps_).count();
    if (!born_ || since < 0) {
      const bool late = since >= -static_cast<std::int64_t>(parameter(reference_, "plate_late_d"));
      return Need{late ? Stage::late : Stage::pregnant, 0, 0, pregnant(*dam_, late, reference_), {}};
    }
    const int week = static_cast<int>(since / 7) + 1;
    if (week > kWeeks)
      return NotAssessed{"NO_REFERENCE",
                         "after week 4 no source says how her need falls: by her weight, down to her usual food when "
                         "they are weaned"};
    const int pups = nursed(litter_, day, now_);
    if (pups == 0) return NotAssessed{"NO_PUPS", "she nurses no pup: her usual food"};
    return Need{Stage::nursing, week, pups, nursing(*dam_, pups, week, reference_),
                nursing_by_book(*dam_, pups, reference_)};
  }

  void ahead(Plate& out) const {
    if (!whelps_) return;
    for (CivilDay day = today_; day < *whelps_ + days{7 * kWeeks}; day += days{1}) {
      const auto that_day = need(day);
      const auto* n = reference::value_of(that_day);
      // Before they are born nobody knows for how many she will eat.
      if (!n || (!born_ && day >= *whelps_ && day > today_)) break;
      auto* last = out.ahead.empty() ? nullptr : &out.ahead.back();
      if (last && last->need.kcal == n->kcal && last->need.stage == n->stage)
        last->to = day;
      else
        out.ahead.push_back({day, day, *n});
    }
  }

  [[nodiscard]] PlateDay day_of(CivilDay day) const {
    PlateDay out{day, need(day), Kilocalories{0}, 0, 0};
    for (const auto& meal : litter_.dam_meals) {
      if (meal.at > now_ || litter_.zone.day_of(meal.at) != day) continue;
      ++out.meals;
      const auto kcal = energy(meal.what);
      if (kcal)
        out.given = out.given + *kcal;
      else
        ++out.unknown;
    }
    return out;
  }

  [[nodiscard]] std::optional<Kilocalories> energy(const record::DamMeal& meal) const {
    if (meal.kcal) return meal.kcal;
    if (!meal.grams) return std::nullopt;
    for (const auto& food : litter_.foods)
      if (food.what.kcal_100g && (meal.food ? food.what.name == *meal.food : litter_.foods.size() == 1))
        return *food.what.kcal_100g * (meal.grams->count() / 100);
    return std::nullopt;
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  CivilDay today_;
  bool born_ = false;
  std::optional<CivilDay> whelps_;
  std::optional<Kilograms> dam_;
};

bool says_calcium(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return text.find("calcium") != std::string::npos;
}

}  // namespace

Kilocalories pregnant(Kilograms dam, bool last_weeks, const Reference& reference) {
  return Kilocalories{parameter(reference, "plate_adult_kcal") * metabolic(dam) +
                      (last_weeks ? parameter(reference, "plate_late_kcal_kg") * dam.count() : 0)};
}

Kilocalories nursing(Kilograms dam, int pups, int week, const Reference& reference) {
  const int full = static_cast<int>(parameter(reference, "plate_full_pups"));
  const double first = std::clamp(pups, 0, full), more = std::clamp(pups - full, 0, full);
  return Kilocalories{parameter(reference, "plate_nursing_kcal") * metabolic(dam) +
                      dam.count() *
                          (parameter(reference, "plate_per_pup_kcal_kg") * first +
                           parameter(reference, "plate_more_pup_kcal_kg") * more) *
                          milk_factor(week, reference)};
}

Kilocalories nursing_by_book(Kilograms dam, int pups, const Reference& reference) {
  const double keep = parameter(reference, "plate_book_rer") * parameter(reference, "plate_rer_kcal") * metabolic(dam);
  return Kilocalories{keep * (1 + parameter(reference, "plate_book_pup_pct") / 100 * pups)};
}

std::string_view name_of(Stage stage) {
  switch (stage) {
    case Stage::pregnant:
      return "pregnant";
    case Stage::late:
      return "late_pregnant";
    case Stage::nursing:
      return "nursing";
  }
  return "";
}

reference::Assessed<Grams> Plate::in_food(Kilocalories kcal) const {
  if (!food) return NotAssessed{"NO_FOOD", "no food of hers is written down"};
  if (!food->what.kcal_100g || !(*food->what.kcal_100g > Kilocalories{0}))
    return NotAssessed{"NO_ENERGY", "the energy on the label of " + food->what.name + " is not written down"};
  return Grams{kcal / *food->what.kcal_100g * 100};
}

Plate plate(const Litter& litter, const Reference& reference, Instant now, std::optional<Instant> expected) {
  return Maker{litter, reference, now, expected}.make();
}

std::vector<reference::Finding> findings(const Plate& plate, const Litter& litter, const Reference& reference,
                                         Instant now) {
  std::vector<reference::Finding> out;
  if (plate.pregnant) {
    const auto* rule = reference::rule_of(reference.count_rules, "CALCIUM_BEFORE_WHELPING");
    int times = 0;
    const record::Noted<record::Dose>* last = nullptr;
    for (const auto& d : litter.dam_doses)
      if (d.at <= now && says_calcium(d.what.product + " " + d.what.active.value_or(""))) ++times, last = &d;
    if (rule && reached(*rule, times))
      out.push_back(found(*rule, "dam",
                          fmt::format("{} is written down on {}; no pup is born yet", last->what.product,
                                      say_day_time(litter.zone, last->at)),
                          last->at));
    return out;
  }
  if (!plate.curve.empty() && now - plate.curve.back().at < kWeightLasts) {
    const auto& last = plate.curve.back();
    const bool since_birth = last.at >= *litter.first_birth();
    if (const auto* rule = reference::worst_reached(reference.percent_rules, "DAM_LOSS", last.change);
        rule && since_birth)
      out.push_back(
          found(*rule, "dam",
                fmt::format("{} on {}, {} against {} at mating", say(last.weight), say_day_time(litter.zone, last.at),
                            say(last.change), say(*reference::value_of(plate.weight))),
                last.at));
  }
  if (!plate.past.empty()) {
    const auto& yesterday = plate.past.front();
    const auto* need = reference::value_of(yesterday.need);
    const auto* rule = reference::rule_of(reference.percent_rules, "DAM_EATS_LITTLE");
    if (need && rule && need->stage == Stage::nursing && yesterday.meals > 0 && yesterday.unknown == 0) {
      // The lower of the two sums in print: only what is too little by both is told.
      const auto least = std::min(need->kcal, *need->book);
      const Percent off{(yesterday.given / least - 1) * 100};
      if (reached(*rule, off))
        out.push_back(found(*rule, "dam",
                            fmt::format("{} on {}: {} kcal written down, about {} needed for {}",
                                        counted(yesterday.meals, "meal", "meals"), say_day(yesterday.day),
                                        say_number(yesterday.given.count(), 0), say_number(least.count(), 0),
                                        counted(need->pups, "pup", "pups")),
                            litter.zone.start_of(yesterday.day)));
    }
  }
  return out;
}

}  // namespace lampside::nest
