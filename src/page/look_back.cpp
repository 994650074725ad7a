// Looking back: what this litter came to, its dam's others, and the fact of each that the next forecast reads.
#include "homes/look_back.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

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
  std::string weeks;
  for (const auto& w : back.weeks)
    weeks += fmt::format("{}week {} {}", weeks.empty() ? "" : ", ", w.week, say(w.mean, view.litter.units().weight));
  if (!weeks.empty()) items += line("Growth, the mean pup", weeks);
  if (back.gain) items += line("Gain, day 2 to 21", fmt::format("{:.0f} % of the usual", back.gain->count()));
  for (const auto& [currency, sum] : back.cost) items += line("Cost", say_cash(sum, currency));
  if (back.carried.empty()) items += line("Carried", "cannot be told: no ovulation, surge or mating is written down");
  for (const auto& f : back.foretold)
    items += line(fmt::format("Forecast, {:.0f} day{} before", f.before.count(), f.before.count() == 1 ? "" : "s"),
                  fmt::format("she came {:.0f} h {} its middle, {} its 9 in 10", std::abs(f.late.count()),
                              f.late.count() < 0 ? "before" : "after", f.within ? "inside" : "outside"));
  return element("ul", {{"class", "entries"}}, items);
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
  if (fact.gain_pct) fields.emplace_back("gain_pct", say_number(fact.gain_pct->count(), 0));
  if (fact.weaned) fields.emplace_back("weaned", std::to_string(*fact.weaned));
  return one_tap(view, "earlier-" + back.litter, "earlier_litter", "", "look-back", fields,
                 text("Use it for this litter's forecast"), "button");
}

// ---- a dam's litters side by side -----------------------------------------------------------------------------------

using Tells = std::function<std::string(const homes::LookBack&)>;

Html side_by_side(const View& view, const std::vector<homes::LookBack>& litters) {
  const auto unit = view.litter.units().weight;
  Html head = element("th", {{"scope", "col"}}, text("Litter"));
  for (const auto& b : litters)
    head += element("th", {{"scope", "col"}, {"class", "figure"}},
                    link("/l/" + percent_encode(b.litter) + "/look-back", text(b.litter)));
  Html rows;
  const auto row = [&](const std::string& name, const Tells& tells) {
    Html cells;
    bool any = false;
    for (const auto& b : litters) {
      const auto says = tells(b);
      any = any || !says.empty();
      cells += element("td", {{"class", "figure"}}, text(says.empty() ? "-" : says));
    }
    if (any) rows += element("tr", {}, element("th", {{"scope", "row"}}, text(name)) + cells);
  };
  row("First pup", [&](const auto& b) { return say_day(view.litter.zone.day_of(*b.first)); });
  row("Born alive", [](const auto& b) { return std::to_string(b.born_alive); });
  row("Born dead", [](const auto& b) { return std::to_string(b.stillborn); });
  row("Lost later", [](const auto& b) { return std::to_string(b.losses.size()); });
  row("Seven weeks old", [](const auto& b) { return std::to_string(b.weaned) + (b.all_weaned ? "" : " so far"); });
  row("Birth weight, mean", [&](const auto& b) {
    Grams sum{0};
    for (const auto& w : b.birth_weights) sum = sum + w;
    return b.birth_weights.empty() ? "" : say(sum * (1.0 / static_cast<double>(b.birth_weights.size())), unit);
  });
  for (int week = 1; week <= 8; ++week)
    row("Mean pup, week " + std::to_string(week), [&](const auto& b) {
      for (const auto& w : b.weeks)
        if (w.week == week) return say(w.mean, unit);
      return std::string{};
    });
  row("Twice its birth weight",
      [](const auto& b) { return b.doubled ? fmt::format("day {:.0f}", std::ceil(b.doubled->count())) : ""; });
  row("Gain, usual is 100",
      [](const auto& b) { return b.gain ? fmt::format("{:.0f} %", b.gain->count()) : std::string{}; });
  for (const auto anchor : {record::Anchor::ovulation, record::Anchor::lh_surge, record::Anchor::mating})
    row("Days from " + std::string(words_of(anchor)), [&](const auto& b) {
      for (const auto& c : b.carried)
        if (c.from == anchor) return fmt::format("{:.0f}", c.days.count());
      return std::string{};
    });
  row("Forecast a week before", [](const auto& b) {
    for (const auto& f : b.foretold)
      if (f.before == Days{7}) return fmt::format("{:+.0f} h", f.late.count());
    return std::string{};
  });
  row("Cost", [](const auto& b) {
    std::string out;
    for (const auto& [currency, sum] : b.cost) out += (out.empty() ? "" : ", ") + say_cash(sum, currency);
    return out;
  });
  return element("div", {{"class", "table-box"}, {"tabindex", "0"}, {"role", "region"}, {"aria-label", "Her litters"}},
                 element("table", {{"class", "money"}}, element("tr", {}, head) + rows));
}

std::string say_earlier(const record::EarlierLitter& e) {
  std::string out = fmt::format("{} days from {}", say_number(e.days.count(), 0), words_of(e.from));
  if (e.born_alive) out += fmt::format(", {} born alive", *e.born_alive);
  if (e.stillborn) out += fmt::format(", {} dead", *e.stillborn);
  if (e.weaned) out += fmt::format(", {} weaned", *e.weaned);
  if (e.gain_pct) out += fmt::format(", gain {:.0f} % of the usual", e.gain_pct->count());
  return out;
}

/// What this litter's journal knows of her earlier ones, taken over or typed: the forecasts read nothing else.
Html known_here(const View& view) {
  Html items;
  for (const auto& e : view.litter.earlier)
    items += element(
        "li", {}, span("words", text(say_earlier(e.what))) + span("at", text(say_day(view.litter.zone.day_of(e.at)))));
  Html body = h2(text("What this litter's forecasts know of her"));
  body += items.empty()
              ? p("", text("Nothing yet: on Looking back each earlier litter has a button, or type it on Due."))
              : element("ul", {{"class", "entries"}}, items);
  return element(
      "section", {{"class", "card"}},
      body + p("hint", text("Due leans on how long she carried, Weigh-in on how her pups gained, Supplies on "
                            "how many were born: one litter is hardly heard, several are.")));
}

std::string dam_page(const View& view, const homes::LookBack& here) {
  std::vector<homes::LookBack> litters = view.earlier;
  if (here.first) litters.push_back(here);
  std::sort(litters.begin(), litters.end(), [](const auto& a, const auto& b) { return *a.first < *b.first; });
  Html main;
  if (litters.empty()) {
    main += p("hint", text("No pup of hers is born yet: her litters will stand here side by side."));
  } else {
    main += element("section", {{"class", "card"}}, side_by_side(view, litters));
    std::map<std::string, int> causes;
    for (const auto& b : litters)
      for (const auto& loss : b.losses)
        ++causes[fmt::format("{}, {}",
                             loss.day < 2    ? "before day 2"
                             : loss.day < 7  ? "in the first week"
                             : loss.day < 21 ? "before three weeks"
                                             : "later",
                             loss.cause.empty() ? "cause not written down" : loss.cause)];
    Html lost;
    for (const auto& [what, n] : causes) lost += line(sentence(what), std::to_string(n));
    if (!lost.empty())
      main += element("section", {{"class", "card"}},
                      h2(text("Lost, by age and cause")) + element("ul", {{"class", "entries"}}, lost));
  }
  main += known_here(view) +
          div("ends", link(litter_href(view.litter, "look-back"), text("To this litter"), "button quiet"));
  return page_of(view, {.title = "Her litters: " + here.dam, .screen = "look-back", .back = "look-back?dam=1"}, main);
}

}  // namespace

std::string look_back_page(const View& view) {
  const auto here = homes::look_back(view.litter, reference::built_in(), view.now);
  if (view.query.contains("dam")) return dam_page(view, here);
  Html main;
  if (here.first) {
    main += element("section", {{"class", "card"}}, h2(text("This litter"), "this") + facts(view, here));
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
  main +=
      div("ends", link(litter_href(view.litter, "look-back?dam=1"), text("All her litters side by side"), "button") +
                      link(litter_href(view.litter, "homes"), text("To Homes"), "button quiet"));
  return page_of(view, {.title = "Looking back", .screen = "look-back", .back = ""}, main);
}

}  // namespace lampside::page
