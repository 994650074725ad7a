// Due: the window in words and as a band, what it is made of, and the forms for new clues.
#include <cmath>

#include "page/charts.hpp"
#include "page/pups.hpp"

namespace lampside::page {
namespace {

std::string say_chance(double chance) {
  const double percent = chance * 100;
  if (percent > 0 && percent < 1) return "under 1 %";
  if (percent > 99 && percent < 100) return "over 99 %";
  return say_number(std::round(percent), 0) + " %";
}

/// The band: 5 to 95 light, 25 to 75 strong, a line at the middle and a mark for now. Words beside it say the same.
Html band(const View& view, const due::Forecast& f) {
  const Zone& zone = view.litter.zone;
  constexpr double kWidth = 360;
  auto from = zone.start_of(zone.day_of(std::min(f.p05, view.now)));
  auto to = zone.start_of(zone.day_of(std::max(f.p95, view.now)) + std::chrono::days{1});
  // A mating of two months ago must not squeeze the window to a line: now is drawn only when it is near.
  const bool now_near = view.now > f.p05 - std::chrono::days{10} && view.now < f.p95 + std::chrono::days{10};
  if (!now_near) {
    from = zone.start_of(zone.day_of(f.p05));
    to = zone.start_of(zone.day_of(f.p95) + std::chrono::days{1});
  }
  const double length = static_cast<double>((to - from).count());
  const auto place = [&](Instant t) { return kWidth * static_cast<double>((t - from).count()) / length; };
  const auto x = [&](Instant t) { return say_number(place(t), 1); };
  const auto width = [&](Instant a, Instant b) {
    return say_number(std::max(2.0, kWidth * static_cast<double>((b - a).count()) / length), 1);
  };
  Html out = element("rect", {{"class", "band-wide"},
                              {"x", x(f.p05)},
                              {"y", "18"},
                              {"width", width(f.p05, f.p95)},
                              {"height", "26"},
                              {"rx", "6"}});
  out += element("rect", {{"class", "band-half"},
                          {"x", x(f.p25)},
                          {"y", "18"},
                          {"width", width(f.p25, f.p75)},
                          {"height", "26"},
                          {"rx", "4"}});
  out += element("line", {{"class", "band-middle"}, {"x1", x(f.p50)}, {"x2", x(f.p50)}, {"y1", "14"}, {"y2", "48"}});
  const auto first = zone.day_of(from);
  const auto last = zone.day_of(to);
  const long days = (last - first).count();
  const long step = days > 8 ? (days + 5) / 6 : 1;
  for (long i = 0; i <= days; ++i) {
    const auto day = first + std::chrono::days{i};
    const Instant t = zone.start_of(day);
    out += element(
        "line",
        {{"class", "band-tick"}, {"x1", x(t)}, {"x2", x(t)}, {"y1", "52"}, {"y2", i % step == 0 ? "60" : "56"}});
    if (i % step != 0 || i >= days) continue;
    const std::string said = say_day(day);
    const bool room = days <= 5;
    out += element("text", {{"class", "band-day"}, {"x", say_number(place(t) + 3, 1)}, {"y", "70"}},
                   text(room ? said : said.substr(said.find(' ') + 1)));
  }
  if (now_near) {
    out +=
        element("line", {{"class", "band-now"}, {"x1", x(view.now)}, {"x2", x(view.now)}, {"y1", "6"}, {"y2", "52"}});
    const double at = place(view.now);
    out += element("text",
                   {{"class", "band-now-word"},
                    {"x", say_number(at + (at > 320 ? -4 : 4), 1)},
                    {"y", "12"},
                    {"text-anchor", at > 320 ? "end" : "start"}},
                   text("now"));
  }
  return element("svg",
                 {{"class", "band"},
                  {"viewBox", "0 0 360 76"},
                  {"role", "img"},
                  {"aria-label", "The window drawn on a line of days"}},
                 out);
}

Html window(const View& view) {
  const auto* f = reference::value_of(view.assessment.due);
  if (f == nullptr) {
    const auto& why = std::get<reference::NotAssessed>(view.assessment.due);
    Html body = h2(text(why.code == "PAST" ? "She has whelped" : "No date yet")) +
                (why.code == "PAST" ? Html{} : p("", text(why.why)));
    if (const auto first = view.litter.first_birth()) body += p("", text("First pup ") + time_and_ago(view, *first));
    if (why.code == "NO_DATA") body += p("", text("Write down a mating or a test below, and the window appears here."));
    return element("section", {{"class", "card window"}}, body);
  }
  const Zone& zone = view.litter.zone;
  const auto day = [&](Instant t) { return say_day(zone.day_of(t)); };
  Html body = h2(text("First pup about " + day(f->p50)));
  body += p(
      "", text("As likely as not between " + say_day_time(zone, f->p25) + " and " + say_day_time(zone, f->p75) + "."));
  body += p("", text("Nine times in ten between " + day(f->p05) + " and " + day(f->p95) + "."));
  body += band(view, *f);
  Html chances;
  const auto add = [&](std::string_view label, double chance) {
    chances += div("chance", span("chance-in", text(label)) + element("b", {}, text(say_chance(chance))));
  };
  add("within 6 h", f->chance.h6);
  add("within 12 h", f->chance.h12);
  add("within 24 h", f->chance.h24);
  add("within 48 h", f->chance.h48);
  body += div("chances", chances);
  body += p("hint", text("Chance of the first pup, reckoned at " + say_when(view, view.assessment.at) +
                         ". A forecast never lowers a red flag."));
  return element("section", {{"class", "card window"}}, body);
}

Html clues(const View& view) {
  const auto* f = reference::value_of(view.assessment.due);
  if (f == nullptr || (f->clues.empty() && f->conflicts.empty())) return {};
  Html items;
  for (const auto& clue : f->clues) {
    const double hours = clue.pull.count();
    const auto span_said = say_span(std::chrono::minutes{std::llround(std::fabs(hours) * 60)});
    const std::string pull =
        std::fabs(hours) < 1 ? "agrees" : "alone would say " + span_said + (hours < 0 ? " earlier" : " later");
    const std::string counts = clue.weight < 0.005 ? "Not counted here" : "Counts for " + say_chance(clue.weight);
    items += element("li", {},
                     p("", text(clue.says)) + p("hint", text(counts + "; " + pull + ".")) + source_line(clue.source));
  }
  Html conflicts;
  for (const auto& conflict : f->conflicts) conflicts += p("conflict", text(conflict.says));
  return element("section", {{"class", "card"}},
                 h2(text("What this is made of")) + conflicts + element("ul", {{"class", "clues"}}, items));
}

Html dam_temperatures(const View& view) {
  const auto& readings = view.litter.dam_temperatures;
  Html rows;
  std::size_t shown = 0;
  for (auto it = readings.rbegin(); it != readings.rend() && shown < 12; ++it, ++shown)
    rows += element("li", {},
                    element("b", {}, text(say(it->what.celsius, view.litter.units().temperature))) +
                        span("at", time_of(view, it->at)) + (it->by.empty() ? Html{} : span("by", text(it->by))));
  if (rows.empty()) return p("hint", text("No temperature of hers is written down yet."));
  return element("ul", {{"class", "readings"}}, rows) +
         (readings.size() > 12 ? p("hint", link(litter_href(view.litter, "log"), text("Earlier ones are in the log")))
                               : Html{});
}

Html clue_form(const View& view, std::string_view kind, std::string_view title, std::string_view hint,
               const std::function<Html(Form&)>& more = {}) {
  Form form{view, std::string(kind), std::string(kind), "", "due"};
  Html fields = hint.empty() ? Html{} : p("hint", text(hint));
  if (more) fields += more(form);
  fields += form.when();
  fields += Form::submit("Save");
  return fold_away(text(title), form.finish(fields, "stack"), form.refused(), "panel");
}

Html clue_forms(const View& view) {
  Html out = clue_form(view, "mating", "Mating", "", [](Form& form) {
    return form.choice("method", "How",
                       {{"natural", "Natural"}, {"fresh", "Fresh semen"}, {"chilled", "Chilled"}, {"frozen", "Frozen"}},
                       "natural");
  });
  out += clue_form(view, "progesterone", "Progesterone",
                   "As the laboratory printed it, with the time the blood was drawn.", [](Form& form) {
                     return form.field(
                         "ng_ml", "Progesterone, ng/ml",
                         {.hint = "nmol/l divided by 3.18 gives ng/ml", .mode = "decimal", .required = true});
                   });
  out += clue_form(view, "lh_surge", "LH surge", "The day it was judged to be.");
  out += clue_form(view, "ovulation", "Ovulation", "The day it was judged to be.");
  out += clue_form(view, "dioestrus", "First day of dioestrus", "From vaginal smears: the first day after the change.");
  out += clue_form(view, "pup_count", "Count of pups", "", [](Form& form) {
    return form.choice("method", "Seen by", {{"xray", "X-ray"}, {"ultrasound", "Ultrasound"}}, "xray", true) +
           form.field("pups", "Pups counted", {.mode = "numeric", .required = true}) +
           form.choice("at_least", "The count is", {{"true", "A minimum"}, {"false", "Exact, says the vet"}}, "true");
  });
  return div("panels", out);
}

}  // namespace

std::string due_page(const View& view) {
  Html main = live("urgent", urgent_findings(view, false));
  main += live("window", window(view) + clues(view));
  main += element("section", {{"class", "card"}, {"id", "dam"}},
                  h2(text("Her temperature")) + temperature_form(view, "dam-temperature", "dam", "Rectal", "due") +
                      live("temperatures", dam_temperature_chart(view) + dam_temperatures(view)));
  main += element("section", {}, h2(text("Write down a clue")) + clue_forms(view));
  return page_of(view, {.title = "Due", .screen = "due", .back = ""}, main);
}

}  // namespace lampside::page
