#include "homes/findings.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "reference/rules.hpp"

namespace lampside::homes {

std::vector<reference::Finding> findings(const record::Litter& litter, const Order& order,
                                         const reference::Reference& reference) {
  std::vector<reference::Finding> out;
  const auto told = [&](std::string_view code, int count, const std::string& about, const std::string& because,
                        std::optional<Instant> since) {
    if (const auto* rule = reference::worst_reached(reference.count_rules, code, count))
      out.push_back(reference::found(*rule, about, because, since));
  };
  for (const auto& c : order.contested) {
    std::string who;
    for (const auto& by : c.by) who += (who.empty() ? "" : " and ") + say(order, by);
    told("PUP_PICKED_TWICE", static_cast<int>(c.by.size()), c.pup, "picked by " + who, std::nullopt);
  }
  for (const auto& s : order.skipped)
    if (s.why.empty())
      told("PICK_OUT_OF_TURN", 1, s.pup,
           fmt::format("{} picked on {}{}, and no reason is written down", say(order, s.family),
                       say_day_time(litter.zone, s.at),
                       s.instead_of ? " when it was the turn of " + say(order, *s.instead_of)
                                    : std::string(" when it was nobody's turn")),
           s.at);
  const auto waiting = std::count_if(order.families.begin(), order.families.end(), [](auto& f) { return f.waits(); });
  const auto free = std::max<std::ptrdiff_t>(0, std::ssize(order.free_pups) - order.keeper_left);
  if (std::any_of(litter.pups.begin(), litter.pups.end(), [](const auto& pup) { return pup.in_box(); }))
    told("FAMILIES_IN_VAIN", static_cast<int>(waiting - free), "litter",
         fmt::format("{} wait, {} {} free", waiting, free, free == 1 ? "pup is" : "pups are"), std::nullopt);
  return out;
}

}  // namespace lampside::homes
