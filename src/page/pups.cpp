#include "page/pups.hpp"
#include "page/homes.hpp"

#include <algorithm>

#include "page/icons.hpp"

namespace lampside::page {

std::string unit_word(WeightUnit unit) { return std::string(record::name_of(unit)); }
std::string unit_word(TemperatureUnit unit) { return unit == TemperatureUnit::celsius ? "°C" : "°F"; }

const growth::Standing* standing_of(const View& view, std::string_view label) {
  const auto& pups = view.assessment.pups;
  const auto it = std::find_if(pups.begin(), pups.end(), [&](const auto& s) { return s.label == label; });
  return it == pups.end() ? nullptr : &*it;
}

Html last_weight(const View& view, const growth::Standing& standing) {
  const auto* weight = reference::value_of(standing.weight);
  if (weight == nullptr) return not_assessed(std::get<reference::NotAssessed>(standing.weight));
  return element("b", {}, text(say(weight->what.grams, view.litter.units().weight))) +
         span("at", text(" ") + at_time(view, weight->at));
}

namespace {

Html change_of(const View& view, const growth::Gain& gain) {
  const double grams = gain.difference.count();
  const std::string mark = grams < 0 ? "▼ " : grams > 0 ? "▲ " : "● ";
  return span(grams < 0 ? "change lost" : "change",
              text(mark + say_change(gain.difference, view.litter.units().weight)));
}

}  // namespace

Html gain_in_short(const View& view, const growth::Standing& standing) {
  const auto* gain = reference::value_of(standing.gain);
  if (gain == nullptr) return not_assessed(std::get<reference::NotAssessed>(standing.gain));
  return change_of(view, *gain) + span("at", text(" in " + say_span(gain->to - gain->from)));
}

Html gain_said(const View& view, const growth::Standing& standing) {
  const auto* gain = reference::value_of(standing.gain);
  if (gain == nullptr) return not_assessed(std::get<reference::NotAssessed>(standing.gain));
  return change_of(view, *gain) +
         span("at", text(" since ") + time_of(view, gain->from) + text(" (" + say_span(gain->to - gain->from) + ")"));
}

Html pups_table(const View& view) {
  Html rows;
  // Said once for all of them, not once a line.
  std::vector<std::string> without_change;
  std::string why_not;
  for (const auto& pup : view.litter.pups) {
    const auto* standing = standing_of(view, pup.label);
    Html weight, gain, mark;
    if (!pup.born_alive()) {
      weight = text("born dead, ") + time_of(view, pup.birth.at);
    } else if (pup.death) {
      weight = text("died ") + time_of(view, pup.death->at);
    } else if (pup.departure) {
      weight = text("left ") + time_of(view, pup.departure->at);
      if (pup.departure->what.to) weight += text(", to " + say_where_to(view, *pup.departure->what.to));
    } else if (standing != nullptr) {
      weight = last_weight(view, *standing);
      const auto* unknown = std::get_if<reference::NotAssessed>(&standing->gain);
      if (unknown != nullptr && unknown->code == "NO_DATA") {
        without_change.push_back(say_pup(pup));
        why_not = unknown->why;
      } else {
        gain = gain_in_short(view, *standing);
      }
      if (standing->level != reference::Level::note)
        mark = span("level-" + std::string(reference::name_of(standing->level)),
                    span("level", icon_for(standing->level) + text(words_for(standing->level))));
    }
    rows += element("li", {{"class", pup.in_box() ? "pup-row" : "pup-row gone"}},
                    pup_link(view, pup) + div("pup-facts", mark + div("pup-weight", weight) +
                                                               (gain.empty() ? gain : div("pup-gain", gain))));
  }
  Html table = element("ul", {{"class", "pup-rows"}}, rows);
  if (!without_change.empty()) {
    std::string who;
    for (const auto& pup : without_change) who += (who.empty() ? "" : "; ") + pup;
    table += p("hint", text("Change: cannot tell, " + why_not + " (" + who + ")"));
  }
  return table;
}

Html birth_form(const View& view, const record::Pup& pup, std::string_view back) {
  const auto& b = pup.birth.what;
  std::vector<std::string> taken;
  for (const auto& other : view.litter.pups)
    if (other.label != pup.label) taken.push_back(other.collar());
  std::vector<std::string> free;
  for (const auto word : collar_words())
    if (std::find(taken.begin(), taken.end(), word) == taken.end()) free.emplace_back(word);
  const std::string collar = b.collar ? *b.collar : std::string(next_free_collar(taken));
  const Units units = view.litter.units();

  Form form{view, "birth-" + std::to_string(pup.order), "birth", pup.label, std::string(back), pup.birth.id};
  form.hidden("unit", unit_word(units.weight));
  const Html fields =
      form.choice("sex", "Sex", {{"female", "Bitch"}, {"male", "Dog"}},
                  b.sex ? std::string(record::name_of(*b.sex)) : "") +
      div("field-row", form.field("reading", "Birth weight, " + unit_word(units.weight),
                                  {.value = b.grams ? say(*b.grams, units.weight) : "", .mode = "decimal"}) +
                           form.field("collar", b.collar || collar.empty() ? "Collar" : "Collar (next free)",
                                      {.value = collar, .suggestions = free})) +
      form.choice("alive", "Alive", {{"true", "Alive"}, {"false", "Dead"}}, b.alive.value_or(true) ? "true" : "false") +
      form.choice("presentation", "Came", {{"head_first", "Head first"}, {"tail_first", "Tail first"}},
                  b.presentation ? std::string(record::name_of(*b.presentation)) : "") +
      form.choice("placenta", "Placenta seen", {{"true", "Yes"}, {"false", "Not yet"}},
                  b.placenta ? (*b.placenta ? "true" : "false") : "") +
      form.choice("airway_cleared", "Airway cleared", {{"true", "Yes"}, {"false", "Not needed"}},
                  b.airway_cleared ? (*b.airway_cleared ? "true" : "false") : "") +
      form.choice("cord_tied", "Cord", {{"true", "Tied and dipped"}, {"false", "She bit it"}},
                  b.cord_tied ? (*b.cord_tied ? "true" : "false") : "") +
      form.field("markings", "Markings", {.value = b.markings.value_or("")}) +
      fold_away(text("Born at another time"), form.when("Born", wall_clock(view.litter.zone, pup.birth.at)), false,
                "small") +
      Form::submit("Save pup " + pup.label);
  return form.finish(fields, "stack");
}

Html score_form(const View& view, const record::Pup& pup, std::string_view back) {
  const auto& reference = reference::built_in();
  Form form{view, "score-" + std::to_string(pup.order), "newborn_score", pup.label, std::string(back)};
  Html fields;
  for (const auto& row : reference.score_criteria) {
    const std::string item{row.item};
    Html legend_text = text(row.asks);
    Html choices;
    const std::array<std::string_view, 3> says{row.zero, row.one, row.two};
    for (std::size_t i = 0; i < says.size(); ++i) {
      const std::string id = "score-" + std::to_string(pup.order) + "-" + item + "-" + std::to_string(i);
      Attributes attributes{
          {"type", "radio"}, {"id", id}, {"name", item}, {"value", std::to_string(i)}, {"required", kBare}};
      if (form.value(item, "") == std::to_string(i)) attributes.emplace_back("checked", kBare);
      choices += div("pill", element("input", attributes) +
                                 element("label", {{"for", id}},
                                         element("b", {}, text(std::to_string(i))) + span("says", text(says[i]))));
    }
    fields +=
        element("fieldset", {{"class", "choice score"}}, element("legend", {}, legend_text) + div("pills", choices));
  }
  if (fields.empty()) return {};
  fields += form.when_folded() + Form::submit("Save the score");
  fields += p("hint",
              text("Sources disagree on the heart of a newborn: 160 to 200 a minute is normal in the Dog Owner's Home "
                   "Veterinary Handbook, p. 489; 230 to 240 in Small Animal Clinical Nutrition, Table 16-1; "
                   "this score gives full marks above 220 only. Do not judge by the heart alone."));
  fields += source_line(reference.score_criteria.front().source);
  return form.finish(fields, "stack");
}

Html score_said(const View& view, const record::Pup& pup) {
  if (pup.scores.empty()) return {};
  const auto& last = pup.scores.back();
  return span("score-said", text("score " + std::to_string(last.what.total()) + " of 10 ") + at_time(view, last.at));
}

Html temperature_form(const View& view, const std::string& name, const std::string& about, std::string_view legend,
                      std::string_view back) {
  Form form{view, name, "temperature", about, std::string(back)};
  const std::string unit = unit_word(view.litter.units().temperature);
  return form.finish(
      div("field-row", form.field("reading", std::string(legend) + ", " + unit, {.mode = "decimal", .required = true}) +
                           Form::submit("Save")) +
          form.when_folded(),
      "stack");
}

}  // namespace lampside::page
