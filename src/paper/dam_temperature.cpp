// The dam's temperature: a grid to mark dots on, the figures below, and what a drop means.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr int kDays = 14;  // to a sheet
constexpr double kAxis = mm(24), kDates = mm(7), kSlotRow = mm(7.4);

/// The times of day on paper. Night runs past midnight and belongs to the evening it began on.
struct Slot {
  std::string_view name, hours;
};
constexpr std::array kSlots{Slot{"Morning", "5-11"}, Slot{"Noon", "11-16"}, Slot{"Evening", "16-21"},
                            Slot{"Night", "21-5"}};

struct Placed {
  CivilDay day;
  std::size_t slot;
};
Placed place(const Zone& zone, Instant t) {
  const auto day = zone.day_of(t);
  const auto minutes = zone.time_of_day(t);
  if (minutes < hours{5}) return {day - days{1}, 3};
  return {day, minutes < hours{11} ? 0u : minutes < hours{16} ? 1u : minutes < hours{21} ? 2u : 3u};
}

/// The scale of the grid in the keeper's unit: a line every `step`, a number every `numbered` lines.
struct Scale {
  double low, high, step;
  int numbered;
  bool fahrenheit;
  [[nodiscard]] double value(Celsius c) const { return fahrenheit ? to_fahrenheit(c) : c.count(); }
  [[nodiscard]] int lines() const { return static_cast<int>(std::lround((high - low) / step)); }
};
Scale scale_of(const record::Litter& litter) {
  const bool f = litter.units().temperature == TemperatureUnit::fahrenheit;
  Scale scale = f ? Scale{97, 103, 0.2, 5, true} : Scale{36, 39.5, 0.1, 5, false};
  for (const auto& t : litter.dam_temperatures) {  // a fever or a deep low still finds its place
    scale.low = std::min(scale.low, std::floor(scale.value(t.what.celsius)));
    scale.high = std::max(scale.high, std::ceil(scale.value(t.what.celsius)));
  }
  return scale;
}

const reference::TemperatureRule* drop_rule(const reference::Reference& reference) {
  const auto rules = reference::rules_of(reference.temperature_rules, "DAM_TEMP_DROP");
  return rules.empty() ? nullptr : rules.front();
}

std::vector<std::vector<Run>> meaning(const Made& made) {
  std::vector<std::vector<Run>> out;
  if (const auto* rule = drop_rule(made.reference)) {
    auto runs = rule_runs(*rule, 7.8);
    runs.insert(runs.begin() + 1, {std::string(rule->words.why), {7.8, draw::Weight::regular, draw::kInk}});
    runs.insert(runs.begin() + 3, {std::string(rule->words.do_not), {7.8, draw::Weight::regular, draw::kInk}});
    out.push_back(std::move(runs));
  }
  std::vector<Run> clock;
  for (const auto* rule : reference::rules_of(made.reference.span_rules, "DROP_CLOCK"))
    if (rule->level <= reference::Level::call_vet)
      for (auto& run : rule_runs(*rule, 7.8)) clock.push_back(std::move(run));
  if (!clock.empty()) out.push_back(std::move(clock));
  return out;
}
double meaning_height(const Made& made, double width) {
  double height = mm(1.5);
  for (const auto& runs : meaning(made)) height += paragraph(nullptr, made.ruler, {0, 0}, width, runs) + mm(0.5);
  return height;
}

void draw_grid(Canvas& canvas, Area grid, const Scale& scale, const Made& made) {
  const Font number{8, draw::Weight::regular, draw::kMuted};
  const auto height_of = [&](double v) {
    return grid.bottom() - (v - scale.low) / (scale.high - scale.low) * grid.height;
  };
  for (int i = 0; i <= scale.lines(); ++i) {
    const double value = scale.low + i * scale.step, y = height_of(value);
    const bool strong = i % scale.numbered == 0;
    canvas.line({grid.x, y}, {grid.right(), y}, strong ? kHairline : Pen{draw::kGrid, 0.35, {}});
    if (strong && i > 0)  // the lowest would stand in the table below
      canvas.text({grid.x - mm(1.5), y + 2.8}, fmt::format("{:.1f} {}", value, scale.fahrenheit ? "°F" : "°C"), number,
                  Align::right);
  }
  const double day = grid.width / kDays;
  for (int d = 0; d <= kDays; ++d) {
    const double x = grid.x + d * day;
    canvas.line({x, grid.y - kDates}, {x, grid.bottom() + 4 * kSlotRow},
                d == 0 || d == kDays ? kRule : Pen{draw::kHair, 0.7, {}});
    for (int s = 1; s < 4 && d < kDays; ++s)
      canvas.line({x + s * day / 4, grid.y}, {x + s * day / 4, grid.bottom()}, {draw::kGrid, 0.35, {}});
  }
  if (const auto* rule = drop_rule(made.reference)) {
    const double y = height_of(scale.value(rule->limit));
    canvas.line({grid.x, y}, {grid.right(), y}, {draw::kAlarm, 1.1, {4, 2.5}});
    const auto unit = scale.fahrenheit ? TemperatureUnit::fahrenheit : TemperatureUnit::celsius;
    const std::string says = say(rule->limit, unit);
    const Font bold{8.5, draw::Weight::bold, draw::kAlarm};
    canvas.rect({grid.x - mm(1.5) - canvas.text_width(says, bold), y - 5}, {canvas.text_width(says, bold) + 2, 10},
                draw::kPaper, std::nullopt, 0);
    canvas.text({grid.x - mm(1.5), y + 3}, says, bold, Align::right);
  }
}

void draw_page(Canvas& canvas, Area body, const Made& made, CivilDay first) {
  const auto& litter = made.litter;
  const Scale scale = scale_of(litter);
  const double below = 4 * kSlotRow + meaning_height(made, body.width) + mm(2);
  const Area grid{body.x + kAxis, body.y + kDates, body.width - kAxis, body.height - kDates - below};
  const double wide = grid.width / kDays;
  draw_grid(canvas, grid, scale, made);

  for (int d = 0; d < kDays; ++d) {
    const CivilDay day = first + days{d};
    const bool today = day == litter.zone.day_of(made.assessment.at);
    draw_cell(canvas, {grid.x + d * wide, grid.y - kDates, wide, kDates}, say_day(day),
              {8.5, today ? draw::Weight::bold : draw::Weight::regular, draw::kInk});
  }
  canvas.line({grid.x, grid.y - kDates}, {grid.right(), grid.y - kDates}, kRule);
  for (int s = 0; s <= 4; ++s) {
    const double y = grid.bottom() + s * kSlotRow;
    canvas.line({body.x, y}, {body.right(), y}, s == 0 || s == 4 ? kRule : kHairline);
    if (s == 4) break;
    const auto& slot = kSlots[static_cast<std::size_t>(s)];
    draw_cell(canvas, {body.x, y, mm(14), kSlotRow}, slot.name, {8.5, draw::Weight::regular, draw::kInk}, Align::left);
    draw_cell(canvas, {body.x + mm(13), y, kAxis - mm(13), kSlotRow}, slot.hours,
              {7.5, draw::Weight::regular, draw::kMuted}, Align::right);
  }

  std::vector<std::array<std::string, 4>> cells(kDays);
  std::vector<Point> dots;
  for (const auto& t : litter.dam_temperatures) {
    const auto at = place(litter.zone, t.at);
    const auto d = (at.day - first).count();
    if (d < 0 || d >= kDays) continue;
    auto& cell = cells[static_cast<std::size_t>(d)][at.slot];
    cell += (cell.empty() ? "" : "  ") + fmt::format("{:.1f}", scale.value(t.what.celsius));
    const double x = grid.x + (static_cast<double>(d) + (static_cast<double>(at.slot) + 0.5) / 4) * wide;
    dots.push_back(
        {x, grid.bottom() - (scale.value(t.what.celsius) - scale.low) / (scale.high - scale.low) * grid.height});
  }
  if (const auto birth = litter.first_birth()) {
    const auto at = place(litter.zone, *birth);
    const auto d = (at.day - first).count();
    if (d >= 0 && d < kDays) {
      const double x = grid.x + (static_cast<double>(d) + (static_cast<double>(at.slot) + 0.5) / 4) * wide;
      canvas.line({x, grid.y}, {x, grid.bottom()}, {draw::kInk, 0.9, {1.5, 2}});
      canvas.text({x + 3, grid.y + 10}, "first pup " + say_time(litter.zone, *birth),
                  {8, draw::Weight::regular, draw::kInk}, Align::left);
    }
  }
  canvas.polyline(dots, {draw::kInk, 0.9, {}});
  for (const auto& dot : dots) canvas.circle(dot, 2.1, draw::kInk, std::nullopt);
  for (int d = 0; d < kDays; ++d)
    for (std::size_t s = 0; s < 4; ++s)
      draw_cell(canvas, {grid.x + d * wide, grid.bottom() + static_cast<double>(s) * kSlotRow, wide, kSlotRow},
                cells[static_cast<std::size_t>(d)][s], {9, draw::Weight::regular, draw::kInk});

  double y = grid.bottom() + 4 * kSlotRow + mm(1.5);
  for (const auto& runs : meaning(made)) y += paragraph(&canvas, made.ruler, {body.x, y}, body.width, runs) + mm(0.5);
}

}  // namespace

Form dam_temperature(const Made& made) {
  const auto& litter = made.litter;
  Form form;
  form.paper = paper_size(made.sheet, Turn::landscape);

  // From the first reading; with none yet from today, or a week before she is due when that is still to come.
  CivilDay first = litter.zone.day_of(made.assessment.at), last = first;
  if (!litter.dam_temperatures.empty()) {
    first = place(litter.zone, litter.dam_temperatures.front().at).day;
    last = place(litter.zone, litter.dam_temperatures.back().at).day;
  } else if (const auto* due = reference::value_of(made.assessment.due)) {
    first = std::max(first, litter.zone.day_of(due->p50) - days{8});
  }
  for (CivilDay day = first; day == first || day <= last; day += days{kDays})
    form.pages.push_back([&made, day](Canvas& canvas, Area area) { draw_page(canvas, area, made, day); });
  return form;
}

}  // namespace lampside::paper
