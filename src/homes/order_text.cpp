#include "homes/order_text.hpp"

#include <fmt/format.h>

namespace lampside::homes {

std::string say_rule(const record::PickRule& rule) {
  std::string out = rule.order == record::PickOrder::match
                        ? "The keeper matches pups and families; each with a reason."
                        : "In the order of the deposits; those without one come after. Who passes keeps the place.";
  if (const int n = rule.keeper_first.value_or(0); n > 0)
    out += fmt::format(" The keeper picks {} {} first.", n, n == 1 ? "pup" : "pups");
  if (rule.opens) out += " Choosing opens on " + say_day(*rule.opens) + ".";
  return out +
         " If a pup dies, its family keeps the place and chooses again. Who withdraws frees the pup, and those who "
         "passed are asked again. Families for whom no pup is left are told; a pup nobody picks stays free. Any step "
         "out "
         "of the order is written down with its reason.";
}

std::string order_text(const Order& order, const record::Litter& litter, Instant now) {
  std::string out = fmt::format("{}'s litter: how the families choose, on {}\n\n{}\n\n", litter.dam_name(),
                                say_day(litter.zone.day_of(now)), say_rule(order.rule));
  for (const auto& f : order.families) {
    std::string_view state = f.withdrawn ? "withdrawn"
                             : f.gone    ? "has its pup at home"
                             : f.pup     ? "has chosen"
                                         : "waits";
    out += fmt::format("Place {}: {}", f.place, state);
    if (f.waits() && f.passes > 0) out += ", passed and keeps the place";
    out += "\n";
  }
  out += order.next ? fmt::format("\nNext: {}, because {}.\n",
                                  *order.next == kKeeper ? "the keeper"
                                                         : fmt::format("place {}", order.family(*order.next)->place),
                                  order.why)
                    : fmt::format("\nNobody chooses now: {}.\n", order.why);
  for (const auto& s : order.skipped)
    out +=
        fmt::format("Out of turn on {}: {} took a pup, {}.\n", say_day(litter.zone.day_of(s.at)), say(order, s.family),
                    s.why.empty() ? "no reason is written down" : "with a reason written down");
  return out + fmt::format("Pups free: {}.\n", order.free_pups.size());
}

}  // namespace lampside::homes
