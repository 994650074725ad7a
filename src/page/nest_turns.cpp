// Nest: turns at the teats, and her milk week by week against what the litter drinks.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "nest/figures.hpp"
#include "page/nest_turns.hpp"
#include "reference/rules.hpp"

namespace lampside::page {
namespace {

using nest::TurnPlan;
using nest::TurnShift;
using reference::NotAssessed;
using reference::value_of;

Html words(const std::string& said, std::string_view cls = "") { return p(cls, text(said)); }

Html names(const View& view, const std::vector<std::string>& labels) {
  Html out;
  for (const auto& label : labels)
    if (const auto* pup = view.litter.pup(label)) out += element("li", {}, pup_link(view, *pup));
  return element("ul", {{"class", "turn-pups"}}, out);
}
std::string listed(const View& view, const std::vector<std::string>& labels) {
  std::string out;
  for (const auto& label : labels)
    if (const auto* pup = view.litter.pup(label))
      out += (out.empty() ? "" : ", ") + label + (pup->collar().empty() ? "" : " " + pup->collar());
  return out;
}

/// Those in the turns who are not with her.
std::vector<std::string> waiting(const TurnPlan& plan, const TurnShift& shift) {
  std::vector<std::string> out;
  for (const auto& g : plan.groups)
    for (const auto& label : g.pups)
      if (std::find(shift.pups.begin(), shift.pups.end(), label) == shift.pups.end() &&
          std::find(out.begin(), out.end(), label) == out.end())
        out.push_back(label);
  return out;
}

Html warm_place(const View& view) {
  const auto unit = view.litter.units().temperature;
  const auto* target = value_of(view.assessment.nest.target);
  const std::string at =
      target ? say(target->low, unit) + " to " + say(target->high, unit) : std::string("as warm as the box");
  return words("Those who wait lie in a warm nest: " + at +
                   " at their level, by a thermometer beside them, with room to move off the heat. No bare mat, and "
                   "the lid never shut. A pup that is cold is warmed before it goes back to the teats.",
               "caution");
}

Html shift_table(const View& view, const TurnPlan& plan) {
  Html rows;
  std::map<std::size_t, std::vector<std::string>> shown;  // who is in a group is read once, and again when it changes
  for (const auto& s : plan.shifts) {
    const bool now = s.from <= view.now;
    Html when = text(say_time(view.litter.zone, s.from) + " to " + say_time(view.litter.zone, s.to));
    if (now) when += span("hint", text(" now"));
    if (s.wakes && !now) when += span("turn-wakes", text(" wakes you"));
    rows += element(
        "tr", now ? Attributes{{"class", "followed"}} : Attributes{},
        element("th", {{"scope", "row"}}, when) + element("td", {}, text("Group " + std::to_string(s.group + 1))) +
            element("td", {}, shown[s.group] == s.pups ? span("hint", text("as before")) : text(listed(view, s.pups))));
    shown[s.group] = s.pups;
  }
  const Html head = element("th", {{"scope", "col"}}, text("When")) + element("th", {{"scope", "col"}}, text("Who")) +
                    element("th", {{"scope", "col"}}, text("Pups, smallest first"));
  return div("table-box", element("table", {{"class", "feed-lines turn-list"}},
                                  element("thead", {}, element("tr", {}, head)) + element("tbody", {}, rows)));
}

Html now_card(const View& view, const TurnPlan& plan) {
  const auto& now = plan.shifts.front();
  Html out = p("big", text("With her now: group " + std::to_string(now.group + 1) + ", until " +
                           say_time(view.litter.zone, now.to)));
  out += names(view, now.pups);
  const auto off = waiting(plan, now);
  out +=
      words("Waiting, " + nest::counted(static_cast<int>(off.size()), "pup", "pups") + ": " + listed(view, off) + ".");
  for (const auto& f : view.assessment.findings)
    if (f.code.starts_with("PUP_COLD") && view.litter.pup(f.about))
      out += p("caution", text("Pup " + f.about + " is too cold to suck: it is warmed first, whatever the turns say."));
  if (!plan.always.empty()) out += words("Always with her, the smallest: " + listed(view, plan.always) + ".", "hint");
  out += warm_place(view);
  return out;
}

Html why_so(const View& view, const TurnPlan& plan) {
  const auto& t = view.assessment.turns;
  Html out;
  for (std::size_t g = 0; g < plan.groups.size(); ++g)
    out +=
        words(fmt::format("Group {}: at most {} off the teats, at least {} a day.", g + 1, say_span(plan.groups[g].gap),
                          nest::counted(plan.groups[g].sessions, "session", "sessions")));
  if (!plan.small.empty())
    out += words("Held to stricter limits, as small or light at birth: " + listed(view, plan.small) + ".");
  out +=
      words(fmt::format("A session is {}. Places nobody needs go to the smallest. The smallest are set to a teat "
                        "first; the hind teats give most.",
                        say_span(t.session)));
  out += words(plan.regrouped_daily ? "Groups are made anew once a day, by weight, in the middle of your day."
                                    : "Groups stay as they were when turns began: changing them would make a pup wait "
                                      "too long.");
  if (const auto first = view.litter.first_birth()) {
    const double age = reference::days_between(*first, view.now);
    if (const auto limits = nest::turn_limits(age, false, reference::built_in()))
      out += words(std::string(limits->gap_row->says) + "; " + std::string(limits->sessions_row->says) + ".") +
             source_line(limits->gap_row->source) + source_line(limits->sessions_row->source);
  }
  out += words(
      "No trial was found: what is followed here is what breeders do. The scale decides; a pup that gains too "
      "little needs more than turns.",
      "caution");
  return out;
}

Html papers(const View& view) {
  return div("ends", link(litter_href(view.litter, "paper/turns.pdf?size=a4"), text("Print the list"), "button quiet") +
                         link(litter_href(view.litter, "paper/turns.pdf?size=letter"),
                              text("US Letter") + span("unseen", text(", list of turns")), "button quiet"));
}

Html turns_form(const View& view, bool open) {
  const auto& t = view.assessment.turns;
  Form form{view, "take-turns", "teat_turns", "", "nest#turns"};
  const auto hour = [](int h) { return std::to_string(h); };
  const Html fields =
      form.field("teats", "Teats that give milk",
                 {.value = t.teats ? std::to_string(*t.teats) : "",
                  .hint = "squeeze each: a drop is enough",
                  .mode = "numeric",
                  .required = true}) +
      form.field("session_min", "Minutes for one session",
                 {.value = std::to_string(t.session.count()), .mode = "numeric"}) +
      div("field-row",
          form.field("night_from_h", "You sleep from, hour", {.value = hour(t.night_from_h), .mode = "numeric"}) +
              form.field("night_to_h", "to, hour", {.value = hour(t.night_to_h), .mode = "numeric"})) +
      form.choice("on", "Turns", {{"true", "Take turns"}, {"false", "No turns"}}, t.on || open ? "true" : "false") +
      Form::submit("Save");
  return fold_away(text(t.on ? "Change the turns" : "Take turns"), form.finish(fields, "stack"), form.refused() || open,
                   "small", "turns-form");
}

}  // namespace

Html turns_section(const View& view) {
  const auto& t = view.assessment.turns;
  if (t.pups == 0 && !t.on) return {};
  const auto* plan = value_of(t.plan);
  Html body;
  bool open = false;
  if (plan && !plan->shifts.empty()) {
    body = live("turns", now_card(view, *plan)) +
           words(plan->wakings == 0 ? "No change of groups between " + std::to_string(t.night_from_h) + " and " +
                                          std::to_string(t.night_to_h) + " o'clock."
                                    : nest::counted(plan->wakings, "change", "changes") + " of groups in your night, " +
                                          (plan->in_rounds ? "in rounds with equal shifts." : "as few as can be.")) +
           shift_table(view, *plan) + papers(view) + fold_away(text("Why so"), why_so(view, *plan), false, "small");
  } else {
    const auto& why = std::get<NotAssessed>(t.plan);
    if (why.code == "OFF") {
      open = std::any_of(view.assessment.findings.begin(), view.assessment.findings.end(),
                         [](const auto& f) { return f.code == "TEATS_TOO_FEW"; });
      body = words(open ? nest::counted(t.pups, "pup", "pups") +
                              ": more than can drink at once. Say how many teats "
                              "give milk, and a list of turns is made."
                        : "No turns are taken. With more pups than teats that give milk a list of turns is made here.");
    } else if (why.code == "ENOUGH") {
      body = words(sentence(why.why) + ". No turns are needed.");
    } else if (why.code.starts_with("TURNS_")) {
      body = words("She cannot feed them all in turns: " + why.why + ".", "caution");
      if (!t.would_do.empty()) body += words("It would do with " + t.would_do + ".");
      body += words("Ring your vet before a pup goes hungry, and write down who is fed by hand.");
    } else {
      body = p("", not_assessed(why));
    }
  }
  return element("section", {{"class", "card"}, {"id", "turns"}},
                 h2(text("Turns at the teats")) + body + turns_form(view, open));
}

Html milk_section(const View& view) {
  const auto& milk = view.assessment.milk;
  const auto* known = value_of(milk);
  if (!known && std::get<NotAssessed>(milk).code == "NOT_BORN") return {};
  Html body;
  if (!known) {
    body = p("", not_assessed(std::get<NotAssessed>(milk)));
  } else {
    const auto grams = [](Grams g) { return say_number(g.count(), 0) + " g"; };
    const auto* first = known->runs_short();
    if (first)
      body = p("big", text(fmt::format("Short from week {} on, about {} a day", first->week, grams(first->lacking)))) +
             words(fmt::format("That is {} kcal a day, from {} on. It may be more or less: see the spread.",
                               say_number(first->lacking_kcal.count(), 0), say_day(first->from)));
    else
      body = p("big", text("Her milk is likely to be enough"));
    Html rows;
    for (const auto& w : known->weeks) {
      const std::string lack = w.short_pct > Percent{0} ? say_number(w.short_pct.count(), 0) + " %" : "none";
      const std::string worst = w.short_worst > w.short_pct ? " to " + say_number(w.short_worst.count(), 0) + " %" : "";
      rows += element("tr", w.short_pct > Percent{0} ? Attributes{{"class", "followed"}} : Attributes{},
                      element("th", {{"scope", "row"}},
                              text(fmt::format("Week {}", w.week)) + span("hint", text(", to " + say_day(w.to)))) +
                          element("td", {{"class", "number"}}, text(grams(w.supply))) +
                          element("td", {{"class", "number"}}, text(grams(w.need))) +
                          element("td", {{"class", "number"}}, text(lack + worst)));
    }
    Html head;
    for (const std::string_view name : {"A day", "She gives", "They drink", "Short"})
      head += element("th", {{"scope", "col"}}, text(name));
    body += div("table-box", element("table", {{"class", "feed-lines turn-list"}},
                                     element("thead", {}, element("tr", {}, head)) + element("tbody", {}, rows)));
    const auto& reference = reference::built_in();
    const auto& spread = nest::figure(reference, "milk_spread_pct");
    body += words(fmt::format("Both figures may be {} % off either way. Weights tell earlier and surer than this sum.",
                              say_number(spread.value, 0)),
                  "caution");
    body += fold_away(
        text("Why so"),
        words(fmt::format("Her {}, {}: 1 % of her weight in milk for each of the first four pups, half for "
                          "the next four, nothing more after the eighth, times 0.75 to 1.2 by week. "
                          "The pups drink {} to {} % of their weight. From week 3 gruel takes over.",
                          say(known->dam), nest::counted(known->pups, "pup", "pups"),
                          say_number(reference::parameter(reference, "milk_drunk_pct_week_4"), 1),
                          say_number(reference::parameter(reference, "milk_drunk_pct_week_2"), 0))) +
            source_line(nest::figure(reference, "milk_drunk_pct_week_3").source) +
            source_line(nest::figure(reference, "milk_measured_pct_week_1").source) + source_line(spread.source),
        false, "small");
  }
  return element("section", {{"class", "card"}, {"id", "her-milk"}}, h2(text("Her milk, week by week")) + body);
}

}  // namespace lampside::page
