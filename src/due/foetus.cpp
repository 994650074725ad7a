// Foetal measures by ultrasound, and skeletons on an X-ray.
//
// A foetus tells its own age, and part of the published error is gestation itself, which it shares with every other
// date of the cycle. So a scan is a clue about dioestrus, the last event before whelping that all else hangs on, with
// the published error less the spread from there to whelping: alone it is as good as published, beside other dates not
// better. Two scans of one litter share the line's bias for this breed and this dam: of what is left about three
// quarters (as a standard deviation) is taken as shared. Several foetuses on one day count as one reading.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "due/model.hpp"

namespace lampside::due {
namespace {

constexpr double kSharedPart = 0.73, kOwnPart = 0.683;  // squares sum to one
constexpr double kLeastError = 0.4;                     // days: no line is better than that, whatever the sample said

}  // namespace

const reference::Foetometry* foetometry_row(const reference::Reference& reference, const record::Litter& litter,
                                            std::string_view measure) {
  // Without a weight the middle class stands in: its line needs no correction.
  const double kg = dam_kg(litter).value_or(20.0);
  const reference::Foetometry* general = nullptr;
  for (const auto& row : reference.foetometry) {
    if (!row.chosen || !same_word(row.measure, measure)) continue;
    if (!row.breed.empty()) {
      if (same_word(row.breed, litter.breed())) return &row;
    } else if (kg > row.over_kg && kg <= row.to_kg) {
      general = &row;
    }
  }
  return general;
}

ScanSays read_scan(const reference::Foetometry& row, Millimetres mm) {
  const double value = row.at_zero + row.per_mm * mm.count();
  const double to_go = row.gives_age ? 65 - value : value;
  return {to_go, (to_go < 65 - 39 ? row.late_sd_d : row.early_sd_d).count()};
}

void foetus_clues(const Reading& r, std::vector<ClueTerm>& out) {
  struct Scan {
    Instant due;
    double sd;
  };
  struct Group {
    const reference::Foetometry* row;
    std::map<CivilDay, std::vector<Scan>> days;
  };
  std::map<std::string, Group> groups;
  for (const auto& m : r.litter.foetal_measures) {
    const auto* row = m.at <= r.now ? foetometry_row(r.reference, r.litter, m.what.measure) : nullptr;
    if (!row) continue;
    const ScanSays says = read_scan(*row, m.what.mm);
    auto& group = groups[std::string(row->measure)];
    group.row = row;
    group.days[r.litter.zone.day_of(m.at)].push_back({m.at + reference::to_span(Days{says.to_go_d}), says.sd_d});
  }
  const double gestation = parameter(r.reference, "dioestrus_to_whelping_sd_d");
  for (const auto& [measure, group] : groups) {
    double weight = 0, mean = 0, shared = 0;
    const Instant origin = group.days.begin()->second.front().due;
    for (const auto& [day, scans] : group.days) {
      double due = 0, sd = 0;
      for (const Scan& s : scans) due += reference::days_between(origin, s.due), sd += s.sd;
      due /= static_cast<double>(scans.size());
      sd /= static_cast<double>(scans.size());
      sd = std::sqrt(std::max(sd * sd - gestation * gestation, kLeastError * kLeastError));
      const double own = 1 / std::pow(kOwnPart * sd, 2);
      weight += own, mean += own * due, shared += own * kSharedPart * sd;
    }
    const Instant due = origin + reference::to_span(Days{mean / weight});
    ClueTerm clue = dated_clue(r, Event::dioestrus,
                               due - reference::to_span(Days{parameter(r.reference, "dioestrus_to_whelping_d")}), 0,
                               std::sqrt(1 / weight + std::pow(shared / weight, 2)));
    clue.kind = "foetal_measure";
    clue.says = fmt::format("scan ({}), {} day{}: points to {}", measure, group.days.size(),
                            group.days.size() == 1 ? "" : "s", say_day(r.litter.zone.day_of(due)));
    clue.slip = "check the scan's figure (mm, not cm) and its date";
    clue.source = group.row->source;
    out.push_back(std::move(clue));
  }
  for (const auto& c : r.litter.counts) {
    if (c.at > r.now || c.what.method != record::CountMethod::xray || c.what.pups == 0) continue;
    const Axis& axis = r.axes.whelping;
    const double from = parameter(r.reference, "skeleton_shows_before_d"),
                 sd = parameter(r.reference, "skeleton_shows_sd_d");
    ClueTerm clue{};
    clue.event = Event::whelping;
    clue.kind = "pup_count";
    clue.good.resize(axis.cells);
    for (std::size_t i = 0; i < axis.cells; ++i)
      clue.good[i] = std::log(std::max(0.5 * std::erfc((axis.days_after(c.at, i) - from) / sd / std::sqrt(2.0)), 1e-6));
    clue.says = fmt::format("skeletons seen on the X-ray of {}", say_day(r.litter.zone.day_of(c.at)));
    clue.slip = "check the date of the X-ray";
    clue.source = {"Rendano et al. 1983, Am J Vet Res 44:1506-1511", "skeletons first show 20-21 days before birth",
                   reference::Standing::published};
    out.push_back(std::move(clue));
    break;
  }
}

}  // namespace lampside::due
