// Nest: how warm it is and should be, the lamp's height, cold pups on their way up.
#include <algorithm>

#include "page/nest.hpp"
#include "reference/rules.hpp"
#include "reference/tables.hpp"

namespace lampside::page {
namespace {

using nest::Hang;
using record::AirPlace;
using record::Sign;
using reference::value_of;

Html p_text(const std::string& words, std::string_view cls = "") { return p(cls, text(words)); }
std::string cm(Centimetres v) { return say_number(v.count(), 0) + " cm"; }

std::string band(const View& view, Celsius low, Celsius high) {
  const auto unit = view.litter.units().temperature;
  return say(low, unit) + " to " + say(high, unit);
}

Html target_said(const View& view) {
  const auto& nest = view.assessment.nest;
  const auto* target = value_of(nest.target);
  if (!target) return p("", not_assessed(std::get<reference::NotAssessed>(nest.target)));
  const bool theirs = !target->asked.empty() && target->asked == target->line;
  return p("big", text(band(view, target->low, target->high))) +
         p_text("where the pups lie, under the lamp, at their age" + (theirs ? ", as you chose" : std::string{}) +
                ". Give them a cooler end to move to.") +
         source_line(target->source);
}

/// The last reading of each place, with when it was taken.
Html readings(const View& view) {
  const auto unit = view.litter.units().temperature;
  Html rows;
  for (const auto where : {AirPlace::under_lamp, AirPlace::cool_end, AirPlace::room, AirPlace::mat, AirPlace::basket}) {
    const record::Noted<record::Air>* last = nullptr;
    for (const auto& a : view.litter.air)
      if (a.what.where == where && a.at <= view.now) last = &a;
    if (!last) continue;
    rows += element("tr", {},
                    element("th", {{"scope", "row"}}, text(sentence(words_for(where)))) +
                        element("td", {{"class", "number"}}, text(say(last->what.celsius, unit))) +
                        element("td", {}, time_and_ago(view, last->at)));
  }
  if (rows.empty()) return p_text("No reading is written down yet.", "hint");
  return element("table", {{"class", "plain"}}, element("tbody", {}, rows));
}

Html day_said(const View& view) {
  const auto& day = view.assessment.warmth;
  if (day.known() < std::chrono::hours{1}) return {};
  std::string out = "Under the lamp in the last 24 hours: in the band for " + say_span(day.within);
  if (day.below > Span{0}) out += ", below it for " + say_span(day.below);
  if (day.above > Span{0}) out += ", above it for " + say_span(day.above);
  return p_text(out + ". Each reading counts for three hours at most; " +
                    say_span(std::max(Span{0}, Span{std::chrono::hours{24}} - day.known())) + " are not known.",
                "hint");
}

std::string line_name(std::string_view line) {
  if (line == "handbook") return "A handbook for owners, and notes where it is silent";
  if (line == "university") return "A university's pages on orphans";
  if (line == "owners_manual") return "A veterinary manual for owners";
  if (line == "e_course") return "A veterinary course, for a lamp with the dam present";
  if (line == "whelping_area_england") return "England's rule for the whelping area";
  return std::string(line);
}

/// Every source that speaks of this age side by side, the one followed marked, and the keeper's choice among them.
Html sources(const View& view) {
  const auto first = view.litter.first_birth();
  if (!first) return {};
  const auto& reference = reference::built_in();
  const auto* target = value_of(view.assessment.nest.target);
  Html rows, law;
  Form form{view, "box-target", "care_choice", "", "nest#box-sources"};
  form.hidden("topic", "box_target");
  std::vector<Option> lines;
  for (const auto* row : nest::box_rows(view.litter, reference, reference::days_between(*first, view.now))) {
    const bool followed = target && row->line == target->line;
    const std::string range = band(view, row->low_c, row->high_c);
    const std::string note = row->note.empty() ? std::string{} : sentence(std::string(row->note)) + ".";
    rows += element("li", followed ? Attributes{{"class", "followed"}} : Attributes{},
                    element("b", {}, text(range + (followed ? ". Followed" : ""))) +
                        (note.empty() ? Html{} : p_text(note)) + source_line(row->source));
    if (!row->places.empty())
      law += p("caution", text("The law where you live: " + range + ", " + std::string(row->note) + ".")) +
             source_line(row->source);
    if (!row->line.empty()) lines.push_back({std::string(row->line), line_name(row->line) + ": " + range});
  }
  if (rows.empty()) return {};
  Html why;
  for (const auto* s : reference::sayings_on(reference, "box_target")) why += p_text(std::string(s->says), "hint");
  if (target && !target->asked.empty() && target->asked != target->line)
    why += p_text("You chose: " + line_name(target->asked) + ". It says nothing of this age.", "caution");
  if (view.litter.facts.place.value_or("").empty())
    why += p_text(
        "Your place is not in the settings: a law on the whelping area, such as England's 26 to 28 °C, is "
        "shown where it holds.",
        "hint");
  const std::string now = target ? std::string(target->line) : std::string{};
  return law + fold_away(text("How warm: who says what at this age"),
                         element("ul", {{"class", "box-sources"}}, rows) + why +
                             form.finish(form.choice("set", "Which to follow, here, by the warnings and for the lamp",
                                                     lines, now, true) +
                                             Form::submit("Follow it"),
                                         "stack"),
                         form.refused(), "panel", "box-sources");
}

Html cold_pups(const View& view) {
  const auto unit = view.litter.units().temperature;
  Html out;
  for (const auto& r : view.assessment.rewarming) {
    const auto* pup = view.litter.pup(r.label);
    if (!pup) continue;
    out += div("card", element("b", {}, pup_link(view, *pup)) +
                           p_text(say(r.last, unit) + ", read " + say_at(view, r.at) +
                                  ". Warm it slowly, at most 1 °C an hour: " + "at " + say_when(view, r.check) +
                                  " it may show " + say(r.at_most, unit) + " and no more.") +
                           p_text("No milk under " + say(r.aim, unit) + "; that is " + say_when(view, r.earliest) +
                                      " at the earliest. Ring your vet if it does not rise.",
                                  "caution") +
                           link(pup_href(view.litter, *pup) + "#pup-temperature", text("Write its temperature down"),
                                "button quiet"));
  }
  if (out.empty()) return {};
  return h2(text("Cold pups"), "rewarming") + div("cards", out);
}

Html lying_taps(const View& view) {
  Html taps;
  for (const auto sign : {Sign::piled_up, Sign::spread_out}) {
    const std::string name(record::name_of(sign));
    taps += one_tap(view, name, "sign", "box", "nest", {{"sign", name}}, text(words_for(sign)), "button quiet");
  }
  return p_text("How do the pups lie? Piled up they are cold, spread out they are hot.", "hint") + div("ends", taps);
}

Html reading_form(const View& view) {
  Form form{view, "nest-air", "air", "", "nest"};
  const Html fields =
      form.choice("where", "Where",
                  {{"under_lamp", "Under the lamp"},
                   {"cool_end", "Cool end"},
                   {"room", "Room, away from the lamp"},
                   {"mat", "Bare mat, beside the pups"}},
                  "under_lamp", true) +
      form.choice("probe", "What lies in the lamp's beam",
                  {{"flat", "A flat thermometer or probe"}, {"globe", "A ball, as of a globe thermometer"}}) +
      div("field-row",
          form.field(
              "reading",
              "Reading, " + std::string(view.litter.units().temperature == TemperatureUnit::celsius ? "°C" : "°F"),
              {.mode = "decimal", .required = true}) +
              Form::submit("Save")) +
      form.when_folded();
  return fold_away(text("Write a reading down"), form.finish(fields, "stack"), form.refused(), "panel", "reading");
}

Html lamp_form(const View& view) {
  Form form{view, "nest-lamp", "lamp", "", "nest"};
  const Html fields =
      div("field-row", form.field("watts", "Watts of the bulb", {.mode = "decimal", .required = true}) +
                           form.field("cm", "Centimetres above the pups", {.mode = "decimal", .required = true})) +
      form.choice("off", "It is", {{"false", "on"}, {"true", "switched off"}}, "false") + Form::submit("Save") +
      form.when_folded();
  return fold_away(text("Write the lamp down"), form.finish(fields, "stack"), form.refused(), "panel", "lamp-form");
}

Html hang_rows(const View& view, const nest::LampAdvice& advice) {
  const auto unit = view.litter.units().temperature;
  Html rows;
  for (const Hang& h : advice.if_room)
    rows += element(
        "tr", {},
        element("th", {{"scope", "row"}}, text(say(h.room, unit))) + element("td", {}, text(cm(h.height))) +
            element("td", {},
                    text(h.at_clearance ? "only " + say(h.reaches, unit) : cm(h.nearest) + " to " + cm(h.farthest))));
  if (rows.empty()) return {};
  const Html head = element("tr", {},
                            element("th", {{"scope", "col"}}, text("Room")) +
                                element("th", {{"scope", "col"}}, text("Hang it near")) +
                                element("th", {{"scope", "col"}}, text("it may be")));
  return fold_away(text("If the room cools or warms"),
                   element("table", {{"class", "plain"}}, element("thead", {}, head) + element("tbody", {}, rows)));
}

Html lamp_said(const View& view) {
  const auto unit = view.litter.units().temperature;
  const auto* advice = value_of(view.assessment.lamp);
  if (!advice) return p("", not_assessed(std::get<reference::NotAssessed>(view.assessment.lamp)));
  const Hang& h = advice->now;
  Html out = p("big", text("near " + cm(h.height)));
  if (h.at_clearance)
    out += p_text("No nearer: from there it reaches about " + say(h.reaches, unit) +
                      ", too little for the pups. Warm the room instead.",
                  "caution");
  else
    out += p_text("above the pups (it may be " + cm(h.nearest) + " to " + cm(h.farthest) + "), with the room at " +
                  say(h.room, unit) + ". Begin with the higher, and read the thermometer again in 30 minutes.");
  out += p_text("The thermometer decides, not the sum. " +
                (advice->fit.readings >= 3
                     ? "Learnt from " + std::to_string(advice->fit.readings) + " readings of yours."
                     : "Bulbs differ by two, so until three readings of yours are in, so does this."));
  out += p_text("The warm spot is about " + cm(h.spot) + " across. Room read " + say_at(view, advice->room_at) +
                    ", bulb " + say_number(advice->watts.count(), 0) + " W.",
                "hint");
  return out + hang_rows(view, *advice);
}

Html safety() {
  Html items, others;
  for (const auto* s : reference::sayings_on(reference::built_in(), "lamp_safety"))
    items += element("li", {}, text(s->says) + source_line(s->source));
  for (const auto* topic : {"lamp_or_not", "mat"})
    for (const auto* s : reference::sayings_on(reference::built_in(), topic))
      others += element("li", {}, text(s->says) + source_line(s->source));
  return element("ul", {{"class", "sayings caution"}}, items) +
         fold_away(text("Lamps, mats, and who is against them"), element("ul", {{"class", "sayings"}}, others));
}

}  // namespace

Html warmth_section(const View& view) {
  Html warm = h2(text("Warmth"), "warmth") + live("warmth", target_said(view) + readings(view) + day_said(view)) +
              lying_taps(view) + sources(view) + reading_form(view) + cold_pups(view);
  return warm + h2(text("The lamp"), "lamp") + live("lamp", lamp_said(view)) + lamp_form(view) + safety();
}

}  // namespace lampside::page
