#include <fmt/format.h>

#include <algorithm>

#include "reference/rules.hpp"
#include "supplies/plan.hpp"

namespace lampside::supplies {
namespace {

using reference::Finding;
using reference::found;
using reference::value_of;

/// "heat lamp bulbs, scale in grams, thread and 2 more".
std::string named(const std::vector<std::string>& items) {
  constexpr std::size_t kMost = 5;
  std::string out;
  const std::size_t shown = items.size() > kMost ? kMost - 1 : items.size();
  for (std::size_t i = 0; i < shown; ++i) out += (i ? "; " : "") + items[i];
  if (shown < items.size()) out += fmt::format("; and {} more", items.size() - shown);
  return out;
}

std::string count_of(std::size_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

}  // namespace

std::vector<Finding> findings(const record::Litter& litter, const reference::Reference& reference, Instant now,
                              const reference::Assessed<due::Forecast>& due, const Plan& plan) {
  std::vector<Finding> out;
  const auto* forecast = value_of(due);
  if (!plan.born && !forecast) return out;
  // Before birth: days until her window opens. After it nothing lies ahead: what is needed is needed now.
  const Days left{plan.born ? 0.0 : reference::days_between(now, forecast->opens)};
  const auto today = litter.zone.day_of(now);
  const std::string when =
      plan.born ? "the pups are here"
      : left.count() < 1
          ? std::string("her time may begin any hour")
          : fmt::format("her window opens in {} ({})", count_of(static_cast<std::size_t>(left.count()), "day", "days"),
                        say_day(litter.zone.day_of(forecast->opens)));
  if (!plan.begun) {
    const auto* rule = reference::worst_reached(reference.day_rules, "SUPPLIES_UNCHECKED", left);
    if (rule && !plan.born) out.push_back(found(*rule, "litter", when + ", and nothing is written down", std::nullopt));
    return out;
  }

  std::vector<std::string> missing, lacking, untried, out_of_date;
  bool lamp = !litter.lamps.empty(), guard = false;
  for (const auto& line : plan.lines) {
    if (line.item == "heat lamp or pad") lamp = lamp || line.present();
    if (line.item == "lamp guard and chain") guard = line.present();
    if (line.state == State::not_needed) continue;
    if (line.past_date || line.runs_out)
      out_of_date.push_back(fmt::format("{} on {}", line.item, say_day(*line.expires)));
    const bool its_time = line.by && *line.by <= today;
    const bool matters = !line.row || line.is("essential");
    if (!its_time || !matters) continue;
    if (line.to_try) untried.push_back(line.item);
    const auto need = value_of(line.need);
    if (line.state == State::missing && need)
      missing.push_back(line.where == record::Keeping::to_make ? line.item + " (to be made)" : line.item);
    if (line.state == State::short_of)
      lacking.push_back(fmt::format("{}: {} of {}", line.item, say(line.have, line.unit), say(*need, line.unit)));
  }
  const auto soon = reference::worst_reached(reference.day_rules, "SUPPLIES_MISSING", left);
  if (soon && !missing.empty())
    out.push_back(found(*soon, "litter",
                        fmt::format("{} not in the house, and {}: {}",
                                    count_of(missing.size(), "thing is", "things are"), when, named(missing)),
                        std::nullopt));
  const auto counted = [&](std::string_view code, const std::vector<std::string>& items, const std::string& because) {
    if (const auto* rule = reference::worst_reached(reference.count_rules, code, static_cast<int>(items.size())))
      out.push_back(found(*rule, "litter", because + named(items), std::nullopt));
  };
  if (soon)
    counted("SUPPLIES_SHORT", lacking,
            fmt::format("for {} pups, as many as 19 litters in 20 have at most: ", plan.litter.at(0.95)));
  counted("SUPPLIES_EXPIRED", out_of_date, "out of date: ");
  if (const auto* rule = reference::worst_reached(reference.day_rules, "SUPPLIES_UNTRIED", left);
      rule && !plan.born && !untried.empty())
    out.push_back(found(*rule, "litter", fmt::format("{}: {}", when, named(untried)), std::nullopt));
  const bool lamp_time = !plan.born || today - *plan.anchor <= std::chrono::days{28};
  if (const auto* rule =
          reference::worst_reached(reference.count_rules, "LAMP_UNGUARDED", lamp && !guard && lamp_time ? 1 : 0))
    out.push_back(found(*rule, "box", "a heat lamp is written down, and no guard and chain for it", std::nullopt));
  return out;
}

}  // namespace lampside::supplies
