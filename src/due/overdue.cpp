#include "due/overdue.hpp"

#include <algorithm>

#include "due/model.hpp"

namespace lampside::due {
namespace {

using record::Litter;
using reference::Reference;

/// The first reading of the rise, and where the mean course puts the surge by it. A reading too high to date anything
/// puts it at least as far back as the highest that does.
std::optional<Instant> surge_by_progesterone(const Litter& litter, const Reference& reference) {
  const double most = parameter(reference, "progesterone_dates_to_ng_ml");
  for (const auto& p : litter.progesterone) {
    // 1.5 ng/ml: where Kutzler et al. 2003 see the rise begin.
    if (p.what.ng_ml.count() < 1.5 || !around_ovulation(litter, p.at)) continue;
    return p.at - reference::to_span(days_after_surge(reference, NgPerMl{std::min(p.what.ng_ml.count(), most)}));
  }
  return std::nullopt;
}

/// The date the most exact scan points to; of several alike, the first.
std::optional<Instant> date_by_scan(const Litter& litter, const Reference& reference) {
  std::optional<Instant> date;
  double best = 0;
  for (const auto& m : litter.foetal_measures) {
    const auto* row = foetometry_row(reference, litter, m.what.measure);
    if (!row) continue;
    const ScanSays says = read_scan(*row, m.what.mm);
    if (date && says.sd_d >= best) continue;
    date = m.at + reference::to_span(Days{says.to_go_d});
    best = says.sd_d;
  }
  return date;
}

}  // namespace

std::vector<OverdueLine> overdue_lines(const Litter& litter, const Reference& reference) {
  std::vector<OverdueLine> out;
  const auto from_first = [&](const auto& events, std::string_view code, std::string_view what) {
    if (!events.empty()) out.push_back({code, events.front().at, what});
  };
  from_first(litter.ovulations, "OVERDUE_OVULATION", "ovulation");
  from_first(litter.lh_surges, "OVERDUE_LH", "the LH surge");
  from_first(litter.dioestrus, "OVERDUE_DIOESTRUS", "dioestrus began");
  if (out.empty()) {
    if (const auto surge = surge_by_progesterone(litter, reference))
      out.push_back({"OVERDUE_PROGESTERONE", *surge, "the LH surge, as progesterone dates it,"});
    if (const auto date = date_by_scan(litter, reference))
      out.push_back({"OVERDUE_SCAN", *date, "the date her scan points to,"});
  }
  from_first(litter.matings, "OVERDUE_MATING", "the first mating");
  return out;
}

std::optional<Instant> ring_line(const Litter& litter, const Reference& reference) {
  std::optional<Instant> first;
  for (const auto& line : overdue_lines(litter, reference))
    for (const auto* rule : reference::rules_of(reference.day_rules, line.code)) {
      if (rule->level > reference::Level::call_vet) continue;
      const Instant at = line.from + reference::to_span(rule->limit);
      if (!first || at < *first) first = at;
    }
  return first;
}

}  // namespace lampside::due
