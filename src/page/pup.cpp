// The page of one pup: its story in weights, and everything that can be written down about it.
#include <algorithm>
#include <array>
#include <cmath>

#include "page/charts.hpp"
#include "page/homes.hpp"
#include "page/icons.hpp"
#include "page/nest.hpp"
#include "page/pictures.hpp"
#include "page/pups.hpp"
#include "reference/rules.hpp"

namespace lampside::page {
namespace {

std::string back_to(const record::Pup& pup) { return "pup?label=" + percent_encode(pup.label); }

/// "the lightest of 10 in the box", "7th of 10 in the box by weight".
std::string place_said(const growth::Place& place) {
  const std::string of = " of " + std::to_string(place.of) + " in the box";
  if (place.place == 1) return "the heaviest" + of;
  if (place.place == place.of) return "the lightest" + of;
  static constexpr std::array<std::string_view, 4> kEnds{"th", "st", "nd", "rd"};
  const auto last = static_cast<std::size_t>(place.place % 10);
  const bool teens = place.place >= 11 && place.place <= 13;
  return std::to_string(place.place) + std::string(kEnds[teens || last > 3 ? 0 : last]) + of + " by weight";
}

Html about_card(const View& view, const record::Pup& pup) {
  const auto& b = pup.birth.what;
  Html bits = text(pup.born_alive() ? "Born " : "Born dead ") + time_and_ago(view, pup.birth.at);
  if (b.sex) bits += text(", " + std::string(words_for(*b.sex)));
  if (b.markings && !b.markings->empty()) bits += text(", " + *b.markings);
  Html body = p("turn-name", pup_name(pup)) + p("", bits);
  if (pup.death) {
    body += p("", text("Died ") + time_of(view, pup.death->at) +
                      text(pup.death->what.cause ? ", " + *pup.death->what.cause : ""));
  } else if (pup.departure) {
    body += p("", text("Left ") + time_of(view, pup.departure->at) +
                      text(pup.departure->what.to ? ", to " + say_where_to(view, *pup.departure->what.to) : ""));
  }
  if (const auto* s = standing_of(view, pup.label); s != nullptr && pup.born_alive()) {
    body += p("pup-weight", last_weight(view, *s));
    body += p("pup-gain", gain_said(view, *s));
    if (const auto* gain = reference::value_of(s->gain))
      body += p("hint", text(say_number(gain->g_per_day, 0) + " g a day, " + say(gain->per_day) +
                             " a day between these two weighings"));
    // What foresees a gain never stands beside a finding that asks for a hand: it would be read as a reason to wait.
    const bool calm = s->level > reference::Level::act;
    if (const auto* pace = reference::value_of(s->pace))
      body +=
          p("hint", text((calm ? "Pace, seen through the noise of weighing: " + say(pace->per_day) + " a day; chance"
                               : std::string("Chance")) +
                         " that its pace is too slow for its age " +
                         say_number(std::round(100 * pace->chance_slow), 0) + " %"));
    std::string stands;
    if (s->place && s->place->of > 1) stands = place_said(*s->place);
    if (const auto* d = reference::value_of(s->doubled))
      stands += (stands.empty() ? "" : "; ") +
                std::string(d->foreseen ? "twice its birth weight expected " : "twice its birth weight on ") +
                say_day(view.litter.zone.day_of(d->at)) + ", day " +
                say_number(std::floor(reference::days_between(pup.birth.at, d->at)), 0);
    if (!stands.empty()) body += p("hint", text(sentence(stands)));
    if (const auto* pace = reference::value_of(s->pace); pace && !pace->ahead.empty() && pup.in_box() && calm)
      body += p("hint", text("Tomorrow about " + say(pace->ahead.front(), view.litter.units().weight)));
    if (s->weigh_next && pup.in_box())
      body +=
          p("hint", text("Weigh next ") + (*s->weigh_next <= view.now ? text("now") : at_time(view, *s->weigh_next)));
    if (const auto* since = reference::value_of(s->since_birth)) body += p("hint", text(say(*since) + " since birth"));
    if (const auto* birth = reference::value_of(s->birth_class)) {
      const std::string_view word = *birth == growth::BirthClass::normal ? "normal"
                                    : *birth == growth::BirthClass::low  ? "low"
                                                                         : "very low";
      body += p("hint", text("Birth weight for the breed: " + std::string(word)));
    }
  }
  if (!pup.scores.empty()) body += p("hint", score_said(view, pup));
  if (!pup.temperatures.empty()) {
    const auto& t = pup.temperatures.back();
    body += p("hint", text("Temperature " + say(t.what.celsius, view.litter.units().temperature) + " ") +
                          time_and_ago(view, t.at));
  }
  if (!pup.feeds.empty()) {
    const auto& f = pup.feeds.back();
    body += p("hint", text("Fed " + say_number(f.what.ml.count(), 1) + " ml ") + time_and_ago(view, f.at));
  }
  return element("section", {{"class", "card"}}, body);
}

/// The form that writes a corrected reading over one entry, keeping its moment.
Html correction(const View& view, const record::Pup& pup, const std::string& kind, const record::EntryId& id,
                Instant at, const std::string& value) {
  Form form{view, "correct", kind, pup.label, back_to(pup), id};
  const bool weight = kind == "weight";
  form.hidden("unit", unit_word(view.litter.units().weight));
  const std::string unit = weight ? unit_word(view.litter.units().weight) : unit_word(view.litter.units().temperature);
  return form.finish(
      form.field("reading", "It should read, " + unit, {.value = value, .mode = "decimal", .required = true}) +
          form.when("When", wall_clock(view.litter.zone, at)) + Form::submit("Correct it"),
      "stack correct");
}

std::string asked_to_correct(const View& view) {
  if (const auto it = view.query.find("correct"); it != view.query.end()) return it->second;
  if (view.problem)
    if (const auto it = view.typed.find("corrects"); it != view.typed.end()) return it->second;
  return "";
}

/// Beyond these many the rows are to read; changing them is done in the log, which turns to their day.
constexpr std::size_t kRowsToChange = 28;
constexpr std::size_t kTemperatures = 12;
/// Of a long curve the last weeks are enough.
bool rows_shown(std::size_t all, std::size_t i) { return i + kRowsToChange * 2 >= all; }

Html weights_table(const View& view, const record::Pup& pup) {
  if (pup.weights.empty()) return p("hint", text("No weight yet."));
  const auto unit = view.litter.units().weight;
  const std::string correct = asked_to_correct(view);
  Html rows;
  for (std::size_t i = pup.weights.size(); i-- > 0;) {
    const auto& w = pup.weights[i];
    Html change = text("");
    if (i > 0) {
      const auto& before = pup.weights[i - 1];
      const Grams difference = w.what.grams - before.what.grams;
      change = span(difference.count() < 0 ? "change lost" : "change", text(say_change(difference, unit)));
    }
    const bool is_birth = w.id == pup.birth.id;
    Html tail;
    if (is_birth) {
      tail = link("#details", text("birth weight"));
    } else if (w.id == correct) {
      tail = correction(view, pup, "weight", w.id, w.at, say(w.what.grams, unit));
    } else if (i + kRowsToChange < pup.weights.size()) {
      tail = link(litter_href(view.litter, "log?until=" + to_iso(view.litter.zone.day_of(w.at))),
                  text("Log") + span("unseen", text(" of " + say_when(view, w.at))), "log-link");
    } else {
      const std::string said = say(w.what.grams, unit) + ", " + say_when(view, w.at);
      tail = change_row(said,
                        link(litter_href(view.litter, back_to(pup) + "&correct=" + percent_encode(w.id)) + "#correct",
                             text("Correct") + span("unseen", text(": " + said)), "button quiet") +
                            strike_button(view, w.id, back_to(pup), "Strike out", said));
    }
    Html by = w.by.empty() ? Html{} : text(w.by);
    if (w.what.tare_g && w.what.tare_g->count() > 0)
      by += span("tub-said", text(" tub " + say(*w.what.tare_g, unit) + " off"));
    if (!w.note.empty()) by += span("note", text(" " + w.note));
    rows +=
        element("tr", {},
                element("td", {}, time_of(view, w.at)) +
                    element("td", {{"class", "number"}}, text(say(w.what.grams, unit))) + element("td", {}, change) +
                    element("td", {{"class", "by"}}, by) + element("td", {{"class", "row-ends"}}, tail));
  }
  const Html head =
      element("tr", {},
              element("th", {{"scope", "col"}}, text("When")) + element("th", {{"scope", "col"}}, text("Weight")) +
                  element("th", {{"scope", "col"}}, text("Since the one before")) +
                  element("th", {{"scope", "col"}}, text("By")) +
                  element("th", {{"scope", "col"}}, span("unseen", text("Change"))));
  return div("table-box",
             element("table", {{"class", "weights"}}, element("thead", {}, head) + element("tbody", {}, rows)));
}

/// What lies behind the readings: percent of the birth weight and gain a day, drawn and as a table.
Html more_charts(const View& view, const record::Pup& pup) {
  const auto* standing = standing_of(view, pup.label);
  if (standing == nullptr || standing->curve.size() < 3) return {};
  const auto unit = view.litter.units().weight;
  const auto& curve = standing->curve;
  Html rows;
  for (std::size_t i = curve.size(); i-- > 0;) {
    if (!rows_shown(curve.size(), i)) break;
    const auto& point = curve[i];
    const Percent of_first{100 * (point.weight / pup.weights.front().what.grams)};
    rows += element(
        "tr", {},
        element("td", {}, time_of(view, point.at)) +
            element("td", {{"class", "number"}}, text(say(point.weight, unit) + " ± " + say(point.sd * 2.0, unit))) +
            element("td", {{"class", "number"}}, text(say_number(of_first.count(), 0) + " %")) +
            element("td", {{"class", "number"}},
                    text(point.g_per_day ? say_change(Grams{*point.g_per_day}, unit) : "")));
  }
  Html head;
  for (const std::string_view name : {"When", "Weight behind the readings", "Of the first weight", "A day"})
    head += element("th", {{"scope", "col"}}, text(name));
  const Html table =
      div("table-box", element("table", {{"class", "weights"}},
                               element("thead", {}, element("tr", {}, head)) + element("tbody", {}, rows)));
  return fold_away(text("Percent of the birth weight, gain a day"),
                   weight_chart(view, pup.label, draw::Shows::percent_of_first) +
                       weight_chart(view, pup.label, draw::Shows::gain_a_day) +
                       p("hint", text("Seen through the noise of weighing, with every round before and after. ± holds "
                                      "the true weight 19 times in 20.")) +
                       table,
                   false, "panel", "more-charts");
}

Html temperatures(const View& view, const record::Pup& pup) {
  Html rows;
  std::size_t shown = 0;
  for (auto it = pup.temperatures.rbegin(); it != pup.temperatures.rend() && shown < kTemperatures; ++it, ++shown)
    rows += element("li", {},
                    element("b", {}, text(say(it->what.celsius, view.litter.units().temperature))) +
                        span("at", time_of(view, it->at)) +
                        change_row(say_when(view, it->at),
                                   strike_button(view, it->id, back_to(pup), "Strike out", say_when(view, it->at))));
  if (rows.empty()) return {};
  Html out = element("ul", {{"class", "readings"}}, rows);
  if (pup.temperatures.size() > kTemperatures)
    out += p("hint", link(litter_href(view.litter, "log"), text("Earlier ones are in the log")));
  return out;
}

Html feed_form(const View& view, const record::Pup& pup) {
  Form form{view, "feed", "feed", pup.label, back_to(pup)};
  const Html fields =
      form.choice("by", "How", {{"bottle", "Bottle"}, {"syringe", "Syringe"}, {"tube", "Tube"}, {"spoon", "Spoon"}}, "",
                  true) +
      form.field("ml", "Millilitres", {.mode = "decimal", .required = true}) + form.when_folded() + form.note() +
      Form::submit("Save the feed");
  return p("caution", text("Never feed a cold pup: warm it first. Tube feeding only as your vet has shown you.")) +
         form.finish(fields, "stack");
}

Html death_form(const View& view, const record::Pup& pup) {
  Form form{view, "death", "death", pup.label, back_to(pup)};
  return form.finish(form.field("cause", "Cause, if known") + form.when() + form.note() + Form::submit("Write it down"),
                     "stack");
}

/// To whom is a family of the list: names stay out of the journal.
Html departure_form(const View& view, const record::Pup& pup) {
  Form form{view, "departure", "departure", pup.label, back_to(pup)};
  std::vector<Option> families{{"", "Not on the list"}};
  std::string holds;
  for (const auto& f : view.assessment.homes.families) {
    families.push_back({f.family, sentence(say_family(view, f.family))});
    if (f.pup == pup.label) holds = f.family;
  }
  const Html to = families.size() > 1 ? form.choice("to", "To whom", families, holds)
                                      : p("hint", text("To whom: put the family on the list of Homes first."));
  return form.finish(to + form.when() + form.note(std::string(kNoNames)) + Form::submit("Write it down"), "stack");
}

Html neighbours(const View& view, const record::Pup& pup) {
  Html items;
  for (const auto& other : view.litter.pups) {
    Attributes attributes{{"href", pup_href(view.litter, other)}, {"class", "dot"}, {"aria-label", say_pup(other)}};
    if (&other == &pup) attributes.emplace_back("aria-current", "page");
    items += element("li", {}, element("a", attributes, swatch(other.collar()) + text(other.label)));
  }
  return element("nav", {{"class", "progress"}, {"aria-label", "Pups"}}, element("ol", {{"class", "dots"}}, items));
}

}  // namespace

std::string pup_page(const View& view, const record::Pup& pup) {
  Html main = neighbours(view, pup);
  Html cards;
  for (const auto& f : view.assessment.findings)
    if (f.about == pup.label) cards += finding_card(view, f);
  if (!cards.empty()) cards = element("h2", {{"class", "unseen"}}, text("What needs a hand")) + div("cards", cards);
  main += live("urgent", cards);
  main += live("doubts", doubts_asked(view, pup.label, back_to(pup)));
  main += live("about", about_card(view, pup));
  const auto* milk = view.assessment.feeding.of(pup.label);
  const Html by_hand = milk ? feeding_card(view, *milk, back_to(pup)) : Html{};
  main += by_hand;
  if (pup.in_box()) {
    main +=
        element("section", {{"class", "card"}},
                h2(text("Temperature")) + temperature_form(view, "pup-temperature", pup.label, "Rectal", back_to(pup)) +
                    temperatures(view, pup));
  }
  main += element("section", {{"class", "card"}},
                  h2(text("Weights")) + live("chart", weight_chart(view, pup.label)) +
                      live("weights", weights_table(view, pup)) + live("more-charts", more_charts(view, pup)));

  main += pictures_card(view, pup);
  if (pup.born_alive() && !pup.death) main += papers_card(view, pup);

  Html panels;
  const auto panel = [&](std::string_view title, const Html& form, std::string_view id, bool open = false) {
    panels += fold_away(text(title), form, open, "panel", id);
  };
  const bool refused_birth = view.problem && view.typed.count("kind") != 0 && view.typed.at("kind") == "birth";
  panel("Details: sex, collar, birth weight", birth_form(view, pup, back_to(pup)), "details", refused_birth);
  if (pup.in_box()) {
    if (const Html score = score_form(view, pup, back_to(pup)); !score.empty()) panel("Newborn score", score, "score");
    panel("A feed", feed_form(view, pup), "feed-panel");
    if (milk && by_hand.empty())
      panel("Milk by hand: none, top-up, all", hand_feeding_form(view, *milk, back_to(pup)), "by-hand");
    panel("This pup died", death_form(view, pup), "death-panel");
    panel("This pup left for its home", departure_form(view, pup), "departure-panel");
  }
  panels += follow_up_panel(view, pup);
  main += div("panels", panels);
  return page_of(view, {.title = "Pup " + pup.label, .screen = "pup", .back = back_to(pup)}, main);
}

}  // namespace lampside::page
