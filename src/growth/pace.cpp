#include "growth/pace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "reference/rules.hpp"

namespace lampside::growth {
namespace {

double between(const std::vector<PaceModel::Knot>& knots, double day, double PaceModel::Knot::* what) {
  if (day <= knots.front().day) return knots.front().*what;
  for (std::size_t i = 1; i < knots.size(); ++i)
    if (day <= knots[i].day) {
      const double share = (day - knots[i - 1].day) / (knots[i].day - knots[i - 1].day);
      return knots[i - 1].*what * (1 - share) + knots[i].*what * share;
    }
  return knots.back().*what;
}
}  // namespace

PaceModel::PaceModel(const reference::Reference& reference, double house_factor) : house{house_factor} {
  const auto value = [&](std::string_view name) { return reference::parameter(reference, name); };
  const auto square = [](double x) { return x * x; };
  for (const int day : {0, 2, 7, 17, 35, 56})
    knots.push_back({static_cast<double>(day), value(fmt::format("pace_day_{}", day)) / 100,
                     value(fmt::format("pace_needed_day_{}", day)) / 100});
  const auto wander_of = [&](std::string_view who) {
    const double sd = value(fmt::format("{}_pace_sd", who)) / 100, back = 1 / value(fmt::format("{}_pace_days", who));
    return Wander{back, 2 * back * sd * sd, sd * sd};
  };
  wander = {wander_of("own"), wander_of("litter")};
  healthy = {wander_of("healthy"), wander.litter};
  young_level = square(value("young_level_sd") / 100);
  level = square(value("level_sd") / 100);
  own_noise = square(value("weighing_own_sd") / 100);
  common_noise = square(value("weighing_common_sd") / 100);
  slip = value("weighing_slip");
  real_change = value("weighing_real_change");
  for (const auto* rule : reference::rules_of(reference.percent_rules, "PACE_SLOW"))
    (rule->level == reference::Level::act ? act_from : watch_from) = rule->limit.count() / 100;
  ask_at = std::log(value("weighing_ask_at"));
}

double PaceModel::expected(Days age) const { return house * between(knots, age.count(), &Knot::expected); }
double PaceModel::need(Days age) const { return between(knots, age.count(), &Knot::need); }
double PaceModel::expected_change(Days from, Days to) const {
  // Straight between knots: the trapezium is exact when the way is cut at each knot.
  double sum = 0, a = std::max(0.0, from.count());
  const double end = std::max(a, to.count());
  while (a < end) {
    double b = end;
    for (const Knot& k : knots)
      if (k.day > a + 1e-12 && k.day < b) b = k.day;
    sum += (b - a) * (expected(Days{a}) + expected(Days{b})) / 2;
    a = b;
  }
  return sum;
}

double normal_below(double limit, double mean, double sd) {
  return 0.5 * std::erfc((mean - limit) / (sd * std::sqrt(2.0)));
}

}  // namespace lampside::growth
