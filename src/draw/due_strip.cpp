#include "draw/due_strip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw/palette.hpp"
#include "draw/svg.hpp"

namespace lampside::draw {
namespace {

using std::chrono::days;
using std::chrono::hours;

/// Whole civil days that hold the window; between three and ten, so that a day keeps a readable width.
struct Stretch {
  CivilDay first, last;
};
Stretch stretch_of(const DueStrip& s) {
  CivilDay first = s.zone.day_of(s.p05), last = s.zone.day_of(s.p95);
  if (s.now && *s.now > s.p05 - hours{36} && *s.now < s.p05) first = std::min(first, s.zone.day_of(*s.now));
  while ((last - first).count() < 2) last += days{1};
  if ((last - first).count() > 11) last = first + days{11};
  return {first, last};
}

}  // namespace

void draw_due_strip(Canvas& canvas, Area area, const DueStrip& s, double font_size) {
  const Stretch stretch = stretch_of(s);
  const long count = (stretch.last - stretch.first).count() + 1;
  const double wide = area.width / static_cast<double>(count);
  const double foot = font_size * 1.9, head = font_size * 1.5;
  const Area plot{area.x, area.y + head, area.width, area.height - head - foot};
  // By wall clock: a night with 23 or 25 hours is as wide as any other.
  const auto x_of = [&](Instant t) {
    const double day = static_cast<double>((s.zone.day_of(t) - stretch.first).count()) +
                       static_cast<double>(s.zone.time_of_day(t).count()) / 1440;
    return plot.x + std::clamp(day, 0.0, static_cast<double>(count)) * wide;
  };
  for (long d = 0; d < count; ++d) {
    const double x = plot.x + static_cast<double>(d) * wide;
    canvas.rect({x, plot.y}, {wide / 4, plot.height}, kNight, std::nullopt, 0);
    canvas.rect({x + wide * 21 / 24, plot.y}, {wide / 8, plot.height}, kNight, std::nullopt, 0);
  }
  const double top = s.density.empty() ? 0 : *std::max_element(s.density.begin(), s.density.end());
  const auto hill = [&](Instant a, Instant b, Colour fill, double opacity) {
    std::vector<Point> points;
    const auto height_at = [&](std::size_t i) {
      return top > 0 ? plot.bottom() - s.density[i] / top * plot.height * 0.92 : plot.bottom();
    };
    for (std::size_t i = 0; i < s.density.size(); ++i) {
      const Instant t = s.from + hours{static_cast<long>(i)};
      if (t < a || t > b || s.zone.day_of(t) < stretch.first || s.zone.day_of(t) > stretch.last) continue;
      if (points.empty()) points.push_back({x_of(t), plot.bottom()});
      points.push_back({x_of(t), height_at(i)});
    }
    if (points.size() < 2) return;
    points.push_back({points.back().x, plot.bottom()});
    canvas.polygon(points, fill, opacity);
  };
  hill(s.from, s.from + hours{static_cast<long>(s.density.size())}, kHill, 0.85);
  hill(s.p25, s.p75, kHalf, 0.95);
  canvas.line({plot.x, plot.bottom()}, {plot.right(), plot.bottom()}, {kInk, 0.9, {}});
  for (long d = 0; d <= count; ++d) {
    const double x = plot.x + static_cast<double>(d) * wide;
    canvas.line({x, plot.bottom()}, {x, plot.bottom() + font_size * 0.4}, {kMuted, 0.7, {}});
    if (d == count) break;
    const std::string said = say_day(stretch.first + days{d});  // "Mon 5 Oct"
    const Font font{font_size, Weight::regular, kInk};
    const std::string number = said.substr(0, said.rfind(' '));
    canvas.text({x + wide / 2, plot.bottom() + font_size * 1.5},
                canvas.text_width(said, font) < wide * 0.92     ? said
                : canvas.text_width(number, font) < wide * 0.92 ? number
                                                                : number.substr(number.find(' ') + 1),
                font, Align::centre);
  }
  const auto mark = [&](Instant t, std::string_view word, const Pen& pen, Weight weight) {
    const double x = x_of(t);
    canvas.line({x, plot.y}, {x, plot.bottom()}, pen);
    const Font font{font_size, weight, kInk};
    const double half = canvas.text_width(word, font) / 2;
    canvas.text({std::clamp(x, area.x + half, area.right() - half), area.y + font_size}, word, font, Align::centre);
  };
  mark(s.p50, say_time(s.zone, s.p50), {kInk, 1.2, {}}, Weight::bold);
  if (s.now && *s.now >= s.zone.start_of(stretch.first) && *s.now < s.zone.start_of(stretch.last + days{1}) &&
      std::fabs(x_of(*s.now) - x_of(s.p50)) > font_size * 4)
    mark(*s.now, "now", {kAlarm, 1.1, {3, 2}}, Weight::regular);
}

std::string due_strip_svg(const DueStrip& s, Size size) {
  SvgCanvas canvas{size, s.title,
                   fmt::format("most likely {}, nine times in ten between {} and {}", say_day_time(s.zone, s.p50),
                               say_day_time(s.zone, s.p05), say_day_time(s.zone, s.p95))};
  draw_due_strip(canvas, {0, 0, size.width, size.height}, s, 12);
  return canvas.str();
}

}  // namespace lampside::draw
