// Care: own tasks, wounds, chips, the ways to choose between, the law of the place, the calendar.
#include <algorithm>

#include "care/law.hpp"
#include "care/records.hpp"
#include "page/care.hpp"
#include "page/parts.hpp"
#include "reference/tables.hpp"

namespace lampside::page {
namespace {

std::string_view words_for_topic(std::string_view topic) {
  static constexpr std::pair<std::string_view, std::string_view> kWords[] = {
      {"worming", "Worming the pups"},
      {"dam_worming", "Worming the dam"},
      {"worming_before_birth", "Worming before birth"},
      {"vaccination", "Core vaccines"},
      {"leptospira", "Leptospira"},
      {"rabies", "Rabies"},
      {"early_handling", "Early handling"},
      {"tail", "Tails"},
      {"dewclaws", "Dewclaws"},
  };
  return words_in(kWords, topic);
}
std::string_view words_for_law(std::string_view topic) {
  static constexpr std::pair<std::string_view, std::string_view> kWords[] = {
      {"min_age", "Age at leaving"},
      {"chip_by", "Microchip"},
      {"docking", "Tails"},
      {"dewclaws", "Dewclaws"},
      {"move_dam", "Moving the dam"},
      {"pup_alone", "Moving the pups"},
      {"tell_litter", "Telling the council"},
      {"commitment", "Before handover"},
      {"rabies", "Rabies"},
      {"entry", "Crossing a border"},
  };
  return words_in(kWords, topic);
}

std::vector<Option> whom(const View& view) {
  std::vector<Option> out{{"dam", view.litter.dam_name()}};
  for (const auto& pup : view.litter.pups)
    if (pup.in_box()) out.push_back({pup.label, say_pup(pup)});
  return out;
}

/// What a refused form of that kind held. Whom it speaks of is chosen in the form, so that cannot tell them apart.
const std::map<std::string, std::string>* held(const View& view, const char* kind) {
  const auto typed = view.typed.find("kind");
  return view.problem && typed != view.typed.end() && typed->second == kind ? &view.typed : nullptr;
}

}  // namespace

Html own_task(const View& view) {
  Form form{"own", litter_href(view.litter, "record"), view.token, fresh_id(view), held(view, "care_own")};
  form.hidden("kind", "care_own");
  form.hidden("back", "care");
  std::vector<Option> all{{"", "You"}, {"box", "The box"}};
  for (auto& option : whom(view)) all.push_back(std::move(option));
  if (view.litter.pups.size() != 1) all.push_back({"pups", "Each pup"});
  const Html fields =
      form.field("what", "What", {.required = true}) + form.choice("about", "For whom", all, "") +
      div("field-row",
          form.field("day", "Day", {.value = to_iso(view.assessment.care.today), .type = "date", .required = true}) +
              form.field("last_day", "At the latest", {.type = "date"})) +
      Form::submit("Put it in the plan");
  return fold_away(text("A task of your own"), form.finish(fields, "stack"), form.refused(), "panel");
}

Html wound_forms(const View& view) {
  if (view.litter.pups.empty()) return {};
  const auto animals = whom(view);
  Html out;
  if (!view.litter.procedures.empty()) {
    Form look{"wound", litter_href(view.litter, "record"), view.token, fresh_id(view), held(view, "wound")};
    look.hidden("kind", "wound");
    look.hidden("back", "care");
    Html signs;
    for (const auto& [name, label] :
         {std::pair{"bleeding", "Bleeding"}, {"swelling", "Swelling"}, {"heat", "Heat"}, {"discharge", "Discharge"}}) {
      const std::string id = std::string("wound-") + name;
      signs += div("pill", element("input", {{"type", "checkbox"}, {"id", id}, {"name", name}, {"value", "true"}}) +
                               element("label", {{"for", id}}, text(label)));
    }
    std::vector<Option> cut;
    for (const auto& option : animals)
      if (std::any_of(view.litter.procedures.begin(), view.litter.procedures.end(),
                      [&](const auto& done) { return done.about == option.value; }))
        cut.push_back(option);
    if (!cut.empty())
      out += element("h3", {}, text("Today's look")) +
             look.finish(look.choice("about", "Whose wound", cut, cut.front().value, true) +
                             element("fieldset", {{"class", "choice"}},
                                     element("legend", {}, text("What is seen (none: clean)")) + div("pills", signs)) +
                             Form::submit("Write down the look"),
                         "stack");
  }
  Form form{"procedure", litter_href(view.litter, "record"), view.token, fresh_id(view), held(view, "procedure")};
  form.hidden("kind", "procedure");
  form.hidden("back", "care");
  out += element("h3", {}, text("Something was cut or stitched")) +
         form.finish(
             form.choice("about", "On whom", animals, "", true) +
                 div("field-row", form.field("what", "What", {.required = true}) + form.field("vet", "By which vet")) +
                 form.when_folded() + Form::submit("Write it down"),
             "stack");
  return fold_away(text("Wounds: the daily look"), out, held(view, "wound") || held(view, "procedure"), "panel",
                   "wounds");
}

Html chip_form(const View& view) {
  if (view.litter.pups.empty()) return {};
  Html rows;
  for (const auto& pup : view.litter.pups) {
    const auto number = care::chip_of(view.litter, pup.label);
    if (!number.empty())
      rows +=
          element("li", {}, span("words", pup_name(pup)) + span("at", text(number + ", " + care::say_chip(number))));
  }
  Form form{"chip", litter_href(view.litter, "record"), view.token, fresh_id(view), held(view, "microchip")};
  form.hidden("kind", "microchip");
  form.hidden("back", "care");
  Html out = rows.empty() ? rows : element("ul", {{"class", "entries"}}, rows);
  out += form.finish(
      form.choice("about", "Whose", whom(view), "", true) +
          form.field(
              "number", "Number",
              {.hint = "15 digits, read by the reader twice. There is no check digit: a slip cannot be found later.",
               .mode = "numeric",
               .required = true}) +
          form.field("number_again", "The same number again, read once more", {.mode = "numeric", .required = true}) +
          form.field("database", "Registered with") + Form::submit("Write it down"),
      "stack");
  return fold_away(text("Microchips"), out, held(view, "microchip") != nullptr, "panel");
}

Html choices(const View& view) {
  Html out = p(
      "hint",
      text("Where bodies differ the plan follows one and shows the others. What is done stays done when you change."));
  for (const auto& choice : view.assessment.care.choices) {
    Html inside;
    for (const auto* set : choice.offered) {
      const bool followed = set == choice.followed;
      Form form{view, "choose-" + std::string(set->id), "care_choice", "", "care"};
      form.hidden("topic", std::string(choice.topic));
      form.hidden("set", std::string(set->id));
      Html body = p("", element(followed ? "b" : "span", {}, text(set->name))) + p("hint", text(set->says)) +
                  source_line(set->source);
      if (!set->law.empty())
        for (const auto* law : care::laws_of(reference::built_in(), view.assessment.care.place, set->law))
          body +=
              p("caution", text(std::string(law->says) + " So a summary says, read on " + std::string(law->checked) +
                                "; read the law itself, or ask your authority, before anything is cut.")) +
              source_line(law->source);
      if (followed)
        body += p("", text("The plan follows this one."));
      else
        body += form.finish(
            (set->law.empty() ? Html{} : form.field("vet", "The vet who decides with you", {.required = true})) +
                Form::submit("Follow this one", "button quiet"),
            "stack");
      inside += div("choice-set", body);
    }
    if (!choice.withheld.empty())
      inside += p("hint", text(view.assessment.care.place.empty()
                                   ? "More is offered where the law of a place allows it; your place is not written "
                                     "down in the settings."
                                   : "Nothing else is offered here: the law written down for " +
                                         view.assessment.care.place + " does not allow it, or was never read."));
    out += fold_away(span("headline", text(words_for_topic(choice.topic))) +
                         span("at", text(choice.followed ? std::string(choice.followed->name) : std::string{})),
                     inside, false, "small");
  }
  return fold_away(text("Choose between schedules"), out, false, "panel", "choices");
}

Html law_here(const View& view) {
  const auto& place = view.assessment.care.place;
  Html out;
  if (place.empty()) {
    out = p("", text("Your place is not written down. ") +
                    link(litter_href(view.litter, "settings"), text("Write it in Settings")));
  } else {
    for (const auto topic : {"min_age", "chip_by", "docking", "dewclaws", "move_dam", "pup_alone", "tell_litter",
                             "commitment", "rabies", "entry"})
      for (const auto* law : care::laws_of(reference::built_in(), place, topic))
        out += div("law",
                   element("h3", {}, text(words_for_law(topic))) + p("", text(law->says)) +
                       p("hint", text(law->checked.empty() ? "From memory: its text was never read."
                                                           : "So a summary says, read on " + std::string(law->checked) +
                                                                 "; the law itself was not read.")) +
                       source_line(law->source));
    if (out.empty())
      out = p("", text("Nothing is known here of the law of " + place + ". Ask your vet and your authority."));
    out = p("caution", text("Laws change, and this is not legal advice: read yours.")) + out;
  }
  return fold_away(text("The law of your place" + (place.empty() ? std::string{} : " (" + place + ")")), out, false,
                   "panel", "law");
}

Html calendar_links(const View& view) {
  Html out =
      p("", text("The plan for your telephone's own calendar. A task that moves, moves there; what is done vanishes."));
  out += p("", link(litter_href(view.litter, "calendar.ics"), text("The plan as a file"), "button quiet"));
  if (!view.feed.empty())
    out +=
        p("",
          text("To subscribe, give your calendar this address. Whoever has it can read the plan, and nothing else:")) +
        p("", element("code", {{"class", "address"}}, text(view.feed)));
  return fold_away(text("In your calendar"), out, false, "panel", "calendar");
}

}  // namespace lampside::page
