// "Turns at the teats": the list of a day beside the box, each change to tick.
#include <fmt/format.h>

#include <algorithm>

#include "draw/lettering.hpp"
#include "nest/figures.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

using nest::TurnPlan;
using nest::TurnShift;

constexpr double kTime = mm(42), kGroup = mm(20), kBox = mm(5.5), kSpot = mm(1.7), kSmallRow = mm(6);

/// The pups of a shift: a spot, the label and the collar of each, on as many lines as they take.
double draw_pups(Canvas* canvas, const Canvas& ruler, const Made& made, Area cell, const TurnShift& shift) {
  const Font font{10, draw::Weight::regular, draw::kInk};
  double x = cell.x, y = cell.y + mm(5);
  for (const auto& label : shift.pups) {
    const auto* pup = made.litter.pup(label);
    const std::string name = label + (pup && !pup->collar().empty() ? " " + pup->collar() : "");
    const double width = 2 * kSpot + mm(1.2) + ruler.text_width(name, font) + mm(3.5);
    if (x > cell.x && x + width > cell.right()) x = cell.x, y += kSmallRow;
    if (canvas) {
      if (pup) draw_spot(*canvas, {x + kSpot, y - mm(1.2)}, kSpot, pup->collar());
      canvas->text({x + 2 * kSpot + mm(1.2), y}, name, font, Align::left);
    }
    x += width;
  }
  return y - cell.y + mm(3.2);
}

double draw_shift(Canvas* canvas, const Canvas& ruler, const Made& made, Area row, const TurnShift& shift) {
  const double words = row.x + kTime + kGroup;
  const double height = draw_pups(canvas, ruler, made, {words, row.y, row.right() - mm(16) - words, 0}, shift);
  if (!canvas) return height;
  const Font bold{11, draw::Weight::bold, draw::kInk}, small{8.5, draw::Weight::regular, draw::kMuted};
  const auto& zone = made.litter.zone;
  const std::string when = say_time(zone, shift.from) + " - " + say_time(zone, shift.to);
  canvas->text({row.x, row.y + mm(5)}, when, bold, Align::left);
  if (shift.wakes)
    canvas->text({row.x + ruler.text_width(when, bold) + mm(1.5), row.y + mm(5)}, "night", small, Align::left);
  canvas->text({row.x + kTime, row.y + mm(5)}, fmt::format("Group {}", shift.group + 1), bold, Align::left);
  canvas->rect({row.right() - kBox - mm(1), row.y + mm(1.4)}, {kBox, kBox}, std::nullopt, Pen{draw::kMuted, 1.1, {}},
               mm(0.8));
  canvas->line({row.x, row.y + height}, {row.right(), row.y + height}, {draw::kGrid, 0.5, {}});
  return height;
}

std::vector<Run> lead(const Made& made, const TurnPlan* plan) {
  const Font plain{10.5, draw::Weight::regular, draw::kInk}, bold{12, draw::Weight::bold, draw::kInk};
  const auto& t = made.assessment.turns;
  if (!plan) {
    const auto& why = std::get<reference::NotAssessed>(t.plan);
    std::vector<Run> out{{"No list of turns: " + why.why + ".", bold}};
    if (!t.would_do.empty()) out.push_back({"It would do with " + t.would_do + ".", plain});
    if (why.code == "OFF" || why.code == "NO_TEATS")
      out.push_back(
          {"Begin on the screen Nest, under Turns at the teats: how many of her teats give milk (squeeze each: "
           "a drop is enough), how long a session takes, when you sleep. Then print this list again.",
           plain});
    if (why.code.starts_with("TURNS_"))
      out.push_back(
          {"Ring your vet before a pup goes hungry. Change the turns on the screen Nest, or write down there who "
           "is fed by hand, and print this list again.",
           plain});
    if (why.code == "NO_REFERENCE") out.push_back({"From four weeks on they eat from the dish.", plain});
    return out;
  }
  const auto* target = reference::value_of(made.assessment.nest.target);
  const auto unit = made.litter.units().temperature;
  std::vector<Run> out{
      {fmt::format("{} at {} that give milk, from {}.", nest::counted(t.pups, "pup", "pups"),
                   nest::counted(*t.teats, "teat", "teats"), say_day_time(made.litter.zone, plan->shifts.front().from)),
       bold}};
  for (std::size_t g = 0; g < plan->groups.size(); ++g)
    out.push_back(
        {fmt::format("Group {}: never longer than {} off the teats.", g + 1, say_span(plan->groups[g].gap)), plain});
  out.push_back({"The smallest to a teat first. Those who wait lie warm" +
                     (target ? ", " + say(target->low, unit) + " to " + say(target->high, unit) : std::string{}) +
                     ", a thermometer beside them.",
                 plain});
  out.push_back({"Breeders' practice, no trial: the scale decides. Your vet's word comes first.",
                 {9, draw::Weight::regular, draw::kMuted}});
  return out;
}

}  // namespace

Form turns(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const Area body = body_of(form.paper);
  const auto* plan = reference::value_of(made.assessment.turns.plan);
  if (plan && plan->shifts.empty()) plan = nullptr;
  const auto runs = lead(made, plan);
  const double above = paragraph(nullptr, made.ruler, {0, 0}, body.width, runs) + mm(4);
  std::vector<std::vector<TurnShift>> pages(1);
  double y = above;
  if (plan)
    for (const auto& shift : plan->shifts) {
      const double height = draw_shift(nullptr, made.ruler, made, body, shift);
      if (y + height > body.height) pages.emplace_back(), y = 0;
      pages.back().push_back(shift);
      y += height;
    }
  for (std::size_t n = 0; n < pages.size(); ++n)
    form.pages.push_back([&made, runs, shifts = pages[n], top = n == 0 ? above : 0.0](Canvas& canvas, Area area) {
      if (top > 0) paragraph(&canvas, made.ruler, {area.x, area.y}, area.width, runs);
      double at = area.y + top;
      for (const auto& shift : shifts) at += draw_shift(&canvas, made.ruler, made, {area.x, at, area.width, 0}, shift);
    });
  return form;
}

}  // namespace lampside::paper
