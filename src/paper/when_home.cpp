// "When to be home": one sheet for the fridge, so that the whole house knows.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw/due_strip.hpp"
#include "due/told.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr double kText = 12;

struct Line {
  std::string what, says;
};

/// From then on somebody stays with her.
std::string home_from(const record::Litter& litter, const due::Forecast& f, Instant now) {
  return f.home_from <= now ? "now on" : say_day_time(litter.zone, due::told_early(f.home_from));
}

void draw_page(Canvas& canvas, Area body, const Made& made) {
  const auto& litter = made.litter;
  const auto* f = reference::value_of(made.assessment.due);
  const Font plain{kText, draw::Weight::regular, draw::kInk}, bold{kText, draw::Weight::bold, draw::kInk};
  double y = body.y + mm(4);
  const auto words = [&](const std::string& text, const Font& font, double after) {
    y += paragraph(&canvas, made.ruler, {body.x, y}, body.width, {{text, font}}) + after;
  };
  if (!f) {
    const auto& why = std::get<reference::NotAssessed>(made.assessment.due);
    words("No date to show", {22, draw::Weight::bold, draw::kInk}, mm(3));
    words(why.code == "PAST" ? "She has whelped." : "There is nothing to reckon from yet: " + why.why + ".", plain, 0);
    return;
  }
  words("Somebody at home from " + home_from(litter, *f, made.assessment.at), {22, draw::Weight::bold, draw::kInk},
        mm(2));
  words(fmt::format("First pup most likely {}. Nine times in ten between {} and {}.",
                    say_day_time(litter.zone, due::told(f->p50)), say_day_time(litter.zone, due::told(f->p05)),
                    say_day_time(litter.zone, due::told(f->p95))),
        {14, draw::Weight::regular, draw::kInk}, mm(5));
  draw::draw_due_strip(canvas, {body.x, y, body.width, mm(62)},
                       {f->from, f->density, due::told(f->p05), f->p25, due::told(f->p50), f->p75, due::told(f->p95),
                        made.assessment.at, litter.zone},
                       10);
  y += mm(64);
  words("Grey columns are nights. The dark part of the hill is the likelier half.",
        {9, draw::Weight::regular, draw::kMuted}, mm(6));

  std::vector<Line> lines;
  lines.push_back({"Whelping box ready by", say_day(litter.zone.day_of(f->box_by))});
  lines.push_back({"Temperature three times a day from", say_day(litter.zone.day_of(f->opens - hours{72}))});
  lines.push_back({"Somebody at home from", home_from(litter, *f, made.assessment.at)});
  const auto ring = advice::say_ring_by(made.assessment, *f, reference::built_in(), litter.zone);
  lines.push_back(
      {"Still nothing? Ring the vet by", ring + (ring == "now" ? "" : ", or earlier if a red flag says so")});
  const auto& vet = litter.facts.vet;
  lines.push_back({"Vet", vet && vet->phone ? *vet->phone : ""});
  lines.push_back({"Vet at night", vet && vet->night_phone ? *vet->night_phone : ""});
  lines.push_back({"Drive", vet && vet->minutes_away ? fmt::format("{} min", *vet->minutes_away) : ""});
  lines.push_back({"Who drives", ""});
  for (const Line& line : lines) {
    canvas.text({body.x, y + mm(6)}, line.what, plain, Align::left);
    canvas.text({body.x + mm(80), y + mm(6)}, line.says, bold, Align::left);
    canvas.line({body.x + mm(80), y + mm(7.6)}, {body.right(), y + mm(7.6)}, kHairline);
    y += mm(9.4);
  }
  y += mm(4);
  words("Reckoned from:", bold, mm(1));
  for (const auto& clue : f->clues) words("- " + clue.says, {10, draw::Weight::regular, draw::kInk}, mm(0.4));
  for (const auto& a : f->adjustments) words("- " + a.says, {10, draw::Weight::regular, draw::kInk}, mm(0.4));
  for (const auto& conflict : f->conflicts) words("! " + conflict.says, {10, draw::Weight::bold, draw::kInk}, mm(0.4));
  y += mm(2);
  words("This is a forecast. It does not replace her temperature, your eyes, or a red flag.",
        {10, draw::Weight::regular, draw::kMuted}, 0);
}

}  // namespace

Form when_home(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  form.pages.push_back([&made](Canvas& canvas, Area body) { draw_page(canvas, body, made); });
  return form;
}

}  // namespace lampside::paper
