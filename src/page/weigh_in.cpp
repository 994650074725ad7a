// Weigh-in: one pup at a time, large, with wet fingers.
#include <algorithm>
#include <array>
#include <cmath>

#include "page/charts.hpp"
#include "page/icons.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

struct Place {
  growth::Round round;
  std::vector<std::string> order;  ///< everyone of this round, in birth order
  std::string turn;                ///< whose turn it is; empty: nobody's
  std::string next;                ///< who comes after
};

bool holds(const std::vector<std::string>& list, const std::string& label) {
  return std::find(list.begin(), list.end(), label) != list.end();
}

/// The pup whose weight has just been saved.
const record::Pup* just_weighed(const View& view) {
  if (view.undo_id.empty()) return nullptr;
  for (const auto& pup : view.litter.pups)
    for (const auto& weight : pup.weights)
      if (weight.id == view.undo_id) return &pup;
  return nullptr;
}

/// 0: its last weight is in doubt; 1: something about it is to be acted upon; 2: neither.
int need(const View& view, const std::string& label) {
  for (const auto& d : view.assessment.doubts)
    if (d.open_for(label)) return 0;
  const auto* s = standing_of(view, label);
  return s != nullptr && s->level <= reference::Level::act ? 1 : 2;
}

Place place_of(const View& view, const std::string& asked) {
  Place place{growth::current_round(view.litter, view.now), {}, {}, {}};
  auto& round = place.round;
  if (round.left.empty() && !asked.empty()) {  // all weighed, and one asked for: another round begins
    round = growth::Round{};
    for (const auto& pup : view.litter.pups)
      if (pup.in_box()) round.left.push_back(pup.label);
  }
  for (const auto& pup : view.litter.pups)
    if (holds(round.left, pup.label) || holds(round.weighed, pup.label)) place.order.push_back(pup.label);
  // Birth order, but the pups first whose last weight is in doubt, then those that lag: they must not be forgotten when
  // a round is cut short.
  auto needy = place.order;
  std::stable_sort(needy.begin(), needy.end(),
                   [&](const auto& a, const auto& b) { return need(view, a) < need(view, b); });
  if (holds(place.order, asked)) {
    place.turn = asked;
  } else if (!round.left.empty() && (round.started || just_weighed(view) == nullptr)) {
    place.turn = *std::find_if(needy.begin(), needy.end(), [&](const auto& label) { return holds(round.left, label); });
  }
  // The next to weigh: the first after this one, else the first of those passed over.
  const auto waits = [&](const std::string& label) { return label != place.turn && holds(round.left, label); };
  const auto turn = std::find(needy.begin(), needy.end(), place.turn);
  auto next = std::find_if(turn, needy.end(), waits);
  if (next == needy.end()) next = std::find_if(needy.begin(), needy.end(), waits);
  if (turn != needy.end() && next != needy.end()) place.next = *next;
  return place;
}

/// The tub stays on the scale for the round: what was last taken off is taken off again, and said.
std::string remembered_tub(const View& view, const growth::Round& round) {
  if (!round.started) return "";
  const record::Noted<record::Weight>* last = nullptr;
  for (const auto& pup : view.litter.pups)
    for (const auto& weight : pup.weights)
      if (weight.at >= *round.started && (last == nullptr || last->at <= weight.at)) last = &weight;
  if (last == nullptr || !last->what.tare_g || last->what.tare_g->count() <= 0) return "";
  return say_number(last->what.tare_g->count(), 1) + " g";
}

Html just_saved(const View& view, const record::Pup& pup, std::string_view back) {
  const auto unit = view.litter.units().weight;
  const auto saved =
      std::find_if(pup.weights.begin(), pup.weights.end(), [&](const auto& w) { return w.id == view.undo_id; });
  const Html head =
      div("saved-head", pup_name(pup) + span("pup-weight", element("b", {}, text(say(saved->what.grams, unit))) +
                                                               span("at", text(" ") + at_time(view, saved->at))));
  Html out;
  const auto* standing = standing_of(view, pup.label);
  const bool newest = saved + 1 == pup.weights.end();  // one written down late says nothing of the last gain
  if (newest && standing != nullptr) out += span("pup-gain", gain_said(view, *standing));
  if (saved->what.tare_g && saved->what.tare_g->count() > 0)
    out += span("tub-said", text("tub " + say(*saved->what.tare_g, unit) + " off"));
  for (const auto& f : view.assessment.findings) {
    if (f.about != pup.label) continue;
    out += div("finding-line level-" + std::string(reference::name_of(f.level)),
               span("level", icon_for(f.level) + text(words_for(f.level))) + span("headline", text(f.headline)));
    break;  // the worst; the others stand on Now
  }
  return div("just-saved",
             element("div", {{"class", "saved-words"}, {"role", "status"}}, head + div("saved-rest", out)) +
                 undo_button(view, back));
}

Html keypad(WeightUnit unit) {
  Html keys;
  const auto key = [](std::string_view puts, std::string_view shown, std::string_view cls = "key",
                      std::string_view said = "") {
    Attributes attributes{{"type", "button"}, {"class", std::string(cls)}, {"data-key", std::string(puts)}};
    if (!said.empty()) attributes.emplace_back("aria-label", std::string(said));
    return element("button", attributes, text(shown));
  };
  for (const std::string_view digit : {"1", "2", "3", "4", "5", "6", "7", "8", "9"}) keys += key(digit, digit);
  keys += key(".", ".", "key", "point");
  keys += key("0", "0");
  keys += key("back", "⌫", "key", "rub out");
  Html fractions;
  if (unit == WeightUnit::ounces || unit == WeightUnit::pounds) {
    static constexpr std::array<std::array<std::string_view, 2>, 8> kEighths{{{" lb ", "lb"},
                                                                              {" 1/8", "⅛"},
                                                                              {" 1/4", "¼"},
                                                                              {" 3/8", "⅜"},
                                                                              {" 1/2", "½"},
                                                                              {" 5/8", "⅝"},
                                                                              {" 3/4", "¾"},
                                                                              {" 7/8", "⅞"}}};
    for (const auto& [puts, shown] : kEighths) fractions += key(puts, shown, "key fraction");
    fractions = div("fractions", fractions);
  }
  return element("div", {{"class", "keypad scripted"}, {"role", "group"}, {"aria-label", "Keypad"}}, keys) +
         (fractions.empty() ? Html{} : element("div", {{"class", "scripted"}}, fractions));
}

Html turn_card(const View& view, const Place& place, const record::Pup& pup) {
  const Units units = view.litter.units();
  const std::string back = place.next.empty() ? "weigh-in" : "weigh-in?turn=" + percent_encode(place.next);
  Form form{view, "weigh", "weight", pup.label, back};
  form.hidden("unit", unit_word(units.weight));

  Html head = element("h2", {{"class", "turn-name"}}, pup_name(pup));
  if (const auto* standing = standing_of(view, pup.label))
    head += p("turn-last", text("last ") + last_weight(view, *standing));
  if (holds(place.round.weighed, pup.label))
    head += p("again", text("Already weighed in this round. Saving writes a second weight."));

  const std::string tub = form.value("tub", remembered_tub(view, place.round));
  // A tub whose weight is known is missed far more rarely when it is left on (docs/weights.md): worth one line.
  const bool ever = std::any_of(view.litter.pups.begin(), view.litter.pups.end(), [](const auto& other) {
    return std::any_of(other.weights.begin(), other.weights.end(),
                       [](const auto& w) { return w.what.tare_g.has_value(); });
  });
  const Html tub_words = tub.empty() ? text(ever ? "No tub taken off" : "No tub taken off. Is one on the scale?")
                                     : text("Tub ") + element("b", {}, text(tub)) + text(" is taken off") +
                                           element("output", {{"class", "net"}, {"for", "weigh-reading weigh-tub"}});
  const std::string id = "weigh-reading";
  const Html reading =
      div("reading", element("label", {{"for", id}}, text("What the scale shows, " + unit_word(units.weight))) +
                         element("input", {{"id", id},
                                           {"name", "reading"},
                                           {"type", "text"},
                                           {"inputmode", "decimal"},
                                           {"autocomplete", "off"},
                                           {"required", kBare},
                                           {"value", form.value("reading", "")},
                                           {"data-reading", unit_word(units.weight)}}));
  const Html tub_field = fold_away(
      tub_words,
      form.field(
          "tub", "Weight of the empty tub",
          {.value = tub,
           .hint = "Weigh it once and write it here: it is taken off every weight of this round, and a tub left on is "
                   "found more surely. Leave this empty when the scale is set to zero with the tub on.",
           .mode = "decimal"}),
      false, "small tub");
  Html fields = reading + tub_field + keypad(units.weight) + Form::submit("Save", "button save");
  fields += form.when_folded();
  Html skip;
  if (!place.next.empty())
    skip = link(litter_href(view.litter, "weigh-in?turn=" + percent_encode(place.next)),
                text("Skip, next is " + place.next), "button quiet skip-pup");
  return element("section", {{"class", "card turn"}}, div("turn-head", head) + form.finish(fields, "weigh") + skip);
}

Html progress(const View& view, const Place& place) {
  const auto done = place.round.started ? place.round.weighed.size() : 0;
  const auto all = place.order.size();
  Html dots;
  for (const auto& label : place.order) {
    const auto* pup = view.litter.pup(label);
    const bool weighed = place.round.started && holds(place.round.weighed, label);
    const std::string cls = std::string("dot") + (weighed ? " weighed" : "") + (label == place.turn ? " turn" : "");
    const std::string said = (pup ? say_pup(*pup) : label) + (weighed ? ", weighed" : ", to weigh");
    Attributes attributes{{"href", litter_href(view.litter, "weigh-in?turn=" + percent_encode(label))},
                          {"class", cls},
                          {"aria-label", said}};
    if (label == place.turn) attributes.emplace_back("aria-current", "step");
    dots += element(
        "li", {},
        element("a", attributes,
                (pup ? swatch(pup->collar()) : Html{}) + text(label) + (weighed ? span("tick", text("✓")) : Html{})));
  }
  Html words = text(std::to_string(done) + " of " + std::to_string(all) + " weighed");
  if (place.round.started) words += span("at", text(", begun ") + time_of(view, *place.round.started));
  return element("section", {{"class", "progress"}, {"aria-label", "Progress"}},
                 p("progress-words", words) + element("ol", {{"class", "dots"}}, dots));
}

/// When to weigh next, and which pups before the others.
Html next_round(const View& view) {
  std::optional<Instant> most;
  for (const auto& s : view.assessment.pups)
    if (s.weigh_next && (!most || *s.weigh_next > *most)) most = s.weigh_next;
  if (!most) return {};
  Html sooner;
  for (const auto& s : view.assessment.pups)
    if (s.weigh_next && *s.weigh_next + std::chrono::hours{2} < *most)
      sooner += element(
          "li", {},
          text("Pup " + s.label + ": ") + (*s.weigh_next <= view.now ? text("now") : at_time(view, *s.weigh_next)));
  Html gain;
  if (const auto* g = reference::value_of(view.assessment.gain))
    gain =
        p("hint", text("This litter gains " + say_number(std::round(g->count()), 0) + " % of the usual (day 2 to 21)"));
  Html out = p("", text("Next round: ") + at_time(view, *most) + text(", by the pups' age"));
  out += gain;
  if (!sooner.empty()) out += p("", text("Before that:")) + element("ul", {{"class", "readings"}}, sooner);
  return out;
}

Html summary(const View& view, const Place& place, bool finished) {
  Html another;
  if (!place.order.empty())
    another = link(litter_href(view.litter, "weigh-in?turn=" + percent_encode(place.order.front())),
                   text("Weigh another round"), "button quiet");
  Html body = h2(text(finished ? "Round done" : "Last weights"));
  if (finished) body += weight_chart(view, "");
  body += pups_table(view);
  if (finished) body += next_round(view);
  if (finished)
    body += div("ends", link(litter_href(view.litter, "now"), text("See what needs a hand"), "button") + another +
                            link(litter_href(view.litter, "dosing"), text("Dosing round"), "button quiet"));
  return element("section", {{"class", "card"}}, body);
}

}  // namespace

std::string weigh_in_page(const View& view, const std::string& turn) {
  const Place place = place_of(view, turn);
  const auto* saved = just_weighed(view);
  const auto* pup = view.litter.pup(place.turn);
  Html main;
  const std::string back = pup != nullptr ? "weigh-in?turn=" + percent_encode(place.turn) : "";
  const bool says_it = saved != nullptr;
  if (says_it) main += just_saved(view, *saved, back.empty() ? "weigh-in" : back);
  main += live("doubts", doubts_asked(view, "", back.empty() ? "weigh-in" : back));
  if (place.order.empty()) {
    main += element("section", {{"class", "card"}},
                    h2(text("No pup in the box yet")) +
                        p("", text("Pups appear here once they are written down on the Whelping screen.")) +
                        p("", link(litter_href(view.litter, "whelping"), text("Whelping"), "button")));
  } else if (pup != nullptr) {
    main += turn_card(view, place, *pup);
    main += live("progress", progress(view, place));
    if (!place.round.started) main += live("summary", summary(view, place, false));
  } else {
    main += live("summary", summary(view, place, true));
  }
  main += live("urgent", urgent_findings(view, false));
  return page_of(view, {.title = "Weigh-in", .screen = "weigh-in", .back = back, .says_notice_itself = says_it}, main);
}

}  // namespace lampside::page
