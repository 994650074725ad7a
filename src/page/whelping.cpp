// Whelping: one big button, the running clocks, the signs, the pups born.
#include <algorithm>
#include <cmath>

#include "page/icons.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

Html tally(const View& view) {
  const auto& w = view.assessment.whelping;
  const auto number = [](int n, std::string_view word) {
    return div("count", element("b", {}, text(std::to_string(n))) + span("", text(word)));
  };
  Html out = number(w.born, "born") + number(w.alive, "alive");
  if (w.expected) {
    out += number(*w.expected, w.expected_at_least ? "expected, at least" : "expected");
  } else {
    out += div("count", element("b", {}, text("?")) + span("", text("expected: no count yet")));
  }
  out += number(w.placentas_seen, "placentas seen");
  return div("tally", out) + p("stage", text("Stage: ") + element("b", {}, text(words_for(w.stage))) +
                                            span("at", text(" as of " + say_when(view, view.assessment.at))));
}

Html clocks(const View& view) {
  Html out;
  for (const auto& clock : view.assessment.whelping.clocks)
    out += div("clock", span("clock-word", text(words_for_clock(clock.kind))) + running_clock(view, clock.since) +
                            span("at", text("since ") + time_of(view, clock.since)));
  if (out.empty()) return p("hint", text("No clock is running. A sign or a pup starts one."));
  return div("clocks", out);
}

/// What the pace of this labour lets expect, as a range; and whether one may be left, as a chance with its caution.
Html outlook(const View& view) {
  const auto& w = view.assessment.whelping;
  Html out;
  if (const auto* next = reference::value_of(w.next_pup))
    out += p("", text("Next pup, at her pace so far: half come within " + say_span(next->p50) +
                      ", nine in ten within " + say_span(next->p90) + "."));
  if (const auto* last = reference::value_of(w.last_pup))
    out += p("", text("The last of those counted: between " + say_span(last->p25) + " and " + say_span(last->p90) +
                      " from now, most likely about " + say_span(last->p50) + "."));
  // Not while more of those counted are to come: then it is no question.
  const bool asked = !(w.expected && w.born < *w.expected);
  if (const auto* left = reference::value_of(w.one_left); left && asked) {
    const long percent = std::max(1L, std::lround(left->chance * 100));
    out += p("", text("Is one left? A chance of about " + std::to_string(percent) + " in 100 (" + left->says + ")."));
    out +=
        p("hint", text("A count is a minimum, and one pup came 14 hours after the one before. Only an X-ray or a scan "
                       "tells; have her checked within a day. Restless, straining, still green or not settled: ring."));
  }
  if (out.empty()) return {};
  return element("section", {{"class", "card outlook"}},
                 h2(text("Outlook")) + out + p("hint", text("A forecast never cancels a red flag.")));
}

Html correct_stage(const View& view) {
  Form form{view, "labour-stage", "labour_stage", "dam", "whelping"};
  std::vector<Option> stages;
  for (const auto stage : {whelping::Stage::before, whelping::Stage::first_stage, whelping::Stage::straining,
                           whelping::Stage::between_pups, whelping::Stage::done})
    stages.push_back({std::string(whelping::name_of(stage)), std::string(words_for(stage))});
  return fold_away(
      text("The stage or a clock is wrong"),
      p("hint", text("Choose what is true, and from when. A clock that began at the wrong time: strike its "
                     "sign out below and write it again with its time.")) +
          form.finish(form.choice("stage", "She is", stages, "", true) + form.when("Since (empty: now)") +
                          Form::submit("Set the stage"),
                      "stack"),
      form.refused(), "small");
}

/// The screen stays on, flags sound: only where scripts run.
Html night_tools() {
  const auto tool = [](std::string_view data, std::string_view says) {
    return element("button", {{"type", "button"}, {"class", "button quiet tool"}, {std::string(data), ""}},
                   span("says", text(says)));
  };
  return div("night-tools scripted",
             tool("data-awake", "Keep the screen on") + tool("data-alarm", "Sound is off: tap to turn on and test"));
}

Html basket_form(const View& view) {
  Form form{view, "basket", "air", "", "whelping"};
  const auto unit = view.litter.units().temperature;
  const auto& nest = view.assessment.nest;
  Html last;
  if (nest.basket) last = text(say(nest.basket->what.celsius, unit) + " ") + time_and_ago(view, nest.basket->at);
  if (const auto* target = reference::value_of(nest.target))
    last += text((last.empty() ? "Aim for " : ". Aim for ") + say(target->low, unit) + " to " +
                 say(target->high, unit) + ".");
  form.hidden("where", "basket");
  return form.finish(
      div("field-row", form.field("reading", "Basket, " + unit_word(unit), {.mode = "decimal", .required = true}) +
                           Form::submit("Save")) +
          (last.empty() ? Html{} : p("hint", last)),
      "stack");
}

Html round_of_care(const View& view) {
  if (view.assessment.whelping.stage == whelping::Stage::done || view.assessment.whelping.clocks.empty()) return {};
  return fold_away(
      text("The hourly round"),
      p("",
        text("Water, a little food (common practice, no source), out on a lead with towel and torch: a pup may come "
             "outside. Pups that wait lie in a basket warmed to the box's own warmth, and go back on the teats in "
             "the gaps. A cord not bitten: wait until it stops beating, tie it 1 to 2.5 cm from the belly (sources "
             "differ), cut beyond the knot, dip the end. Never pull on it.")) +
          p("caution", text("Calcium only on your vet's word.")) + basket_form(view) +
          div("ends", one_tap(view, "care-done", "done", "dam", "whelping", {{"task", "labour_care"}},
                              text("Done, ask again in an hour"), "button") +
                          one_tap(view, "care-off", "done", "dam", "whelping", {{"task", "no_prompts"}},
                                  text("Do not ask any more"), "button quiet")),
      false, "panel");
}

Html born_button(const View& view, bool again) {
  return one_tap(view, "born", "birth", "", "whelping", {}, text(again ? "Next pup born" : "Pup born"), "button born") +
         fold_away(
             text("Born earlier, or not alive"),
             [&] {
               Form form{view, "born-earlier", "birth", "", "whelping"};
               return form.finish(form.when("Born at (empty: now)") +
                                      form.choice("alive", "Alive", {{"true", "Alive"}, {"false", "Dead"}}, "true") +
                                      Form::submit("Write it down"),
                                  "stack");
             }(),
             view.problem && view.typed.count("kind") && view.typed.at("kind") == "birth", "small");
}

Html signs(const View& view) {
  Html groups;
  int n = 0;
  for (const auto& group : sign_groups()) {
    Html buttons;
    for (const auto sign : group.signs)
      buttons += one_tap(view, "sign-" + std::to_string(++n), "sign", "dam", "whelping",
                         {{"sign", std::string(record::name_of(sign))}}, text(words_for(sign)),
                         group.trouble ? "button sign trouble" : "button sign");
    if (group.title == "Fluids")
      buttons += one_tap(view, "placenta", "placenta", "dam", "whelping", {}, text("Placenta passed"), "button sign");
    groups += element("section", {{"class", "sign-group"}},
                      element("h3", {}, text(group.title)) + div("sign-buttons", buttons));
  }
  Form form{view, "sign-earlier", "sign", "dam", "whelping"};
  Html options;
  for (const auto& group : sign_groups()) {
    for (const auto sign : group.signs) {
      Attributes attributes{{"value", std::string(record::name_of(sign))}};
      if (form.value("sign", "") == record::name_of(sign)) attributes.emplace_back("selected", kBare);
      options += element("option", attributes, text(words_for(sign)));
    }
  }
  const Html fields = div("field", element("label", {{"for", "sign-earlier-sign"}}, text("Sign")) +
                                       element("select", {{"id", "sign-earlier-sign"}, {"name", "sign"}}, options)) +
                      form.when("Seen at (empty: now)") + form.note() + Form::submit("Write it down");
  return element("section", {{"class", "signs"}},
                 h2(text("Signs: tap what you see")) + groups +
                     fold_away(text("A sign seen earlier, or with a note"), form.finish(fields, "stack"),
                               form.refused(), "small"));
}

Html pup_item(const View& view, const record::Pup& pup, bool open) {
  Html said;
  said += span("at", time_of(view, pup.birth.at));
  const auto& b = pup.birth.what;
  if (b.sex) said += span("bit", text(words_for(*b.sex)));
  if (b.grams) said += span("bit", text(say(*b.grams, view.litter.units().weight)));
  if (!pup.born_alive())
    said += span("bit dead", text("born dead"));
  else if (pup.death)
    said += span("bit dead", text("died"));
  if (b.presentation && *b.presentation == record::Presentation::tail_first) said += span("bit", text("tail first"));
  if (!pup.scores.empty()) said += span("bit", text("score " + std::to_string(pup.scores.back().what.total())));
  Html body = birth_form(view, pup, "whelping");
  if (pup.in_box() && !pup.suckled && view.now - pup.birth.at < std::chrono::hours{24})
    body += one_tap(view, "suckled-" + std::to_string(pup.order), "suckled", pup.label, "whelping", {},
                    text("It has sucked"), "button quiet");
  if (pup.suckled) said += span("bit", text("sucked"));
  // The score belongs to the first minutes; a pup never scored is not asked for it for ever.
  if (pup.born_alive() && pup.scores.empty() && view.now - pup.birth.at < std::chrono::hours{24}) {
    if (const Html score = score_form(view, pup, "whelping"); !score.empty())
      body += element("section", {}, element("h3", {}, text("Newborn score")) + score);
  }
  body += div("ends", link(pup_href(view.litter, pup), text("Page of pup " + pup.label), "button quiet") +
                          strike_button(view, pup.birth.id, "whelping", "Strike out this birth", say_pup(pup)));
  return fold_away(pup_name(pup) + span("bits", said), body, open, "panel pup-item",
                   "pup-" + std::to_string(pup.order));
}

Html born_list(const View& view, const record::Pup* newest) {
  if (view.litter.pups.empty()) return {};
  Html out;
  for (auto it = view.litter.pups.rbegin(); it != view.litter.pups.rend(); ++it)
    if (&*it != newest) out += pup_item(view, *it, false);
  if (out.empty()) return {};
  Html sucking;
  if (std::any_of(view.litter.pups.begin(), view.litter.pups.end(), [&](const auto& pup) {
        return pup.in_box() && !pup.suckled && view.now - pup.birth.at < std::chrono::hours{24};
      }))
    sucking =
        one_tap(view, "all-suckled", "suckled", "", "whelping", {}, text("All of them have sucked"), "button quiet");
  return element("section", {}, h2(text(newest ? "Born before" : "Pups born")) + div("panels", out) + sucking);
}

Html recent(const View& view) {
  Html rows;
  int shown = 0;
  for (auto it = view.litter.log.rbegin(); it != view.litter.log.rend() && shown < 8; ++it) {
    const auto& e = *it;
    const bool ours = record::body_as<record::SignSeen>(e) || record::body_as<record::Birth>(e) ||
                      record::body_as<record::PlacentaPassed>(e) || record::body_as<record::Temperature>(e) ||
                      record::body_as<record::NewbornScore>(e) || record::body_as<record::Note>(e);
    if (!ours) continue;
    ++shown;
    rows += element("li", {},
                    span("said", time_of(view, e.at.instant) + text(" " + say_entry(view.litter, e))) +
                        strike_button(view, e.id, "whelping", "Strike out", say_entry(view.litter, e)));
  }
  if (rows.empty()) return {};
  return element("section", {},
                 h2(text("Last written")) + element("ul", {{"class", "entries"}}, rows) +
                     p("", link(litter_href(view.litter, "log"), text("The whole log"))));
}

Html dam_temperature(const View& view) {
  Html last;
  if (const auto* t = reference::value_of(view.assessment.dam.temperature))
    last = p("", text("Last: ") + element("b", {}, text(say(t->what.celsius, view.litter.units().temperature))) +
                     text(" ") + time_and_ago(view, t->at));
  return element(
      "section", {{"class", "card"}},
      h2(text("Her temperature")) + last + temperature_form(view, "dam-temperature", "dam", "Rectal", "whelping"));
}

/// The rules that end in a call, as one list to read before the night: straight from the tables, nothing reckoned.
Html when_to_call() {
  using reference::Level;
  const auto& reference = reference::built_in();
  const auto rules_at = [&](Level level) {
    Html items;
    for (const auto& rule : reference.span_rules)
      if (rule.level == level) items += element("li", {}, text(rule.words.headline));
    for (const auto& rule : reference.count_rules) {
      const bool sign =
          rule.code.starts_with("SIGN_") || rule.code == "STOPPED_STRAINING" || rule.code == "REPEATED_VOMITING";
      if (rule.level == level && sign) items += element("li", {}, text(rule.words.headline));
    }
    return element("ul", {}, items);
  };
  return fold_away(
      text("When to call: all the rules in one list"),
      element("h3", {}, text("Go now")) + rules_at(Level::emergency) + element("h3", {}, text("Ring the vet")) +
          rules_at(Level::call_vet) +
          p("hint", text("When you are uneasy, ring sooner. Each rule tells its source on Now when it speaks.")),
      false, "panel");
}

/// The lowest, commonest and highest limit in print for each flag, and the house's own.
Html limits_in_print(const View& view) {
  const auto& reference = reference::built_in();
  Html rows;
  std::vector<std::string_view> codes;
  for (const auto& limit : reference.published_limits)
    if (std::find(codes.begin(), codes.end(), limit.code) == codes.end()) codes.push_back(limit.code);
  Html options;
  for (const auto code : codes) {
    const std::string name = sentence(in_words(code));
    Html items;
    for (const auto& limit : reference.published_limits)
      if (limit.code == code)
        items += element("li", {},
                         text(std::string(limit.rank) + ": " + say_span(limit.limit_min) + ", " +
                              std::string(words_for(limit.level)) + " (" + std::string(limit.source.work) + ", " +
                              std::string(limit.source.locator) + ")"));
    for (const auto& house : view.litter.house_limits)
      if (house.what.code == code)
        items += element(
            "li", {},
            element("b", {}, text("this house: " + say_span(Minutes{house.what.min}) + ", said by " + house.what.who)));
    rows += element("h3", {}, text(name)) + element("ul", {}, items);
    options += element("option", {{"value", std::string(code)}}, text(name));
  }
  Form form{view, "house-limit", "house_limit", "", "whelping"};
  const Html fields = div("field", element("label", {{"for", "house-limit-code"}}, text("Red flag")) +
                                       element("select", {{"id", "house-limit-code"}, {"name", "code"}}, options)) +
                      div("field-row", form.field("min", "Ring after, minutes", {.mode = "numeric", .required = true}) +
                                           form.field("who", "Who said so", {.required = true})) +
                      Form::submit("Set the limit");
  return fold_away(text("The limits in print, and your own"),
                   p("hint", text("Sources differ. A limit of your own only makes the call earlier: one later than the "
                                  "table's is not followed.")) +
                       rows + h2(text("A limit of this house")) + form.finish(fields, "stack"),
                   form.refused(), "panel");
}

/// The pup whose birth has just been written down: its form comes first, the button for the next below it, so that a
/// second tap of a wet finger does not bear another pup. Once its details are saved the button comes first again.
const record::Pup* just_born(const View& view) {
  if (view.undo_id.empty()) return nullptr;
  const auto& log = view.litter.log;
  const auto entry = std::find_if(log.begin(), log.end(), [&](const auto& e) { return e.id == view.undo_id; });
  if (entry == log.end() || entry->corrects || record::body_as<record::Birth>(*entry) == nullptr) return nullptr;
  return view.litter.pup(entry->about);
}

}  // namespace

std::string whelping_page(const View& view) {
  const auto* newest = just_born(view);
  Html main = live("urgent", urgent_findings(view, false));
  if (newest != nullptr)
    main += div("just-born", element("h2", {{"class", "unseen"}}, text("Just born")) + pup_item(view, *newest, true));
  main += live("tally", element("section", {{"class", "card"}}, tally(view) + clocks(view)));
  main += div(newest ? "born-box guarded" : "born-box", born_button(view, newest != nullptr));
  main += signs(view) + night_tools();
  main += live("outlook", outlook(view)) + correct_stage(view) + live("care", round_of_care(view));
  main += dam_temperature(view);
  main += live("born", born_list(view, newest));
  main +=
      element("section", {},
              element("h2", {{"class", "unseen"}}, text("Rules for calling")) + when_to_call() + limits_in_print(view));
  main += live("recent", recent(view));
  return page_of(view, {.title = "Whelping", .screen = "whelping", .back = ""}, main);
}

}  // namespace lampside::page
