// Supplies: what is short, the shopping, everything in the house. The kit check and an item's own page stand beside it.
#include "supplies/plan.hpp"

#include <algorithm>

#include "page/supplies.hpp"

namespace lampside::page {
namespace {

using record::Keeping;
using supplies::Line;
using supplies::State;

constexpr std::array<std::array<std::string_view, 2>, 7> kGroups{{{"birth", "The birth"},
                                                                  {"pups", "The pups"},
                                                                  {"dam", "The dam"},
                                                                  {"house", "The house"},
                                                                  {"car", "The car, to the vet"},
                                                                  {"later", "Later weeks"},
                                                                  {"own", "Your own"}}};

std::string how_many(std::size_t n, std::string_view one, std::string_view many) {
  return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

/// Name, what for, how much; with what follows to the right.
Html row(const View& view, const Line& line, const std::string& amount, const Html& end) {
  return element("li", {{"class", "supply"}},
                 div("words", link(item_href(view, line), text(sentence(line.item)), "supply-name") +
                                  span("amount", text(amount)) + p("hint", text(line.purpose + say_by(view, line)))) +
                     end);
}

Html tick(const View& view, std::string_view name, std::size_t n, const Line& line, Amount have, Keeping where,
          std::string_view label) {
  std::vector<std::pair<std::string, std::string>> fields{
      {"item", line.item}, {"have", say_number(have.count(), 3)}, {"where", std::string(record::name_of(where))}};
  if (line.past_date) fields.emplace_back("cleared", "expires opened");  // what was there was of no use; this is new
  return one_tap(view, std::string(name) + "-" + std::to_string(n), "stock", "", "supplies#" + std::string(name),
                 fields, text(label) + span("unseen", text(", " + line.item)), "button quiet");
}

Html papers(const View& view) {
  const auto both = [&](std::string_view form, std::string_view title) {
    return link(litter_href(view.litter, "paper/" + std::string(form) + ".pdf?size=a4"), text(title), "button quiet") +
           link(litter_href(view.litter, "paper/" + std::string(form) + ".pdf?size=letter"),
                text("US Letter") + span("unseen", text(", " + std::string(title))), "button quiet");
  };
  return div("ends", both("shopping-list", "Print the shopping list")) +
         div("ends", both("packing-list", "Print what goes into the car"));
}

Html shop_day_form(const View& view) {
  Form form{view, "shop-day", "shop_run", "", "supplies#shop"};
  Html days;
  for (const auto& run : view.litter.shop_runs)
    if (run.what.day >= view.litter.zone.day_of(view.now))
      days += element("li", {},
                      text(say_day(run.what.day)) +
                          strike_button(view, run.id, "supplies#shop", "Take out", say_day(run.what.day)));
  if (!days.empty()) days = element("ul", {{"class", "entries"}}, days);
  return fold_away(
      text("Days you go shopping"),
      days + form.finish(div("field-row", form.field("day", "Next shopping on", {.type = "date", .required = true}) +
                                              Form::submit("Save")),
                         "stack"),
      form.refused(), "small");
}

Html shopping_card(const View& view) {
  const auto& plan = view.assessment.supplies;
  const auto trips = supplies::shopping(plan, view.litter.zone.day_of(view.now));
  Html body;
  std::size_t n = 0;
  Cash cost{0};
  std::size_t priced = 0;
  for (const auto& trip : trips) {
    Html rows;
    for (const auto* line : trip.lines) {
      const Amount bought{line->have.count() +
                          (line->packs > 0 ? line->packs * line->pack->count() : line->lacking.count())};
      rows += row(view, *line, say_to_buy(*line), tick(view, "shop", ++n, *line, bought, Keeping::house, "Got it"));
      if (line->cost) cost = cost + *line->cost, ++priced;
    }
    const std::string title = trip.day     ? "On " + say_day(*trip.day)
                              : trip.later ? "Not before two weeks from now"
                                           : "Next time you go";
    const Html list = element("ul", {{"class", "supplies"}}, rows);
    body += trip.later ? fold_away(text(title + " (" + std::to_string(trip.lines.size()) + ")"), list, false, "small")
                       : element("h3", {}, text(title)) + list;
  }
  if (body.empty()) body = p("", text("Nothing is to be bought."));
  if (priced > 0)
    body += p("hint", text("About " + say_cash(cost) + " for the " + how_many(priced, "thing", "things") +
                           " whose price is written down."));
  return element("section", {{"class", "card"}, {"id", "shop"}},
                 h2(text("Shopping")) + body + shop_day_form(view) + papers(view));
}

Html make_card(const View& view) {
  const auto lines = supplies::to_make(view.assessment.supplies);
  if (lines.empty()) return {};
  Html rows;
  std::size_t n = 0;
  for (const auto* line : lines)
    rows +=
        row(view, *line, "", tick(view, "make", ++n, *line, *reference::value_of(line->need), Keeping::house, "Done"));
  return element("section", {{"class", "card"}, {"id", "make"}},
                 h2(text("To be made or done")) + element("ul", {{"class", "supplies"}}, rows));
}

Html top_card(const View& view) {
  const auto& plan = view.assessment.supplies;
  const auto count = [&](auto holds) {
    return static_cast<std::size_t>(std::count_if(plan.lines.begin(), plan.lines.end(), holds));
  };
  const auto missing = count([](const Line& l) { return l.state == State::missing && l.is("essential"); });
  const auto lacking = count([](const Line& l) { return l.state == State::short_of; });
  const auto untried = count([](const Line& l) { return l.to_try; });
  const auto all = supplies::kit(plan);
  const auto since = kit_round(view, "1");
  const auto seen = static_cast<std::size_t>(
      std::count_if(all.begin(), all.end(), [&](const Line* l) { return l->seen && *l->seen >= since; }));
  Html facts = p("big", text(missing == 0 ? "What she will need is in the house"
                                          : how_many(missing, "thing she will need is", "things she will need are") +
                                                " not in the house"));
  std::string more;
  const auto today = view.litter.zone.day_of(view.now);
  const auto late =
      count([&](const Line& l) { return l.state == State::missing && l.is("essential") && l.by && *l.by <= today; });
  if (late > 0)
    more += (late == missing ? "All of them" : std::to_string(late) + " of them") + std::string(" should be by now. ");
  if (lacking > 0) more += how_many(lacking, "thing", "things") + " too few. ";
  if (untried > 0) more += how_many(untried, "thing", "things") + " not tried yet. ";
  if (!more.empty()) facts += p("", text(more));
  if (plan.anchor && !plan.born)
    facts += p("hint", text("Days count from " + say_day(*plan.anchor) + ", when her window opens."));
  if (!plan.anchor) facts += p("hint", text("Without a date for her no day can be told: see Due."));
  const std::string check = seen > 0 && seen < all.size() ? "Go on with the kit check: " + std::to_string(seen) +
                                                                " of " + std::to_string(all.size())
                                                          : "Kit check, two minutes";
  return element("section", {{"class", "card"}},
                 facts + link(litter_href(view.litter, "supplies?check=1"), text(check), "button save"));
}

Html pups_line(const View& view) {
  const auto& litter = view.assessment.supplies.litter;
  const int half = litter.at(0.5), most = litter.at(0.95);
  const std::string numbers =
      half == most ? "Amounts are for " + how_many(static_cast<std::size_t>(half), "pup", "pups")
                   : "Amounts are for " + std::to_string(most) +
                         " pups, which 19 litters in 20 do not exceed; half have at most " + std::to_string(half);
  return fold_away(text(numbers), p("", text(sentence(litter.says) + ".")) + source_line(litter.source), false,
                   "panel");
}

Html carry_card(const View& view) {
  if (view.leftovers_from.empty()) return {};
  Form form{"carry", litter_href(view.litter, "carry"), view.token, fresh_id(view), nullptr};
  form.hidden("from", view.leftovers_from);
  form.hidden("back", "supplies");
  return element(
      "section", {{"class", "card"}},
      h2(text("Left over from " + view.leftovers_from)) +
          p("",
            text("What was left, your own things and your amounts can be taken over. What is out of date is not.")) +
          form.finish(Form::submit("Take it over"), "stack"));
}

/// Begun packs whose label limits their days, and nobody said since when.
Html ask_opened(const View& view) {
  Html rows;
  std::size_t n = 0;
  for (const auto& line : view.assessment.supplies.lines)
    if (line.ask_opened) rows += row(view, line, "", opened_today(view, line, "supplies#opened", ++n));
  if (rows.empty()) return {};
  return element(
      "section", {{"class", "card"}, {"id", "opened"}},
      h2(text("When was it opened?")) +
          p("", text("It keeps only so long once opened. Tap where it was today; else open its page and type "
                     "the day.")) +
          element("ul", {{"class", "supplies"}}, rows));
}

Html all_items(const View& view) {
  const auto& lines = view.assessment.supplies.lines;
  Html out;
  std::size_t taps = 0;
  for (const auto& [group, title] : kGroups) {
    Html rows;
    std::size_t n = 0, there = 0;
    for (const auto& line : lines) {
      if (line.group != group) continue;
      ++n, there += line.state == State::enough || line.state == State::not_needed ? 1 : 0;
      const Html state = span("state state-" + std::string(supplies::name_of(line.state)), text(words_for(line.state)));
      rows += row(view, line, say_have(line),
                  is_used_up(line) ? div("dose-buttons", state + used_one(view, line, "supplies", ++taps)) : state);
    }
    if (n == 0) continue;
    out += fold_away(text(title) + span("hint", text(std::to_string(there) + " of " + std::to_string(n) + " settled")),
                     element("ul", {{"class", "supplies"}}, rows), false, "panel");
  }
  return h2(text("Everything")) + div("panels", out);
}

Html own_form(const View& view) {
  Form form{view, "own-item", "stock", "", "supplies#own"};
  const Html fields =
      form.field("item", "What", {.required = true}) + form.field("purpose", "What for") +
      div("field-row", form.field("need", "How much", {.mode = "decimal"}) +
                           form.field("need_per_pup", "and for each pup", {.mode = "decimal"}) +
                           form.field("unit", "counted in", {.hint = "empty: pieces; or g, kg, rolls"})) +
      div("field-row", form.field("have", "Have now", {.mode = "decimal"}) +
                           form.field("days_before", "Days before her time", {.value = "14", .mode = "numeric"})) +
      form.choice("car", "Goes into the car to the vet", {{"true", "yes"}, {"false", "no"}}) + Form::submit("Add");
  return fold_away(text("Add a thing of your own"),
                   p("hint", text("It stays for your next litter.")) + form.finish(fields, "stack"), form.refused(),
                   "panel", "own");
}

Html vets_own(const View& view) {
  std::string names;
  for (const auto& name : view.assessment.supplies.vets_own) names += (names.empty() ? "" : "; ") + name;
  return p("caution",
           text("Not for a keeper's kit, and never on these lists: " + names + ". Only your vet gives them."));
}

}  // namespace

std::string supplies_page(const View& view) {
  if (const auto check = view.query.find("check"); check != view.query.end()) return kit_page(view);
  if (const auto item = view.query.find("item"); item != view.query.end())
    for (const auto& line : view.assessment.supplies.lines)
      if (line.item == item->second) return item_page(view, line);
  const Html main = carry_card(view) + top_card(view) + ask_opened(view) + pups_line(view) + shopping_card(view) +
                    make_card(view) + all_items(view) + div("panels", own_form(view)) + vets_own(view);
  return page_of(view, {.title = "Supplies", .screen = "supplies", .back = ""}, main);
}

}  // namespace lampside::page
