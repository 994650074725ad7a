#include "rehearse/rules.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "due/model.hpp"
#include "reference/rules.hpp"

namespace lampside::rehearse {
namespace {

double above(double z) { return 0.5 * std::erfc(z / std::numbers::sqrt2); }

}  // namespace

Instant RuleSays::median(Instant now) const {
  const double cut = reference::days_between(mean, now) / sd_d;
  if (cut > 6) return now;
  // above(z) = above(cut) / 2, by halving.
  double low = std::max(cut, -8.0), high = 9;
  for (int i = 0; i < 50; ++i) {
    const double z = (low + high) / 2;
    (above(z) > above(cut) / 2 ? low : high) = z;
  }
  return mean + reference::to_span(Days{low * sd_d});
}

double RuleSays::log_density(Instant at, Instant now) const {
  const double cut = reference::days_between(mean, now) / sd_d;
  const double left =
      cut < 30 ? std::log(above(cut)) : -0.5 * cut * cut - std::log(cut * std::sqrt(2 * std::numbers::pi));
  return due::log_normal(reference::days_between(mean, at), sd_d) - left;
}

std::vector<RuleSays> rules_for(const record::Litter& litter, const reference::Reference& reference, Instant now) {
  std::vector<RuleSays> out;
  const auto add = [&](std::string_view rule, Instant anchor, double days, double sd_d) {
    if (anchor <= now) out.push_back({rule, anchor + reference::to_span(Days{days}), sd_d});
  };
  if (!litter.matings.empty()) add("first mating + 63", litter.matings.front().at, 63, 2.75);
  if (!litter.lh_surges.empty()) add("LH surge + 65", litter.lh_surges.back().at, 65, 1.9);
  if (!litter.ovulations.empty()) add("ovulation + 63", litter.ovulations.back().at, 63, 2.1);
  if (!litter.dioestrus.empty()) add("dioestrus + 57", litter.dioestrus.back().at, 57, 1.0);
  // Kutzler et al. 2003: the first reading of 1.5 ng/ml or more and twice the base.
  for (const auto& p : litter.progesterone) {
    if (p.at > now || !due::around_ovulation(litter, p.at)) continue;
    const double ng = p.what.ng_ml.count();
    if (ng >= 1.5 && ng >= 2 * litter.progesterone.front().what.ng_ml.count()) {
      add("progesterone rise + 65", p.at, 65, 1.5);
      break;
    }
  }
  if (!litter.foetal_measures.empty()) {
    const auto& scan = litter.foetal_measures.front();
    if (const auto* row = due::foetometry_row(reference, litter, scan.what.measure)) {
      const auto says = due::read_scan(*row, scan.what.mm);
      add("first scan's line", scan.at, says.to_go_d, says.sd_d);
    }
  }
  // Tsutsui and Murata 1982: 21.5 +/- 5.4 hours from the first reading of 37.5 degrees or less.
  for (const auto& t : litter.dam_temperatures)
    if (t.at <= now && t.what.celsius <= Celsius{37.5}) {
      add("first 37.5 C + 21.5 h", t.at, 21.5 / 24, 5.4 / 24);
      break;
    }
  return out;
}

}  // namespace lampside::rehearse
