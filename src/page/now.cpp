// Now: what needs a hand, worst first; then where the litter stands.
#include <algorithm>

#include "page/care.hpp"
#include "page/icons.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

Html tile(std::string_view title, const Html& body, const std::string& href) {
  return element("section", {{"class", "tile"}}, element("h3", {}, link(href, text(title))) + body);
}

/// Nothing found is not "all well": say what it was made from, and how old that is.
Html quiet(const View& view) {
  Html out = element("h2", {}, text("Nothing written down asks for a hand now"));
  out += p("", text("That is not the same as all being well. Look at her and at each pup."));
  const record::Entry* last = nullptr;
  for (const auto& entry : view.litter.log)
    if (entry.at.instant <= view.now && (last == nullptr || last->at.instant <= entry.at.instant)) last = &entry;
  if (last != nullptr) {
    out +=
        p("hint", text("Last written: " + say_entry(view.litter, *last) + ", ") + time_and_ago(view, last->at.instant));
  } else {
    out += p("hint", text("Nothing is written down yet."));
  }
  return element("section", {{"class", "card quiet"}}, out);
}

Html due_tile(const View& view) {
  const auto* due = reference::value_of(view.assessment.due);
  Html body;
  if (due == nullptr) {
    body = p("", not_assessed(std::get<reference::NotAssessed>(view.assessment.due)));
  } else {
    body = p("big", text("about " + say_day(view.litter.zone.day_of(due->p50)))) +
           p("", text("between " + say_day(view.litter.zone.day_of(due->p05)) + " and " +
                      say_day(view.litter.zone.day_of(due->p95))));
  }
  return tile("Due", body, litter_href(view.litter, "due"));
}

Html whelping_tile(const View& view) {
  const auto& w = view.assessment.whelping;
  Html body = p("big", text(std::to_string(w.born) + " born, " + std::to_string(w.alive) + " alive"));
  if (w.expected)
    body +=
        p("", text(std::string(w.expected_at_least ? "at least " : "") + std::to_string(*w.expected) + " expected"));
  body += p("", text(words_for(w.stage)));
  return tile("Whelping", body, litter_href(view.litter, "whelping"));
}

Html dam_tile(const View& view) {
  const auto& dam = view.assessment.dam;
  Html body;
  if (const auto* t = reference::value_of(dam.temperature)) {
    body = p("big", text(say(t->what.celsius, view.litter.units().temperature))) + p("", time_and_ago(view, t->at));
  } else {
    body = p("", not_assessed(std::get<reference::NotAssessed>(dam.temperature)));
  }
  return tile(dam.name.empty() ? "The dam" : dam.name, body, litter_href(view.litter, "due#dam"));
}

Html box_tile(const View& view) {
  const auto& nest = view.assessment.nest;
  const auto unit = view.litter.units().temperature;
  Html body;
  if (const auto* air = reference::value_of(nest.under_lamp)) {
    body += p("big", text(say(air->what.celsius, unit))) + p("", time_and_ago(view, air->at));
  } else {
    body += p("", not_assessed(std::get<reference::NotAssessed>(nest.under_lamp)));
  }
  if (const auto* target = reference::value_of(nest.target))
    body +=
        p("hint", text("aim for " + say(target->low, unit) + " to " + say(target->high, unit) + " where the pups lie"));
  return tile("The box", body, litter_href(view.litter, "nest"));
}

Html air_form(const View& view) {
  Form form{view, "box-air", "air", "", "now"};
  const Html fields =
      form.choice("where", "Where",
                  {{"under_lamp", "Under the lamp"}, {"cool_end", "Cool end"}, {"room", "Room"}, {"basket", "Basket"}},
                  "under_lamp", true) +
      div("field-row", form.field("reading", "Air, " + unit_word(view.litter.units().temperature),
                                  {.mode = "decimal", .required = true}) +
                           Form::submit("Save")) +
      form.when_folded();
  return fold_away(text("Write down the warmth of the box"), form.finish(fields, "stack"), form.refused(), "panel",
                   "air");
}

Html note_form(const View& view) {
  Form form{view, "note", "note", "", "now"};
  const Html fields = div(
      "field-row", form.field("note", "Note",
                              {.hint = view.litter.families.empty() ? "" : "Of a family write its number, not its name",
                               .required = true}) +
                       Form::submit("Save"));
  return fold_away(text("Write a note"), form.finish(fields, "stack"), form.refused(), "panel");
}

/// What could not be told, in one place, so that silence is never taken for "fine".
Html cannot_tell(const View& view) {
  Html items;
  for (const auto& pup : view.assessment.pups) {
    if (!pup.in_box) continue;
    if (const auto* why = std::get_if<reference::NotAssessed>(&pup.weight))
      items += element("li", {}, text(say_about(view.litter, pup.label) + ": " + why->why));
  }
  for (const auto& misfit : view.litter.misfits)
    items += element("li", {},
                     text("An entry that does not fit: " + misfit.why + " ") +
                         link(litter_href(view.litter, "log"), text("See the log")));
  if (items.empty()) return {};
  return element("section", {{"class", "card cannot-tell"}}, h2(text("Cannot tell")) + element("ul", {}, items));
}

/// How much there is, before the cards: "1 call the vet, 3 do now".
Html summary_of(const View& view) {
  if (view.assessment.findings.empty()) return {};
  using reference::Level;
  Html out;
  for (const auto level : {Level::emergency, Level::call_vet, Level::act, Level::watch, Level::note}) {
    const auto n = std::count_if(view.assessment.findings.begin(), view.assessment.findings.end(),
                                 [&](const auto& f) { return f.level == level; });
    if (n == 0) continue;
    out += element("li", {{"class", "level-" + std::string(reference::name_of(level))}},
                   span("level", icon_for(level) + text(std::to_string(n) + " " + std::string(words_for(level)))));
  }
  return element("h2", {{"class", "unseen"}}, text("What needs a hand")) +
         element("ul", {{"class", "level-counts"}}, out);
}

/// A reminder of the plan is ticked, or put off with a reason, where it stands.
Html on_the_spot(const View& view, const reference::Finding& finding) {
  using care::State;
  for (const auto& [code, state] :
       {std::pair{"CARE_OVERDUE", State::overdue}, {"CARE_LAST_DAY", State::last_day}, {"CARE_OPEN", State::open}})
    if (finding.code == code) {
      const auto form = view.typed.find("form");
      const bool refused = view.problem && form != view.typed.end() && form->second.starts_with("tick-");
      return fold_away(text("Tick it, or put it off"), care_actions(view, state), refused, "small");
    }
  return {};
}

}  // namespace

std::string now_page(const View& view) {
  const auto& findings = view.assessment.findings;
  Html cards;
  Html notes;
  for (const auto& finding : findings) {
    if (finding.level == reference::Level::note) {
      notes += finding_folded(view, finding);
    } else {
      cards += finding_card(view, finding, on_the_spot(view, finding));
    }
  }
  if (cards.empty()) cards = quiet(view);  // notes ask for nothing now

  const bool born = view.assessment.whelping.born > 0;
  Html tiles = born ? whelping_tile(view) : due_tile(view);
  tiles += dam_tile(view);
  if (born) tiles += box_tile(view);

  Html main = live("findings", summary_of(view) + div("cards", cards) + (notes.empty() ? notes : div("panels", notes)) +
                                   cannot_tell(view));
  main += live("tiles", div("tiles", tiles));
  if (!view.litter.pups.empty()) main += live("pups", h2(text("Pups")) + pups_table(view));
  if (!view.litter.pups.empty())
    main += div("ends", link(litter_href(view.litter, "dosing"), text("Dosing round"), "button quiet"));
  main += div("panels", (born ? air_form(view) : Html{}) + note_form(view));
  return page_of(view, {.title = "Now", .screen = "now", .back = ""}, main);
}

}  // namespace lampside::page
