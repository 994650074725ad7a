// Whose turn it is, what is left for them, and the list with the reason for every place.
#include <algorithm>

#include "homes/order_text.hpp"
#include "page/homes.hpp"
#include "page/icons.hpp"

namespace lampside::page {

const record::Person* person_of(const View& view, std::string_view family) {
  for (const auto& p : view.people)
    if (p.family == family) return &p;
  return nullptr;
}

std::string say_family(const View& view, std::string_view family) {
  const auto* person = person_of(view, family);
  if (person && !person->name.empty()) return person->name;
  return homes::say(view.assessment.homes, family);
}

std::string say_where_to(const View& view, const std::string& to) {
  return view.assessment.homes.family(to) ? say_family(view, to) : to;
}

std::string family_href(const View& view, std::string_view family) {
  return litter_href(view.litter, "homes?family=" + percent_encode(family));
}

namespace {

std::string wishes_of(const record::Family& f) {
  std::string out;
  const auto add = [&](const std::string& s) { out += (out.empty() ? "" : ", ") + s; };
  if (f.sex) add(std::string(words_for(*f.sex)));
  if (f.colour) add(*f.colour);
  if (f.purpose) add(*f.purpose);
  if (f.earliest) add("from " + say_day(*f.earliest));
  return out.empty() ? "no wishes written down" : "wants: " + out;
}

/// What a pup is called on the button, with how it fits the wish.
Html pup_label(const record::Pup& pup) {
  const auto& b = pup.birth.what;
  std::string facts;
  if (b.sex) facts += ", " + std::string(words_for(*b.sex));
  if (b.markings) facts += ", " + *b.markings;
  return swatch(pup.collar()) + text(say_pup(pup) + facts);
}

Html rule_form(const View& view) {
  const auto& rule = view.assessment.homes.rule;
  Form form{view, "rule", "pick_rule", "", "homes"};
  return form.finish(
      form.choice("order", "Who chooses when",
                  {{"deposit", "By the day of the deposit"}, {"match", "The keeper matches, with a reason each"}},
                  std::string(record::name_of(rule.order)), true) +
          div("field-row", form.field("keeper_first", "Pups the keeper picks first",
                                      {.value = std::to_string(rule.keeper_first.value_or(0)), .mode = "numeric"}) +
                               form.field("opens", "Choosing opens on",
                                          {.value = rule.opens ? to_iso(*rule.opens) : "", .type = "date"})) +
          Form::submit("Save"),
      "stack");
}

}  // namespace

Html turn_card(const View& view) {
  const auto& order = view.assessment.homes;
  Html body = order.next ? p("big", text("Next to choose: " + say_family(view, *order.next)))
                         : p("big", text("Nobody chooses now"));
  body += p("", text("Why: " + order.why + "."));
  if (order.next) {
    const record::Family* wish = nullptr;
    for (const auto& f : view.litter.families)
      if (f.what.family == *order.next) wish = &f.what;
    if (wish) body += p("hint", text(sentence(wishes_of(*wish)) + "."));
    std::vector<const record::Pup*> left;
    left.reserve(order.free_pups.size());
    for (const auto& label : order.free_pups) left.push_back(view.litter.pup(label));
    const auto fits = [&](const record::Pup* pup) { return wish && wish->sex && pup->birth.what.sex == wish->sex; };
    std::stable_sort(left.begin(), left.end(), [&](auto* a, auto* b) { return fits(a) && !fits(b); });
    if (wish && wish->sex && std::none_of(left.begin(), left.end(), fits))
      body += p("caution", text("No " + std::string(words_for(*wish->sex)) +
                                " is left. They may take another, or pass and keep their place."));
    std::vector<std::pair<std::string, std::string>> who;
    if (*order.next != homes::kKeeper) who.emplace_back("family", *order.next);
    Html buttons;
    for (const auto* pup : left) {
      auto fields = who;
      fields.emplace_back("made", "pick");
      buttons += one_tap(view, "pick-" + pup->label, "choice", pup->label, "homes", fields,
                         span("unseen", text("Takes ")) + pup_label(*pup), "button quiet pick");
    }
    auto fields = who;
    fields.emplace_back("made", "pass");
    body += h2(text("Left for them")) + div("picks", buttons) +
            one_tap(view, "pass", "choice", "", "homes", fields,
                    text(*order.next == homes::kKeeper ? "The keeper leaves the first pick" : "They pass"), "button");
  }
  for (const auto& c : order.contested) {
    std::string names;
    Html ends;
    for (const auto& who : c.by) {
      names += (names.empty() ? "" : " and ") + say_family(view, who);
      std::vector<std::pair<std::string, std::string>> fields{{"made", "release"}};
      if (who != homes::kKeeper) fields.emplace_back("family", who);
      ends += one_tap(view, "release-" + c.pup + "-" + who, "choice", c.pup, "homes", fields,
                      text(sentence(say_family(view, who)) + " gives it up"), "button quiet");
    }
    body +=
        p("conflict", text("Pup " + c.pup + " was picked by " + names + ". It is nobody's until one gives it up.")) +
        div("ends", ends);
  }
  for (const auto& s : order.skipped)
    body += p(s.why.empty() ? "conflict" : "hint",
              text(sentence(say_family(view, s.family)) + " took pup " + s.pup +
                   " out of turn: " + (s.why.empty() ? "no reason is written down" : s.why) + "."));
  body += p("hint", link(litter_href(view.litter, "order.txt"), text("The rule and the order, without names")) +
                        text(": as a text for every family."));
  return element("section", {{"class", "card"}, {"id", "turn"}},
                 body + p("", text("The rule: " + homes::say_rule(order.rule))) +
                     fold_away(text("Change the rule"), rule_form(view), false, "small"));
}

Html families_card(const View& view) {
  const auto& order = view.assessment.homes;
  Html rows;
  for (const auto& f : order.families) {
    std::string state = "waits";
    if (f.withdrawn)
      state = "withdrawn";
    else if (f.pup)
      state = (f.gone ? "went home with pup " : "has picked pup ") + *f.pup;
    else if (f.passes > 0)
      state =
          "passed " + std::string(f.passes == 1 ? "once" : std::to_string(f.passes) + " times") + ", keeps the place";
    const std::string came = f.deposit ? "deposit " + say_day(view.litter.zone.day_of(*f.deposit))
                                       : "no deposit; noted " + say_day(view.litter.zone.day_of(f.noted));
    std::string wants;
    for (const auto& w : view.litter.families)
      if (w.what.family == f.family) wants = wishes_of(w.what);
    rows +=
        element("li", {{"class", "family"}},
                span("place", text(std::to_string(f.place))) +
                    div("words", link(family_href(view, f.family), text(sentence(say_family(view, f.family)))) +
                                     p("", text(sentence(state))) + p("hint", text(came) + text("; ") + text(wants))));
  }
  Html body = h2(text("Families, in order"));
  body += rows.empty() ? p("", text("No family is on the list yet.")) : element("ol", {{"class", "families"}}, rows);
  const auto waiting = std::count_if(order.families.begin(), order.families.end(), [](auto& f) { return f.waits(); });
  const auto free = static_cast<std::ptrdiff_t>(order.free_pups.size()) - order.keeper_left;
  if (!view.litter.pups.empty() && waiting > free)
    body += p("caution", text(std::to_string(waiting) + (waiting == 1 ? " waits and " : " wait and ") +
                              std::to_string(std::max<std::ptrdiff_t>(free, 0)) +
                              (free == 1 ? " pup is" : " pups are") + " free: tell the last ones in good time."));
  else if (free > waiting && !view.litter.pups.empty())
    body += p("hint", text(std::to_string(free - waiting) + (free - waiting == 1 ? " pup has" : " pups have") +
                           " no family yet."));
  return element("section", {{"class", "card"}, {"id", "families"}}, body);
}

}  // namespace lampside::page
