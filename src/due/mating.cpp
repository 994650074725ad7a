// Matings: at least one fell where a mating can be fertile.
//
// Several matings are alternatives: any of them may be the one that took, each equally likely before anything else is
// known. A mating timed by progesterone falls much closer to one day than one that is not; but where those readings
// themselves date the surge, the mating was chosen by them and adds only that it could be fertile.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "due/model.hpp"

namespace lampside::due {
namespace {

/// Dates that guided the matings, or whose clues tell more of the surge than the matings do.
bool dated_otherwise(const record::Litter& litter, const reference::Reference& reference) {
  if (!litter.lh_surges.empty() || !litter.ovulations.empty() || !litter.dioestrus.empty()) return true;
  return std::any_of(litter.progesterone.begin(), litter.progesterone.end(), [&](const auto& p) {
    return around_ovulation(litter, p.at) && dates_the_surge(reference, p.what.ng_ml);
  });
}

/// Only high readings, near the first mating: she was mated by progesterone though no reading dates the surge.
/// Low readings alone guide no mating: it may have come much later.
bool timed_by_progesterone(const record::Litter& litter, const reference::Reference& reference) {
  const Instant first = litter.matings.front().at;
  const double over = parameter(reference, "progesterone_dates_to_ng_ml");
  return std::any_of(litter.progesterone.begin(), litter.progesterone.end(), [&](const auto& p) {
    return p.what.ng_ml.count() > over && std::chrono::abs(first - p.at) <= std::chrono::hours{72};
  });
}

}  // namespace

void mating_clue(const Reading& r, std::vector<ClueTerm>& out) {
  const auto& matings = r.litter.matings;
  if (matings.empty()) return;
  const auto value = [&](std::string_view name) { return parameter(r.reference, name); };
  const bool dated = dated_otherwise(r.litter, r.reference);
  const bool timed = !dated && timed_by_progesterone(r.litter, r.reference);
  const double mean = value(timed ? "timed_mating_after_lh_d" : "mating_after_lh_d");
  const double sd = value(timed ? "timed_mating_after_lh_sd_d" : "mating_after_lh_sd_d");
  const double from = value("fertile_from_d"), to = value("fertile_to_d");
  const Axis& axis = r.axes.lh;
  ClueTerm clue{};
  clue.kind = "mating";
  clue.event = Event::lh_surge;
  clue.good.assign(axis.cells, -std::numeric_limits<double>::infinity());
  clue.odd.assign(axis.cells, -std::numeric_limits<double>::infinity());
  const double share = std::log(1.0 / static_cast<double>(matings.size()));
  for (const auto& m : matings) {
    // Forms write noon when only the day is known.
    const bool day_only = r.litter.zone.time_of_day(m.at) == std::chrono::hours{12};
    const double spread = std::hypot(sd, day_only ? kWholeDaySd : 0.0);
    const double astray = std::hypot(spread, value("gross_error_scale_d"));
    for (std::size_t i = 0; i < axis.cells; ++i) {
      const double after = -axis.days_after(m.at, i);  // the mating's day after the surge
      // Outside the fertile span the chance falls off within half a day: the span's ends are not known to the hour.
      const double outside = std::max({0.0, from - after, after - to});
      const double fertile = -0.5 * std::pow(outside / 0.5, 2);
      const double here = (dated ? -std::log(to - from) : log_normal(after - mean, spread)) + fertile;
      clue.good[i] = log_add(clue.good[i], share + here);
      clue.odd[i] = log_add(clue.odd[i], share + log_astray(after - mean, astray));
    }
  }
  const auto day = [&](Instant t) { return say_day(r.litter.zone.day_of(t)); };
  clue.says = matings.size() == 1 ? fmt::format("mated {}", day(matings.front().at))
                                  : fmt::format("mated {} times, {} to {}", matings.size(), day(matings.front().at),
                                                day(matings.back().at));
  if (timed) clue.says += ", timed by progesterone";
  clue.slip = "check the mating dates";
  clue.source = timed ? reference::Citation{"Okkens et al. 2001, J Reprod Fertil Suppl 57",
                                            "61.4 +/- 1.5 days from a mating timed by progesterone",
                                            reference::Standing::published}
                      : reference::Citation{"Romagnoli 2005, Physiology and endocrinology of pregnancy in the bitch",
                                            "57-72 days from a mating; fertile from LH - 3 to about + 10",
                                            reference::Standing::published};
  out.push_back(std::move(clue));
}

}  // namespace lampside::due
