// Due: the window in words and as a band, what it is made of, and the forms for new clues.
#include <algorithm>
#include <cmath>

#include "due/told.hpp"
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

Html window(const View& view) {
  const auto* f = reference::value_of(view.assessment.due);
  if (f == nullptr) {
    const auto& why = std::get<reference::NotAssessed>(view.assessment.due);
    Html body = h2(text(why.code == "PAST" ? "She has whelped" : "No date yet")) +
                (why.code == "PAST" ? Html{} : p("", text(sentence(why.why))));
    if (const auto first = view.litter.first_birth()) body += p("", text("First pup ") + time_and_ago(view, *first));
    if (why.code == "NO_DATA") body += p("", text("Write down a mating or a test below, and the window appears here."));
    return element("section", {{"class", "card window"}}, body);
  }
  const Zone& zone = view.litter.zone;
  const auto day = [&](Instant t) { return say_day(zone.day_of(t)); };
  Html body = h2(text("First pup about " + day(f->p50)));
  body += p("", text("As likely as not between " + say_day_time(zone, due::told(f->p25)) + " and " +
                     say_day_time(zone, due::told(f->p75)) + "."));
  body += p("", text("Nine times in ten between " + say_day_time(zone, due::told(f->p05)) + " and " +
                     say_day_time(zone, due::told(f->p95)) + "."));
  body += due_strip(view, *f);
  body += p("hint", text("Shaded: night. The darker part of the hill is the likelier half."));
  Html chances;
  const auto add = [&](std::string_view label, double chance) {
    chances += div("chance", span("chance-in", text(label)) + element("b", {}, text(say_chance(chance))));
  };
  add("within 6 h", f->chance.h6);
  add("within 12 h", f->chance.h12);
  add("within 24 h", f->chance.h24);
  add("within 48 h", f->chance.h48);
  body += div("chances", chances);
  Html plan;
  const auto by = [&](std::string_view what, const std::string& when) {
    plan += div("chance", span("chance-in", text(what)) + element("b", {}, text(when)));
  };
  by("Be at home from", f->home_from <= view.now ? "now on" : say_day_time(zone, due::told_early(f->home_from)));
  if (!std::any_of(view.litter.done.begin(), view.litter.done.end(),
                   [](const auto& d) { return d.what.task == "box_ready"; }))
    by("Whelping box ready by", f->box_by <= view.now ? "now" : day(f->box_by));
  if (f->next_reading) by("Thermometer tells most", say_day_time(zone, *f->next_reading));
  by("Still nothing? Ring your vet by", advice::say_ring_by(view.assessment, *f, reference::built_in(), zone));
  body += div("chances", plan);
  const std::string sheet = view.litter.units().weight == WeightUnit::ounces ? "letter" : "a4";
  body += p("", link(litter_href(view.litter, "paper/when-home.pdf?size=" + sheet),
                     text("This as a sheet for the fridge (PDF)")));
  body += p("hint", text("Chance of the first pup, reckoned at " + say_when(view, view.assessment.at) +
                         ". A forecast never lowers a red flag."));
  return element("section", {{"class", "card window"}}, body);
}

Html clues(const View& view) {
  const auto* f = reference::value_of(view.assessment.due);
  if (f == nullptr || (f->clues.empty() && f->conflicts.empty())) return {};
  Html items;
  for (const auto& clue : f->clues) {
    // To the hour, as the forecast is.
    const auto moved = say_span(std::chrono::hours{std::llround(std::fabs(clue.pull.count()))});
    std::string does = f->clues.size() == 1 ? "The only clue so far."
                       : std::fabs(clue.pull.count()) < 1
                           ? "Agrees with the others."
                           : "Moves the answer about " + moved + (clue.pull.count() < 0 ? " earlier." : " later.");
    if (f->clues.size() > 1 && clue.weight >= 0.02) does += " Narrows the spread by " + say_chance(clue.weight) + ".";
    items += element("li", {}, p("", text(sentence(clue.says))) + p("hint", text(does)) + source_line(clue.source));
  }
  for (const auto& a : f->adjustments)
    items += element("li", {}, p("", text(sentence(a.says))) + source_line(a.source));
  Html conflicts;
  for (const auto& conflict : f->conflicts) conflicts += p("conflict", text(sentence(conflict.says)));
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
                     return form.field("ng_ml", "Progesterone, ng/ml",
                                       {.hint = "In nmol/l? Divide by 3.18 (progesterone's molar mass, 314.5 g/mol)",
                                        .mode = "decimal",
                                        .required = true});
                   });
  out += clue_form(view, "lh_surge", "LH surge", "The day it was judged to be.");
  out += clue_form(view, "ovulation", "Ovulation", "The day it was judged to be.");
  out += clue_form(view, "dioestrus", "First day of dioestrus", "From vaginal smears: the first day after the change.");
  out += clue_form(view, "pup_count", "Count of pups", "", [](Form& form) {
    return form.choice("method", "Seen by", {{"xray", "X-ray"}, {"ultrasound", "Ultrasound"}}, "xray", true) +
           form.field("pups", "Pups counted", {.mode = "numeric", .required = true}) +
           form.choice("at_least", "The count is", {{"true", "A minimum"}, {"false", "Exact, says the vet"}}, "true");
  });
  out += clue_form(view, "foetal_measure", "Scan of the pups",
                   "One measure a form. Several pups measured on one day: one form each.", [](Form& form) {
                     return form.choice("measure", "Measured",
                                        {{"ICC", "Sac, inside (ICC)"},
                                         {"BPD", "Head, across (BPD)"},
                                         {"BD", "Body, across (BD)"},
                                         {"CRL", "Crown to rump (CRL)"},
                                         {"DPTV", "Brain vesicle (DPTV)"}},
                                        "", true) +
                            form.field("mm", "Millimetres", {.mode = "decimal", .required = true});
                   });
  out += clue_form(
      view, "earlier_litter", "An earlier litter of hers",
      "How long she carried, and how its pups gained. One alone is hardly heard; several are.", [](Form& form) {
        return form.choice("from", "Counted from",
                           {{"mating", "First mating"}, {"ovulation", "Ovulation"}, {"lh_surge", "LH surge"}}, "",
                           true) +
               form.field("days", "Days until the first pup", {.mode = "decimal", .required = true}) +
               form.field(
                   "gain_pct", "Its pups' gain, % of the usual",
                   {.hint = "Its Weigh-in screen tells it. 100 is as usual; may stay empty.", .mode = "decimal"});
      });
  return div("panels", out);
}

/// "Can I go to the wedding on Saturday?": the chance that the first pup comes while the keeper is away.
Html may_i_go(const View& view) {
  const auto* f = reference::value_of(view.assessment.due);
  if (f == nullptr) return {};
  const auto asked = [&](const char* name) {
    const auto it = view.query.find(name);
    return it == view.query.end() ? std::string{} : it->second;
  };
  const auto moment =
      [&](const std::string& typed) -> std::optional<Instant> {  // "2026-10-03T12:00", on the wall clock
    const auto day = parse_day(std::string_view(typed).substr(0, 10));
    const auto as_utc = parse_stamp(typed + "Z");
    if (!day || !as_utc) return std::nullopt;
    const Instant midnight{day->time_since_epoch()};
    return view.litter.zone.instant_of(*day, std::chrono::floor<Minutes>(as_utc->instant - midnight));
  };
  Html body;
  const auto away = moment(asked("away")), back = moment(asked("back_at"));
  if (away && back && *away < *back) {
    const Zone& zone = view.litter.zone;
    const double before = f->between(std::min(view.now - std::chrono::hours{1}, *away), *away);
    const std::string when = say_day_time(zone, *away) + " to " + say_day_time(zone, *back);
    body += p("answer", text("First pup while you are away, " + when + ": " + say_chance(f->between(*away, *back)) +
                             ". Before you would leave: " + say_chance(before) + "."));
    body +=
        p("hint",
          text("Somebody who knows what to do should be with her all the same. Ask again after the next temperature."));
  } else if (!asked("away").empty() || !asked("back_at").empty()) {
    body += p("conflict", text("Give both times, and come back after you leave."));
  }
  const auto field = [&](const char* name, std::string_view label) {
    const std::string id = std::string("go-out-") + name;
    return div("field",
               element("label", {{"for", id}}, text(label)) +
                   element("input", {{"id", id}, {"type", "datetime-local"}, {"name", name}, {"value", asked(name)}}));
  };
  body += element("form", {{"method", "get"}, {"action", litter_href(view.litter, "due")}, {"class", "stack"}},
                  field("away", "Away from") + field("back_at", "Back at") + Form::submit("What is the chance?"));
  return element("section", {{"class", "card"}}, h2(text("Can I go out?")) + body);
}

/// What no date may be used for without a vet.
Html cautions(const View& view) {
  if (reference::value_of(view.assessment.due) == nullptr) return {};
  Html body =
      p("", text("A planned section is for your vet alone to time, with progesterone and a scan: this forecast is not "
                 "exact enough. Published as safe: day 61 to 65 after ovulation. A mating alone dates no section."));
  body += p("", text("Pups born on day 56 after ovulation are immature, and earlier ones seldom live. Straining or a "
                     "pup before day 57 after ovulation (59 after the LH surge, 54 of dioestrus, 56 after the first "
                     "mating): ring your vet at once."));
  body += p("", text("One or two pups: labour may not begin by itself, and progesterone may not fall. Agree a last day "
                     "with your vet beforehand."));
  return fold_away(text("Sections, early pups and other cautions"), body, false, "panel");
}

}  // namespace

std::string due_page(const View& view) {
  Html main = live("urgent", urgent_findings(view, false));
  main += live("window", window(view)) + may_i_go(view) + live("clues", clues(view)) + cautions(view);
  main += element("section", {{"class", "card"}, {"id", "dam"}},
                  h2(text("Her temperature")) + temperature_form(view, "dam-temperature", "dam", "Rectal", "due") +
                      live("temperatures", dam_temperature_chart(view) + dam_temperatures(view)));
  main += element("section", {}, h2(text("Write down a clue")) + clue_forms(view));
  return page_of(view, {.title = "Due", .screen = "due", .back = ""}, main);
}

}  // namespace lampside::page
