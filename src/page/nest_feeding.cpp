// Nest: milk by hand. How much now, the printed lines side by side, what forbids it, one tap to write it down.
#include <algorithm>

#include "page/nest.hpp"
#include "reference/tables.hpp"

namespace lampside::page {
namespace {

using nest::PupFeeding;
using nest::Ration;
using record::FeedShare;
using record::FeedWay;
using record::Sign;
using reference::value_of;

Html p_text(const std::string& words, std::string_view cls = "") { return p(cls, text(words)); }
std::string ml(Millilitres v) { return say_number(v.count(), v.count() < 3 ? 2 : 1) + " ml"; }

std::string_view share_words(FeedShare share) {
  switch (share) {
    case FeedShare::none:
      return "not fed by hand";
    case FeedShare::top_up:
      return "topped up by hand, half of its milk";
    case FeedShare::full:
      return "all its milk by hand";
  }
  return "";
}

/// What several sources say on a topic, each with its name.
Html sayings(std::string_view topic) {
  Html items;
  for (const auto* s : reference::sayings_on(reference::built_in(), topic))
    items += element("li", {}, text(s->says) + source_line(s->source));
  return element("ul", {{"class", "sayings"}}, items);
}

Html sign_tap(const View& view, const PupFeeding& p, std::string_view back, Sign sign, bool quiet) {
  const std::string name(record::name_of(sign));
  return one_tap(view, name + "-" + p.label, "sign", p.label, back, {{"sign", name}},
                 text(words_for(sign)) + span("unseen", text(", pup " + p.label)), quiet ? "button quiet" : "button");
}

/// What stands against a feed, each with the tap that takes it away.
Html stops(const View& view, const PupFeeding& p, std::string_view back) {
  Html out;
  for (const auto& stop : p.stops) {
    Html way_out;
    if (stop.code == "FEED_TAUT") way_out = sign_tap(view, p, back, Sign::belly_soft, true);
    if (stop.code == "FEED_NO_SUCK") way_out = sign_tap(view, p, back, Sign::sucks_well, true);
    if (stop.code == "FEED_COLD")
      way_out = link(litter_href(view.litter, "pup?label=" + percent_encode(p.label)) + "#pup-temperature",
                     text("Write its temperature down"), "button quiet");
    if (stop.code == "FEED_TUBE")
      way_out = link(litter_href(view.litter, "nest") + "#tube", text("Write down who showed you"), "button quiet");
    out += div("feed-stop", p_text(sentence(stop.why)) + way_out);
  }
  return out;
}

Html lines_table(const nest::Plan& plan) {
  Html rows;
  const auto row = [&](std::string_view name, const Ration& r, bool now) {
    rows +=
        element("tr", now ? Attributes{{"class", "followed"}} : Attributes{},
                element("th", {{"scope", "row"}}, text(name)) + element("td", {{"class", "number"}}, text(ml(r.day))) +
                    element("td", {{"class", "number"}}, text(std::to_string(r.feeds) + " × " + ml(r.each))) +
                    element("td", {{"class", "number"}}, text(say_number(r.kcal.count(), 0) + " kcal")));
  };
  row("Low line", plan.low, false);
  row("Today", plan.today, true);
  row("High line", plan.high, false);
  Html head;
  for (const std::string_view name : {"", "A day", "Feeds", "Energy"})
    head += element("th", {{"scope", "col"}}, name.empty() ? span("unseen", text("Line")) : text(name));
  return div("table-box", element("table", {{"class", "feed-lines"}},
                                  element("thead", {}, element("tr", {}, head)) + element("tbody", {}, rows)));
}

Html amount_said(const View& view, const PupFeeding& p, const nest::Plan& plan) {
  const auto& r = plan.today;
  std::string said = std::to_string(r.feeds) + " feeds a day; its stomach takes " + ml(r.room);
  if (r.room_binds) said += ", which is why there are more of them";
  Html out = p_text(sentence(said) + ". " + sentence(plan.rise_says) + ".", "hint");
  out += p_text("Worked out for " + say(plan.weight.grams, view.litter.units().weight) +
                    (plan.weight.smoothed ? " by all its weighings, last " : ", weighed ") +
                    say_at(view, plan.weight.weighed) + ". Down from " + ml(r.exact) + " to a mark of the syringe.",
                "hint");
  if (!p.temperature_at || view.now - *p.temperature_at >= nest::kPupReadingLasts)
    out += p_text(p.temperature_at ? "Temperature last taken " + say_at(view, *p.temperature_at) + ": feel it first."
                                   : std::string("Its temperature was never taken: take it first."),
                  "caution");
  return out;
}

Html fed_said(const PupFeeding& p, const nest::Plan* plan) {
  if (p.fed.feeds == 0) return {};
  std::string said = "In 24 hours " + std::to_string(p.fed.feeds) + (p.fed.feeds == 1 ? " feed, " : " feeds, ") +
                     ml(p.fed.ml) + ", " + say_number(p.fed.kcal.count(), 0);
  if (plan) said += " of " + say_number(plan->today.kcal.count(), 0);
  said += " kcal";
  if (p.fed.without_energy > 0)
    said += "; of " + std::to_string(p.fed.without_energy) + " the milk is not known, they are not counted in kcal";
  return p_text(said + ".");
}

Html given_taps(const View& view, const PupFeeding& p, const nest::Plan& plan, std::string_view back) {
  const auto* milk = value_of(view.assessment.feeding.milk);
  std::vector<std::pair<std::string, std::string>> fields{{"ml", say_number(plan.today.each.count(), 3)}};
  if (milk) fields.emplace_back("kcal_ml", say_number(milk->density.count(), 4));
  Html out;
  const auto tap = [&](FeedWay way, std::string_view cls) {
    auto all = fields;
    all.emplace_back("by", std::string(record::name_of(way)));
    const std::string words = "Given " + ml(plan.today.each) + " by " + std::string(record::name_of(way));
    out += one_tap(view, "fed-" + std::string(record::name_of(way)) + "-" + p.label, "feed", p.label, back, all,
                   text(words) + span("unseen", text(", pup " + p.label)), cls);
  };
  if (p.way && *p.way != FeedWay::nursing) {
    tap(*p.way, "button");
  } else {
    tap(FeedWay::bottle, "button");
    tap(FeedWay::syringe, "button quiet");
  }
  return out;
}

Html other_amount(const View& view, const PupFeeding& p, std::string_view back) {
  Form form{view, "other-feed-" + p.label, "feed", p.label, std::string(back)};
  if (const auto* milk = value_of(view.assessment.feeding.milk))
    form.hidden("kcal_ml", say_number(milk->density.count(), 4));
  return form.finish(
      form.field("ml", "What it took, ml", {.mode = "decimal", .required = true}) +
          form.choice("by", "How", {{"bottle", "Bottle"}, {"syringe", "Syringe"}, {"tube", "Tube"}, {"spoon", "Spoon"}},
                      p.way ? std::string(record::name_of(*p.way)) : "", true) +
          form.when_folded() + form.note() + Form::submit("Write it down"),
      "stack");
}

Html colostrum_said(const View& view, const PupFeeding& p) {
  if (!p.colostrum) return {};
  const auto& c = *p.colostrum;
  std::string said = c.suckled ? "First milk was taken. " : "No first milk is written down. ";
  said += "Its gut begins to close " + say_at(view, c.closing) + "; the window ends " + say_at(view, c.ends_early) +
          " by one source, " + say_at(view, c.ends_late) + " by another";
  if (c.meal.count() > 0) said += ". A meal of her first milk is " + ml(c.meal) + ", and two are wanted";
  return p_text(said + ". Milk powder holds none of what it guards with.", c.suckled ? "hint" : "caution");
}

std::string number_of(const auto& n) { return n ? say_number(n->count(), 3) : std::string{}; }

Html milk_form(const View& view) {
  const auto* label = nest::milk_label(view.litter, view.now);
  const record::Milk none{};
  const record::Milk& m = label ? label->what : none;
  Form form{view, "tin", "milk", "", "nest#milk"};
  const Html fields =
      form.field("name", "What you call it", {.value = m.name, .required = true}) +
      form.field("kcal_ml", "kcal in 1 ml, mixed as the tin says",
                 {.value = number_of(m.kcal_ml),
                  .hint = "From the tin, mostly 0.7 to 1.8. Is it in kJ? Divide by 4.18. For 100 ml? Divide by 100.",
                  .mode = "decimal"}) +
      p_text("Or, where the tin does not say it, and for mixing:", "hint") +
      div("field-row", form.field("powder_g", "Powder, g", {.value = number_of(m.powder_g), .mode = "decimal"}) +
                           form.field("water_ml", "in water, ml", {.value = number_of(m.water_ml), .mode = "decimal"}) +
                           form.field("powder_kcal_g", "kcal in 1 g of powder",
                                      {.value = m.powder_kcal_g ? say_number(*m.powder_kcal_g, 3) : "",
                                       .hint = "540 kcal in 100 g are 5.4",
                                       .mode = "decimal"})) +
      Form::submit("Save the milk");
  return form.finish(fields, "stack");
}

Html milk_card(const View& view) {
  const auto& milk = view.assessment.feeding.milk;
  Html body;
  if (const auto* known = value_of(milk)) {
    body = p("", element("b", {}, text(known->name)) +
                     text(", " + say_number(known->density.count(), 2) + " kcal in 1 ml" +
                          (known->worked_out ? ", worked out from powder and water" : ", as the tin says")));
    const auto* label = nest::milk_label(view.litter, view.now);
    double all = 0;
    for (const auto& f : view.assessment.feeding.pups)
      if (const auto* plan = value_of(f.plan); plan && f.keepers && f.stops.empty())
        all += plan->today.each.count() * plan->today.feeds;
    if (all > 0) {
      std::string said = "All hand-fed pups together drink " + ml(Millilitres{all}) + " a day";
      if (const auto mix = nest::to_mix(label->what, Millilitres{all}, reference::built_in()))
        said += ": " + say_number(mix->powder.count(), 0) + " g of powder in " + say_number(mix->water.count(), 0) +
                " ml of water";
      body += p_text(said + ".");
    }
    body += fold_away(text("Another milk, or another figure"), milk_form(view), false, "small");
  } else {
    body = p_text(sentence(std::get<reference::NotAssessed>(milk).why) + ".", "caution") + milk_form(view);
  }
  return element("section", {{"class", "card"}, {"id", "milk"}}, element("h3", {}, text("The milk")) + body);
}

Html tube_panel(const View& view) {
  const auto& shown = view.assessment.feeding.tube_shown_by;
  Html body = p_text(
      "A tube in the windpipe drowns a pup. Only with this pup, this tube and this mark as your vet has "
      "shown you.",
      "caution");
  body += element("h3", {}, text("How long: the sources contradict each other")) + sayings("tube_length");
  body += element("h3", {}, text("How thick")) + sayings("tube_size") + element("h3", {}, text("How")) +
          sayings("tube_place");
  Form form{view, "tube-shown", "care_choice", "", "nest#tube"};
  form.hidden("topic", "tube_feeding");
  form.hidden("set", "shown");
  if (shown)
    body += p_text("Shown by " + *shown + ".") + one_tap(view, "tube-not-shown", "care_choice", "", "nest#tube",
                                                         {{"topic", "tube_feeding"}, {"set", "not_shown"}},
                                                         text("Take this back"), "button quiet");
  else
    body += form.finish(
        form.field("vet", "Which vet has shown you", {.required = true}) + Form::submit("Write it down"), "stack");
  return fold_away(text("Feeding by tube"), body, form.refused(), "panel", "tube");
}

Html line_panel(const View& view) {
  Form form{view, "feeding-line", "care_choice", "", "nest#line"};
  form.hidden("topic", "feeding_line");
  Html beside;
  for (const auto& row : reference::built_in().feeding_energy)
    if (row.line == "beside") {
      const bool range = row.most_kcal_100g != row.kcal_100g;
      beside += element("li", {},
                        text("Day " + say_number(row.from_d.count(), 0) + " to " + say_number(row.to_d.count(), 0) +
                             ": " + say_number(row.kcal_100g.count(), 1) +
                             (range ? " to " + say_number(row.most_kcal_100g.count(), 1) : "") +
                             " kcal for each 100 g a day" + (row.note.empty() ? "" : ", " + std::string(row.note))) +
                            source_line(row.source));
    }
  return fold_away(text("How much: the lines, and who says what"),
                   sayings("feed_energy") +
                       form.finish(form.choice("set", "Which line to follow",
                                               {{"rise", "from the low line to the high one in three days"},
                                                {"low", "stay on the low line"},
                                                {"high", "the high line at once"}},
                                               view.assessment.feeding.line, true) +
                                       Form::submit("Save"),
                                   "stack") +
                       element("h3", {}, text("Others, not followed")) + element("ul", {{"class", "sayings"}}, beside),
                   form.refused(), "panel", "line");
}

Html books_panel() {
  Html body;
  for (const auto& [topic, title] : {std::pair{"feed_decide", "Which pup"},
                                     {"feed_cold", "Warm first"},
                                     {"feed_suck", "Only if it sucks"},
                                     {"feed_position", "How to hold it"},
                                     {"feed_milk", "The milk"},
                                     {"belly_taut", "A taut belly"},
                                     {"loose_stool", "Loose stool: ask your vet"},
                                     {"feed_after", "Afterwards"},
                                     {"colostrum", "The first day"}})
    body += element("h3", {}, text(title)) + sayings(topic);
  return fold_away(text("How to feed: what the sources say"), body, false, "panel", "how");
}

bool shown(const PupFeeding& p) {
  return p.share != FeedShare::none || p.advised != FeedShare::none ||
         std::any_of(p.stops.begin(), p.stops.end(), [](const auto& s) { return s.code != "FEED_COLD"; });
}

}  // namespace

Html hand_feeding_form(const View& view, const PupFeeding& pup, std::string_view back) {
  Form form{view, "hand-feeding-" + pup.label, "hand_feeding", pup.label, std::string(back)};
  return form.finish(
      form.choice("share", "Milk by hand",
                  {{"none", "None"}, {"top_up", "Top-up: half, it nurses besides"}, {"full", "All its milk"}},
                  pup.keepers ? std::string(record::name_of(pup.share)) : "", true) +
          form.choice("way", "How",
                      {{"bottle", "Bottle"}, {"syringe", "Syringe"}, {"spoon", "Spoon"}, {"tube", "Tube"}},
                      pup.way ? std::string(record::name_of(*pup.way)) : "") +
          Form::submit("Save"),
      "stack");
}

Html feeding_card(const View& view, const PupFeeding& pup, std::string_view back) {
  if (!shown(pup)) return {};
  const auto* plan = value_of(pup.plan);
  const bool may = pup.stops.empty() && plan;
  Html head = pup_link(view, *view.litter.pup(pup.label));
  if (pup.share != FeedShare::none)
    head += may ? span("dose-amount", text(ml(plan->today.each)))
                : span("dose-none", text(pup.stops.empty() ? "cannot tell" : "no milk now"));
  Html body = div("dose-head", head);
  std::string who(share_words(pup.share));
  if (!pup.keepers && pup.share != FeedShare::none) who = "not decided yet; worked out as if " + who;
  if (may && pup.next)
    body +=
        p("feed-next",
          element("b", {}, *pup.next <= view.now ? text("Feed now") : text("Next ") + at_time(view, *pup.next)) +
              text(*pup.next <= view.now ? ", due " + say_at(view, *pup.next) : " (" + say_ago(view, *pup.next) + ")"));
  body += p_text(sentence(who) + ".", "hint");
  if (pup.advised != FeedShare::none && (!pup.keepers || pup.advised > pup.share))
    body += p_text(std::string(pup.advised == FeedShare::full ? "It needs all its milk by hand: "
                                                              : "Its weights speak for a top-up: ") +
                       pup.because + ".",
                   "caution");
  body += stops(view, pup, back);
  if (pup.share != FeedShare::none && !plan && std::get<reference::NotAssessed>(pup.plan).code != "NOT_FED")
    body += p_text(sentence(std::get<reference::NotAssessed>(pup.plan).why) + ".", "caution");
  if (pup.loose_stool)
    body += p_text("Loose stool in the last 24 hours: ring your vet, and see below what the book says.", "caution");
  if (may) body += amount_said(view, pup, *plan) + div("feed-taps", given_taps(view, pup, *plan, back));
  body += fed_said(pup, plan) + colostrum_said(view, pup);
  if (plan) body += lines_table(*plan);
  body = live("milk-" + pup.label, body);
  Html taps;
  for (const auto sign : {Sign::no_suck, Sign::belly_taut, Sign::loose_stool})
    taps += sign_tap(view, pup, back, sign, true);
  body += div("feed-taps", taps);
  if (plan) body += fold_away(text("Another amount, or another way"), other_amount(view, pup, back), false, "small");
  body +=
      fold_away(text("Change: none, top-up, all by hand"), hand_feeding_form(view, pup, back), !pup.keepers, "small");
  return element("section", {{"class", "card feed-card"}, {"id", "milk-of-" + pup.label}}, body);
}

Html feeding_section(const View& view) {
  const auto& feeding = view.assessment.feeding;
  if (feeding.pups.empty()) return {};
  Html cards, others;
  for (const auto& pup : feeding.pups) {
    const Html card = feeding_card(view, pup, "nest#milk-of-" + pup.label);
    if (card.empty())
      others += link(pup_href(view.litter, *view.litter.pup(pup.label)) + "#by-hand", text(pup.label), "button quiet");
    cards += card;
  }
  Html main = h2(text("Milk by hand"), "feeding");
  if (cards.empty()) {
    main += p_text("No pup is fed by hand, and no weight speaks for it.");
  } else {
    main += div("cards", cards);
  }
  if (!others.empty()) main += p_text("To feed another one by hand, open its page:", "hint") + div("ends", others);
  if (std::any_of(feeding.pups.begin(), feeding.pups.end(),
                  [](const auto& p) { return p.keepers && p.share != FeedShare::none; }))
    main += div("ends", link(litter_href(view.litter, "paper/milk-by-hand.pdf?size=a4"),
                             text("Print the feeds of a day"), "button quiet") +
                            link(litter_href(view.litter, "paper/milk-by-hand.pdf?size=letter"),
                                 text("US Letter") + span("unseen", text(", feeds of a day")), "button quiet"));
  main += milk_card(view);
  return main + div("panels", line_panel(view) + books_panel() + tube_panel(view));
}

}  // namespace lampside::page
