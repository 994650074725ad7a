// Looking back: what this litter came to, its dam's others, and the fact of each that the next forecast reads.
#include "homes/look_back.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "homes/money.hpp"
#include "page/parts.hpp"

namespace lampside::page {
namespace {

std::string_view words_of(record::Anchor anchor) {
  switch (anchor) {
    case record::Anchor::ovulation:
      return "ovulation";
    case record::Anchor::lh_surge:
      return "the LH surge";
    case record::Anchor::mating:
      return "the first mating";
  }
  return {};
}

Html line(std::string_view name, const std::string& says) {
  return element("li", {}, span("words", text(name)) + span("at", text(says)));
}

std::string weights_said(const View& view, const std::vector<Grams>& weights) {
  if (weights.empty()) return "none written down";
  Grams sum{0};
  for (const auto& w : weights) sum = sum + w;
  const auto [least, most] = std::minmax_element(weights.begin(), weights.end());
  const auto unit = view.litter.units().weight;
  return fmt::format("{} to {}, mean {}, of {} pups", say(*least, unit), say(*most, unit),
                     say(sum * (1.0 / static_cast<double>(weights.size())), unit), weights.size());
}

Html facts(const View& view, const homes::LookBack& back) {
  Html items;
  items += line("Born", fmt::format("{}: {} alive, {} dead", back.born, back.born_alive, back.stillborn));
  items += line("Reached seven weeks", fmt::format("{}{}", back.weaned, back.all_weaned ? "" : " so far"));
  for (const auto& loss : back.losses)
    items += line("Lost", fmt::format("pup {} on day {}: {}", loss.pup, loss.day,
                                      loss.cause.empty() ? "cause not written down" : loss.cause));
  items += line("Birth weights", weights_said(view, back.birth_weights));
  items += line(
      "Twice the birth weight",
      back.doubled ? fmt::format("the middle pup on day {:.0f}", std::ceil(back.doubled->count())) : "not seen yet");
  for (const auto& carried : back.carried)
    items += line("Carried", fmt::format("{:.0f} days from {}", carried.days.count(), words_of(carried.from)));
  if (back.carried.empty()) items += line("Carried", "cannot be told: no ovulation, surge or mating is written down");
  for (const auto& f : back.foretold)
    items += line(fmt::format("Forecast, {:.0f} day{} before", f.before.count(), f.before.count() == 1 ? "" : "s"),
                  fmt::format("she came {:.0f} h {} its middle, {} its 9 in 10", std::abs(f.late.count()),
                              f.late.count() < 0 ? "before" : "after", f.within ? "inside" : "outside"));
  return element("ul", {{"class", "entries"}}, items);
}

Html cost(const record::Litter& litter, Instant now) {
  Html items;
  for (const auto& total : homes::ledger(litter, now).totals)
    items += line("Cost", say_cash(total.cost, total.currency));
  return items.empty() ? items : element("ul", {{"class", "entries"}}, items);
}

/// What an earlier litter taught, into this one's journal by one tap: the next forecast and the litter size read it.
Html take_over(const View& view, const homes::LookBack& back) {
  if (!back.for_the_next) return {};
  if (homes::taken_over(view.litter, back)) return p("hint", text("This litter's forecast knows of it."));
  const auto& fact = *back.for_the_next;
  std::vector<std::pair<std::string, std::string>> fields{
      {"from", std::string(fact.from == record::Anchor::ovulation  ? "ovulation"
                           : fact.from == record::Anchor::lh_surge ? "lh_surge"
                                                                   : "mating")},
      {"days", say_number(fact.days.count(), 0)},
      {"born_alive", std::to_string(*fact.born_alive)},
      {"stillborn", std::to_string(*fact.stillborn)},
      {"at", wall_clock(view.litter.zone, *back.first)}};
  if (fact.weaned) fields.emplace_back("weaned", std::to_string(*fact.weaned));
  return one_tap(view, "earlier-" + back.litter, "earlier_litter", "", "look-back", fields,
                 text("Use it for this litter's forecast"), "button");
}

}  // namespace

std::string look_back_page(const View& view) {
  const auto here = homes::look_back(view.litter, reference::built_in(), view.now);
  Html main;
  if (here.first) {
    main += element("section", {{"class", "card"}},
                    h2(text("This litter"), "this") + facts(view, here) + cost(view.litter, view.now));
  } else {
    main += p("hint", text("No pup is born yet: what this litter came to will stand here."));
  }
  int born = 0, weaned = 0;
  for (const auto& back : view.earlier) {
    born += back.born, weaned += back.weaned;
    main += element("section", {{"class", "card"}},
                    h2(link("/l/" + percent_encode(back.litter) + "/look-back", text(back.litter))) +
                        facts(view, back) + take_over(view, back));
  }
  if (!view.earlier.empty())
    main += p("hint", text(fmt::format("{} in all: {} litters before this one, {} born, {} reached seven weeks.",
                                       here.dam, view.earlier.size(), born, weaned)));
  return page_of(view, {.title = "Looking back", .screen = "look-back", .back = ""}, main);
}

}  // namespace lampside::page
