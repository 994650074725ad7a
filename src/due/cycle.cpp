// Dates judged in the cycle, each to the day: the LH surge, ovulation, the first day of cytological dioestrus.
#include <fmt/format.h>

#include "due/model.hpp"

namespace lampside::due {

void cycle_clues(const Reading& r, std::vector<ClueTerm>& out) {
  const auto value = [&](std::string_view name) { return parameter(r.reference, name); };
  const auto day = [&](Instant t) { return say_day(r.litter.zone.day_of(t)); };
  const auto add = [&](Event event, Instant seen, double mean, double sd, std::string kind, std::string what,
                       reference::Citation source) {
    ClueTerm clue = dated_clue(r, event, middle_of_its_day(r.litter, seen), mean, sd);
    clue.slip = fmt::format("check the date of \"{}\"", what);
    clue.says = fmt::format("{} {}", what, day(seen));
    clue.kind = std::move(kind);
    clue.source = source;
    out.push_back(std::move(clue));
  };
  using reference::Citation;
  using reference::Standing;
  if (!r.litter.lh_surges.empty())
    add(Event::lh_surge, r.litter.lh_surges.back().at, 0, value("lh_read_sd_d"), "lh_surge", "LH surge",
        Citation{"Hollinshead and Hanlon 2017, Theriogenology 101:62-72", "65 +/- 1.9 days from the surge",
                 Standing::published});
  if (!r.litter.ovulations.empty())
    add(Event::lh_surge, r.litter.ovulations.back().at, value("lh_to_ovulation_d"), value("ovulation_read_sd_d"),
        "ovulation", "ovulation judged",
        Citation{"Mir et al. 2011, Reproduction in Domestic Animals 46:994-998", "63.1 +/- 2.1 days from ovulation",
                 Standing::published});
  if (!r.litter.dioestrus.empty())
    add(Event::dioestrus, r.litter.dioestrus.back().at, 0, value("dioestrus_read_sd_d"), "dioestrus", "dioestrus began",
        Citation{"De Cramer and Nöthling 2017, Theriogenology 96:153-157", "57 days; 88 / 99 / 100 % within 1 / 2 / 3",
                 Standing::published});
}

}  // namespace lampside::due
