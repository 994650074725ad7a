// Whelping: one big button, the running clocks, the signs, the pups born.
#include <algorithm>

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
  if (const auto* next = reference::value_of(view.assessment.whelping.next_pup))
    out += p("hint", text("The next pup, going by litters like this: half within " + say_span(next->p50) +
                          ", nine in ten within " + say_span(next->p90) + ". This never cancels a red flag."));
  if (out.empty()) return p("hint", text("No clock is running. A sign or a pup starts one."));
  return div("clocks", out);
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
  return element("section", {}, h2(text(newest ? "Born before" : "Pups born")) + div("panels", out));
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
  main += signs(view);
  main += dam_temperature(view);
  main += live("born", born_list(view, newest));
  main += element("section", {}, element("h2", {{"class", "unseen"}}, text("Rules for calling")) + when_to_call());
  main += live("recent", recent(view));
  return page_of(view, {.title = "Whelping", .screen = "whelping", .back = ""}, main);
}

}  // namespace lampside::page
