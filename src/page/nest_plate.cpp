// Nest: the dam's plate. How much of her food today and in the days to come, what she got, what she weighs; weaning.
#include <fmt/format.h>

#include <algorithm>

#include "draw/charts.hpp"
#include "nest/figures.hpp"
#include "page/nest_turns.hpp"

namespace lampside::page {
namespace {

using nest::Need;
using nest::Plate;
using nest::Stage;
using reference::NotAssessed;
using reference::value_of;

Html words(const std::string& said, std::string_view cls = "") { return p(cls, text(said)); }
std::string kcal(Kilocalories k) { return fmt::format("{} kcal", std::lround(k.count() / 10) * 10); }
std::string grams(Grams g) { return fmt::format("{} g", std::lround(g.count() / 10) * 10); }
const reference::Parameter& row(std::string_view name) { return nest::figure(reference::built_in(), name); }

std::string stage_words(const Need& n) {
  switch (n.stage) {
    case Stage::pregnant:
      return "as usual";
    case Stage::late:
      return "last weeks of pregnancy";
    case Stage::nursing:
      return fmt::format("week {}, {}", n.week, nest::counted(n.pups, "pup", "pups"));
  }
  return "";
}

Html today_said(const View& view, const Plate& plate) {
  const auto* need = value_of(plate.today);
  if (!need) return p("", not_assessed(std::get<NotAssessed>(plate.today)));
  Html out;
  if (const auto* g = value_of(plate.grams))
    out += p("big", text(fmt::format("{} of {} today", grams(*g), plate.food->what.name))) +
           words(fmt::format("{}, {}.", kcal(need->kcal), stage_words(*need)));
  else
    out += p("big", text(fmt::format("About {} today", kcal(need->kcal)))) + words(sentence(stage_words(*need)) + ".") +
           p("", text("In grams: ") + not_assessed(std::get<NotAssessed>(plate.grams)));
  if (plate.giant && need->book) {
    const auto low = plate.in_food(*need->book);
    const auto* g = value_of(low);
    out += words(
        fmt::format("Over {} kg this sum is known to be too high, by 20 to 30 % in the printed case. The other "
                    "sum in print, for the peak, says {}{}. Start nearer the lower one and let her weight decide.",
                    say_number(row("plate_giant_kg").value, 0), kcal(*need->book), g ? ", " + grams(*g) : ""),
        "caution");
  }
  if (need->stage == Stage::nursing) {
    out +=
        words(need->pups > 4 ? "In four meals or more, or food always there: with this many pups she eats as much as "
                               "she likes."
                             : fmt::format("In {} meals or more.", say_number(row("plate_meals").value, 0)));
    out += words(fmt::format("Water always there: about {} litres a day at this intake, more when it is hot.",
                             say_number(need->kcal.count() * row("plate_water_ml_kcal").value / 1000, 1)));
    if (need->pups > 8) out += words("Beyond the eighth pup the sum adds nothing: she cannot make more milk.", "hint");
  } else {
    out += words(need->stage == Stage::late ? "In small meals, three or four: the pups press on her stomach."
                                            : "As she is "
                                              "used to. More now only makes her fat.");
  }
  if (plate.eaten.meals > 0)
    out += words(fmt::format(
        "Written down today: {}, {}{}.", nest::counted(plate.eaten.meals, "meal", "meals"), kcal(plate.eaten.given),
        plate.eaten.unknown > 0
            ? fmt::format(", and {} whose energy is not known", nest::counted(plate.eaten.unknown, "meal", "meals"))
            : ""));
  (void)view;
  return out;
}

Html calcium(const Plate& plate) {
  return words(
      plate.pregnant
          ? "No calcium before whelping, in no form and in no breed: it raises the risk of eclampsia after. One "
            "owner page says otherwise for small dogs; do not follow it. Ask your vet."
          : "Twitching, stiff legs, panting without reason or fits while she nurses is eclampsia: to the vet "
            "within the hour, pups off her. Most often in weeks 1 to 4, in small dogs and large litters. No "
            "calcium on your own.",
      "caution");
}

Html food_form(const View& view, const Plate& plate) {
  Form form{view, "her-food", "food", "", "nest#plate"};
  const Html fields =
      form.field("name", "Her food", {.value = plate.food ? plate.food->what.name : "", .required = true}) +
      form.field(
          "kcal_100g", "kcal in 100 g, as the label says",
          {.value = plate.food && plate.food->what.kcal_100g ? say_number(plate.food->what.kcal_100g->count(), 0) : "",
           .hint = "as fed; 4,000 kcal a kilogram is 400 here",
           .mode = "decimal"}) +
      Form::submit("Save");
  return fold_away(text(plate.food ? "Another food" : "Write down her food"), form.finish(fields, "stack"),
                   form.refused() || !plate.food, "small", "food");
}

Html meal_form(const View& view, const Plate& plate) {
  Form form{view, "her-meal", "dam_meal", "dam", "nest#plate"};
  const std::string name = plate.food ? plate.food->what.name : "";
  const Html fields = div("field-row", form.field("grams", "Eaten, grams", {.mode = "decimal"}) +
                                           form.field("food", "of", {.value = name}) +
                                           form.field("kcal", "or kcal", {.mode = "decimal"})) +
                      form.when_folded() + Form::submit("She ate it");
  return fold_away(text("Write down a meal"), form.finish(fields, "stack"), form.refused(), "small", "meal");
}

Html table(std::initializer_list<std::string_view> heads, const Html& rows) {
  Html head;
  for (const auto name : heads) head += element("th", {{"scope", "col"}}, text(name));
  return div("table-box", element("table", {{"class", "feed-lines turn-list"}},
                                  element("thead", {}, element("tr", {}, head)) + element("tbody", {}, rows)));
}
Html cell(const std::string& said) { return element("td", {{"class", "number"}}, text(said)); }

Html ahead(const Plate& plate) {
  if (plate.ahead.size() < 2) return {};
  Html rows;
  for (const auto& days : plate.ahead) {
    const auto food = plate.in_food(days.need.kcal);
    const auto* g = value_of(food);
    rows += element("tr", {},
                    element("th", {{"scope", "row"}},
                            text(say_day(days.from) + (days.to == days.from ? "" : " to " + say_day(days.to))) +
                                span("hint", text(", " + stage_words(days.need)))) +
                        cell(kcal(days.need.kcal)) + cell(g ? grams(*g) : "cannot tell"));
  }
  return fold_away(
      text("The days to come"),
      table({"Days", "Energy", "Food"}, rows) +
          words(plate.pregnant ? "Until they are born nobody knows for how many she will eat."
                               : "With the pups that are here now. After week 4 no source says how it falls.",
                "hint"),
      false, "small");
}

Html past(const Plate& plate) {
  Html rows;
  for (const auto& day : plate.past) {
    if (day.meals == 0) continue;
    const auto* need = value_of(day.need);
    rows +=
        element("tr", {},
                element("th", {{"scope", "row"}},
                        text(say_day(day.day)) + span("hint", text(", " + nest::counted(day.meals, "meal", "meals")))) +
                    cell(kcal(day.given) + (day.unknown > 0 ? " and more" : "")) +
                    cell(need ? kcal(need->kcal) : "cannot tell"));
  }
  if (rows.empty()) return {};
  return fold_away(text("What she ate"), table({"Day", "Written down", "Needed"}, rows), false, "small");
}

Html weight_said(const View& view, const Plate& plate) {
  const auto* mating = value_of(plate.weight);
  Html body;
  if (!mating) {
    body = p("", not_assessed(std::get<NotAssessed>(plate.weight)) + text(" ") +
                     link(litter_href(view.litter, "settings"), text("Write it in Settings")));
  } else if (plate.curve.empty()) {
    body = words("She was not weighed yet. At mating " + say(*mating) + ".");
  } else {
    const auto& last = plate.curve.back();
    body = p("", text(say(last.weight) + ", " + (last.change < Percent{0} ? "" : "+") + say(last.change) +
                      " from mating, ") +
                     time_and_ago(view, last.at));
  }
  if (mating)
    body += words(
        plate.pregnant
            ? fmt::format("To whelping she gains {} to {} %: {} to {}.", row("plate_gain_low_pct").value,
                          row("plate_gain_high_pct").value, say(*mating * (1 + row("plate_gain_low_pct").value / 100)),
                          say(*mating * (1 + row("plate_gain_high_pct").value / 100)))
            : fmt::format("At weaning she should weigh what she did at mating, {}. A loss of a tenth, {}, is the "
                          "most that is called bearable; another figure, from memory, is a twentieth.",
                          say(*mating), say(*mating * 0.9)));
  // The chart counts its days from the birth: what she weighed before stands in the words.
  const auto born = view.litter.first_birth();
  auto since = plate.curve;
  std::erase_if(since, [&](const auto& point) { return !born || point.at < *born; });
  if (mating && since.size() >= 2) {
    const Instant from = since.front().at, to = since.back().at;
    const auto level = [&](std::string name, double share) {
      return draw::WeightSeries{
          std::move(name), "", {{from, to_grams(*mating) * share}, {to, to_grams(*mating) * share}}};
    };
    draw::WeightSeries hers{view.litter.dam_name(), "", {}};
    for (const auto& point : since) hers.readings.push_back({point.at, to_grams(point.weight)});
    draw::WeightChart chart{{std::move(hers), level("at mating", 1), level("-10 %", 0.9)},
                            "",
                            *born,
                            view.litter.zone,
                            view.litter.units().weight,
                            "Her weight"};
    body += div("chart", Html::from_svg(draw::weight_chart_svg(chart, {340, 240})));
  }
  Form form{view, "weigh-dam", "weight", "dam", "nest#plate"};
  body += fold_away(text("Write down her weight"),
                    form.finish(div("field-row", form.field("reading", "Her weight",
                                                            {.hint = "31.5 kg, or 69 lb 7 oz", .required = true})) +
                                    form.when_folded() + Form::submit("Save"),
                                "stack"),
                    form.refused(), "small", "dam-weight");
  return h2(text("Her weight")) + body;
}

Html weaning(const View& view, const Plate& plate) {
  if (plate.weaning.empty()) return {};
  const auto today = view.litter.zone.day_of(view.now);
  Html rows;
  for (const auto& step : plate.weaning) {
    const bool now = step.from <= today && today <= step.to;
    rows += element(
        "li", now ? Attributes{{"class", "followed"}} : Attributes{},
        element("strong", {},
                text(fmt::format("Week {}, {} to {}{}", step.week, say_day(step.from), say_day(step.to),
                                 now ? ": now" : ""))) +
            words(std::string(step.row->says)) +
            words(fmt::format("About {} % of their energy from the dish.", say_number(step.row->value, 0)), "hint") +
            source_line(step.row->source));
  }
  return fold_away(
      text("Weaning, week 3 to 7"),
      element("ul", {{"class", "sayings"}}, rows) +
          words("Sources differ: some begin at two weeks, some at four; one feed maker mixes 1 part water to "
                "3 of food from the start. Go by the pups: loose stool means a step back.",
                "caution"),
      std::any_of(plate.weaning.begin(), plate.weaning.end(),
                  [&](const auto& s) { return s.from <= today && today <= s.to; }),
      "small", "weaning");
}

Html why_so(const Plate& plate) {
  Html out;
  if (plate.pregnant)
    out =
        words(
            "132 kcal for each kg^0.75, and 26 for each kg in the last five weeks. Other sources: a tenth more in week "
            "5 and a fifth from week 6; or as usual to day 40, then as much as she likes; or 2.2 to 3.5 times resting "
            "energy at the end.") +
        source_line(row("plate_adult_kcal").source) + source_line(row("plate_late_kcal_kg").source);
  else
    out =
        words(
            "145 kcal for each kg^0.75, and for each kg 24 a pup up to the fourth and 12 from the fifth to the eighth, "
            "times 0.75, 0.95, 1.1 and 1.2 in weeks 1 to 4. Other sources: once and a half, twice and three times her "
            "usual food in weeks 1, 2 and 3 to 5; or 4 to 8 times resting energy.") +
        source_line(row("plate_nursing_kcal").source) + source_line(row("plate_per_pup_kcal_kg").source) +
        source_line(row("plate_book_rer").source);
  out +=
      words("Her weight at mating is the one reckoned with. Dogs differ by a quarter: the scale and her ribs decide.");
  return fold_away(text("Why so"), out, false, "small");
}

}  // namespace

Html plate_section(const View& view) {
  const auto& plate = view.assessment.plate;
  if (view.litter.dam_death) return {};
  return element("section", {{"class", "card"}, {"id", "plate"}},
                 h2(text("The dam's plate")) + live("plate", today_said(view, plate)) + calcium(plate) +
                     meal_form(view, plate) + food_form(view, plate) + ahead(plate) + past(plate) + why_so(plate) +
                     weight_said(view, plate) + weaning(view, plate));
}

}  // namespace lampside::page
