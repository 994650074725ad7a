#include "draw/charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "draw/axis.hpp"
#include "draw/lettering.hpp"
#include "draw/palette.hpp"
#include "draw/svg.hpp"

namespace lampside::draw {
namespace {

using std::chrono::days;
using std::chrono::duration;

constexpr double kMinutesADay = 24 * 60;

/// Civil days since `first`, with the time of day as the fraction. A day of 23 or 25 hours is as wide as any other.
double day_number(const Zone& zone, CivilDay first, Instant t) {
  const auto whole = zone.day_of(t) - first;
  return static_cast<double>(whole.count()) + static_cast<double>(zone.time_of_day(t).count()) / kMinutesADay;
}

std::string name_of_pup(const WeightSeries& pup) {
  return pup.collar.empty() || pup.collar == pup.label ? pup.label : pup.label + " " + pup.collar;
}

/// Where values land on the canvas.
struct Frame {
  Area plot;
  Axis x, y;
  [[nodiscard]] Point at(double day, double value) const {
    return {plot.x + x.share(day) * plot.width, plot.bottom() - y.share(value) * plot.height};
  }
};

/// Day ticks: every day, every second day or every week, whichever leaves room for the numbers. Ends with the last day.
Axis day_axis(double last, double width, double font_size) {
  const double fits = std::max(2.0, width / (font_size * 2.6));
  const double end = std::floor(last) + 1;
  return {0, end, end <= fits ? 1.0 : end / 2 <= fits ? 2.0 : 7.0};
}

void draw_grid(Canvas& canvas, const Frame& f, double font_size, const std::vector<std::string>& y_labels) {
  const Font font{font_size, Weight::regular, kMuted};
  const auto ticks = f.y.ticks();
  for (std::size_t i = 0; i < ticks.size(); ++i) {
    const Point p = f.at(f.x.low, ticks[i]);
    canvas.line(p, {f.plot.right(), p.y}, {kGrid, 0.6, {}});
    canvas.text({p.x - font_size * 0.5, p.y + font_size * 0.35}, y_labels[i], font, Align::right);
  }
  canvas.line({f.plot.x, f.plot.bottom()}, {f.plot.right(), f.plot.bottom()}, {kMuted, 0.8, {}});
}

void draw_day_numbers(Canvas& canvas, const Frame& f, double font_size) {
  const Font font{font_size, Weight::regular, kMuted};
  const double base = f.plot.bottom() + font_size * 1.35;
  for (const double day : f.x.ticks()) {
    const Point p = f.at(day, f.y.low);
    canvas.line(p, {p.x, p.y + font_size * 0.3}, {kMuted, 0.8, {}});
    // A civil day is a stretch, not a moment: its number stands below its middle.
    if (day < f.x.high) canvas.text({f.at(day + 0.5, f.y.low).x, base}, say_number(day, 0), font, Align::centre);
  }
  canvas.text({f.plot.x + f.plot.width / 2, base + font_size * 1.3}, "days since the first birth", font, Align::centre);
}

void draw_curve(Canvas& canvas, const std::vector<Point>& points, const Pen& pen, std::size_t n, double radius,
                bool all_markers) {
  canvas.polyline(points, pen);
  // Enough markers to follow the line by, not so many that they hide it; staggered, so that pups close together differ.
  const double apart = all_markers ? radius * 3 : radius * 14;
  double last_x = -1e9;
  std::vector<Point> marked;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool end = i + 1 == points.size();
    if (!end && points[i].x - last_x < apart) continue;
    if (!end && !all_markers && i == 0 && n % 2 == 1 && points.size() > 3) continue;
    marked.push_back(points[i]);
    last_x = points[i].x;
  }
  draw_markers(canvas, marked, n, radius, pen.colour);
}

}  // namespace

Pen pen_of(std::string_view collar, std::size_t n, double width) {
  // With seven marker shapes, twenty-eight pups differ in shape and dash before a pair repeats.
  const std::array<std::vector<double>, 4> dashes{
      {{}, {width * 6, width * 2.5}, {width * 2, width * 2}, {width * 7, width * 2, width * 1.5, width * 2}}};
  return {line_colour(collar, n), width, dashes[n % dashes.size()]};
}

void draw_markers(Canvas& canvas, const std::vector<Point>& at, std::size_t n, double radius, Colour colour) {
  static const std::array<std::vector<Point>, 6> kShapes{{
      {{-0.9, -0.9}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, 0.9}},
      {{0, -1.2}, {1.1, 0.8}, {-1.1, 0.8}},
      {{0, -1.3}, {1.3, 0}, {0, 1.3}, {-1.3, 0}},
      {{0, 1.2}, {1.1, -0.8}, {-1.1, -0.8}},
      {{-0.4, -1.2},
       {0.4, -1.2},
       {0.4, -0.4},
       {1.2, -0.4},
       {1.2, 0.4},
       {0.4, 0.4},
       {0.4, 1.2},
       {-0.4, 1.2},
       {-0.4, 0.4},
       {-1.2, 0.4},
       {-1.2, -0.4},
       {-0.4, -0.4}},
      {{-1.3, -0.5}, {1.3, -0.5}, {1.3, 0.5}, {-1.3, 0.5}},
  }};
  const bool hollow = n / 7 % 2 == 1;
  const Pen outline{colour, radius * 0.45, {}};
  const Colour fill = hollow ? kPaper : colour;
  if (n % 7 == 0) {
    for (const Point& centre : at) canvas.circle(centre, radius, fill, outline);
    return;
  }
  std::vector<std::vector<Point>> rings;
  rings.reserve(at.size());
  for (const Point& centre : at) {
    auto& ring = rings.emplace_back(kShapes[n % 7 - 1]);
    for (auto& p : ring) p = {centre.x + p.x * radius, centre.y + p.y * radius};
  }
  canvas.shapes(rings, fill, outline);
}

namespace {

struct Value {
  Instant at;
  double value;  ///< grams, percent, or grams a day
};
std::vector<Value> values_of(const WeightSeries& pup, Shows shows) {
  std::vector<Value> out;
  for (std::size_t i = 0; i < pup.readings.size(); ++i) {
    const auto& r = pup.readings[i];
    if (shows == Shows::weight) {
      out.push_back({r.at, r.grams.count()});
    } else if (shows == Shows::percent_of_first) {
      if (pup.readings.front().grams > Grams{0}) out.push_back({r.at, 100 * (r.grams / pup.readings.front().grams)});
    } else if (i > 0) {
      const double in_days = duration<double, days::period>(r.at - pup.readings[i - 1].at).count();
      if (in_days > 0.1) out.push_back({r.at, (r.grams - pup.readings[i - 1].grams).count() / in_days});
    }
  }
  return out;
}

Axis axis_of(double low, double high, const WeightChart& chart, int wanted) {
  if (chart.shows == Shows::weight) {
    // So little between lightest and heaviest would blow every gram up to a cliff.
    if (high < low * 1.25) low *= 0.9, high *= 1.1;
    return weight_axis(low, high, chart.unit, wanted);
  }
  const double line = chart.shows == Shows::gain_a_day ? 0 : 100;
  low = std::min(low, line);
  high = std::max(high, line + (chart.shows == Shows::gain_a_day ? 10 : 20));
  return chart.shows == Shows::gain_a_day ? weight_axis(low, high, chart.unit, wanted) : round_axis(low, high, wanted);
}
std::string label_of(double tick, const WeightChart& chart) {
  if (chart.shows == Shows::percent_of_first) return say_number(tick, 0) + " %";
  return tick < 0 ? "\u2212" + say(Grams{-tick}, chart.unit) : say(Grams{tick}, chart.unit);
}

}  // namespace

void draw_weights(Canvas& canvas, Area area, const WeightChart& chart, double font_size) {
  const CivilDay first = chart.zone.day_of(chart.born);
  double low = 1e9, high = -1e9, last_day = 6;
  std::vector<std::vector<Value>> values;
  for (const auto& pup : chart.pups) {
    values.push_back(values_of(pup, chart.shows));
    for (const auto& v : values.back()) {
      low = std::min(low, v.value);
      high = std::max(high, v.value);
      last_day = std::max(last_day, day_number(chart.zone, first, v.at));
    }
  }
  const bool empty = high < low;
  if (empty) low = 0, high = 1000;

  const Font font{font_size, Weight::regular, kMuted};
  const int wanted = std::max(2, static_cast<int>(area.height / (font_size * 4)));
  const Axis y = axis_of(low, high, chart, wanted);
  std::vector<std::string> y_labels;
  double left = 0;
  for (const double t : y.ticks()) {
    y_labels.push_back(label_of(t, chart));
    left = std::max(left, canvas.text_width(y_labels.back(), font));
  }
  left += font_size * 0.8;

  double right = font_size;
  for (std::size_t n = 0; n < chart.pups.size(); ++n) {
    const auto& pup = chart.pups[n];
    const Font bold{font_size, Weight::bold, kInk};
    if (!values[n].empty()) right = std::max(right, canvas.text_width(name_of_pup(pup), bold) + font_size * 2.2);
  }
  right = std::min(right, area.width * 0.32);

  const Area plot{area.x + left, area.y + font_size * 0.6, area.width - left - right, area.height - font_size * 3.6};
  const Frame frame{plot, day_axis(last_day, plot.width, font_size), y};
  draw_grid(canvas, frame, font_size, y_labels);
  draw_day_numbers(canvas, frame, font_size);
  if (empty) {
    canvas.text({plot.x + plot.width / 2, plot.y + plot.height / 2}, "No weights yet",
                {font_size * 1.2, Weight::regular, kMuted}, Align::centre);
    return;
  }
  if (chart.shows != Shows::weight) {  // the line to be above: no gain, or the first weight
    const Point p = frame.at(frame.x.low, chart.shows == Shows::gain_a_day ? 0 : 100);
    canvas.line(p, {plot.right(), p.y}, {kInk, font_size * 0.07, {}});
  }
  for (const auto& pup : chart.pups) {
    if (chart.shows != Shows::weight || pup.label != chart.highlight || pup.spread.size() < 2) continue;
    std::vector<Point> around;
    around.reserve(2 * pup.spread.size());
    for (const auto& s : pup.spread)
      around.push_back(frame.at(day_number(chart.zone, first, s.at), std::min(s.high.count(), y.high)));
    for (auto s = pup.spread.rbegin(); s != pup.spread.rend(); ++s)
      around.push_back(frame.at(day_number(chart.zone, first, s->at), std::max(s->low.count(), y.low)));
    canvas.polygon(around, kHill, 0.55);
  }

  // Litter mates first, so that the highlighted pup lies on top.
  struct End {
    std::size_t pup;
    Point at;
    Pen pen;
    bool strong;
  };
  std::vector<End> ends;
  for (const bool strong : {false, true})
    for (std::size_t n = 0; n < chart.pups.size(); ++n) {
      const auto& pup = chart.pups[n];
      const bool chosen = pup.label == chart.highlight;
      if (values[n].empty() || chosen != strong) continue;
      std::vector<Point> points;
      points.reserve(values[n].size());
      for (const auto& v : values[n]) points.push_back(frame.at(day_number(chart.zone, first, v.at), v.value));
      const bool pale = !chart.highlight.empty() && !strong;
      Pen pen = pen_of(pup.collar, n, strong ? font_size * 0.24 : font_size * 0.12);
      if (pale) pen = {kMate, font_size * 0.09, pen.dashes};
      if (strong) pen.dashes.clear();
      draw_curve(canvas, points, pen, n, strong ? font_size * 0.32 : pale ? font_size * 0.2 : font_size * 0.28, strong);
      ends.push_back({n, points.back(), pen, strong});
    }

  std::vector<double> heights;
  heights.reserve(ends.size());
  for (const auto& e : ends) heights.push_back(e.at.y);
  const auto placed = spread(heights, font_size * 1.18, plot.y + font_size * 0.3, plot.bottom() - font_size * 0.2);
  const double gap =
      placed.size() < 2 ? font_size * 1.18 : (plot.height - font_size * 0.5) / static_cast<double>(placed.size() - 1);
  const double letters = std::min(font_size, gap / 1.05);
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const auto& e = ends[i];
    const Point knee{plot.right() + font_size * 1.7, placed[i]};
    // A pup that died or left ends early: its long leader is dotted, or it would look like a curve that goes on.
    const bool far = knee.x - e.at.x > font_size * 5;
    const Pen leader{kHair, 0.5, far ? std::vector<double>{0.8, font_size * 0.35} : std::vector<double>{}};
    canvas.polyline({{e.at.x + font_size * 0.4, e.at.y}, knee}, leader);
    const Colour colour = e.strong || chart.highlight.empty() ? kInk : kMuted;
    const Font label{letters, e.strong ? Weight::bold : Weight::regular, colour};
    const double room = area.right() - knee.x - font_size * 0.2;
    canvas.text({knee.x + font_size * 0.2, knee.y + letters * 0.35},
                fit(canvas, name_of_pup(chart.pups[e.pup]), label, room), label, Align::left);
  }
}

std::string weight_chart_svg(const WeightChart& chart, Size size) {
  std::string said;
  for (const auto& pup : chart.pups) {
    if (pup.readings.empty()) continue;
    said += fmt::format("{}{}: {}", said.empty() ? "" : "; ", name_of_pup(pup),
                        say(pup.readings.front().grams, chart.unit));
    if (pup.readings.size() > 1) said += fmt::format(" to {}", say(pup.readings.back().grams, chart.unit));
  }
  SvgCanvas canvas{size, chart.title, said.empty() ? "No weights yet" : said};
  draw_weights(canvas, {0, 0, size.width, size.height}, chart, 12);
  return canvas.str();
}

void draw_temperatures(Canvas& canvas, Area area, const TemperatureChart& chart, double font_size) {
  const bool fahrenheit = chart.unit == TemperatureUnit::fahrenheit;
  const auto shown = [&](Celsius c) { return fahrenheit ? to_fahrenheit(c) : c.count(); };
  double low = shown(chart.limit.value_or(Celsius{37.5})) - (fahrenheit ? 1 : 0.5);
  double high = low + (fahrenheit ? 4 : 2);
  for (const auto& r : chart.readings) low = std::min(low, shown(r.celsius)), high = std::max(high, shown(r.celsius));

  const Font font{font_size, Weight::regular, kMuted};
  const Axis y = round_axis(low, high, std::max(3, static_cast<int>(area.height / (font_size * 3.5))));
  std::vector<std::string> y_labels;
  double left = 0;
  for (const double t : y.ticks()) {
    y_labels.push_back(fmt::format("{:.1f}", t) + (fahrenheit ? " °F" : " °C"));
    left = std::max(left, canvas.text_width(y_labels.back(), font));
  }
  left += font_size * 0.8;

  // Above the plot stands the label of the first pup, clear of a reading at the top.
  Area plot{area.x + left, area.y + font_size * 1.9, area.width - left - font_size, area.height - font_size * 3.7};
  if (chart.readings.empty()) {
    draw_grid(canvas, {plot, {0, 1, 1}, y}, font_size, y_labels);
    canvas.text({plot.x + plot.width / 2, plot.y + plot.height / 2}, "No readings yet",
                {font_size * 1.2, Weight::regular, kMuted}, Align::centre);
    return;
  }

  const CivilDay first = chart.zone.day_of(chart.readings.front().at);
  double last = day_number(chart.zone, first, chart.readings.back().at);
  if (chart.first_pup) last = std::max(last, day_number(chart.zone, first, *chart.first_pup));
  const double day_width = canvas.text_width("Wed 29 Mar", font) + font_size;
  double step = 1;  // days; the widest step leaves one label
  while (step <= last && (std::floor(last / step) + 1) * day_width > plot.width) ++step;
  const Frame frame{plot, {0, (std::floor(last / step) + 1) * step, step}, y};
  draw_grid(canvas, frame, font_size, y_labels);
  for (const double day : frame.x.ticks()) {
    const Point p = frame.at(day, y.low);
    canvas.line(p, {p.x, plot.y}, {kGrid, 0.6, {}});
    if (day + step <= frame.x.high + 1e-9) {
      const CivilDay date = first + days{std::lround(day)};
      canvas.text({p.x + font_size * 0.2, plot.bottom() + font_size * 1.35}, say_day(date), font, Align::left);
    }
  }

  if (chart.limit) {
    const Point p = frame.at(0, shown(*chart.limit));
    canvas.line(p, {plot.right(), p.y}, {kAlarm, font_size * 0.11, {font_size * 0.5, font_size * 0.35}});
    canvas.text({plot.x + font_size * 0.3, p.y - font_size * 0.35}, say(*chart.limit, chart.unit),
                {font_size, Weight::bold, kAlarm}, Align::left);
  }
  if (chart.first_pup) {
    const double day = day_number(chart.zone, first, *chart.first_pup);
    if (day >= 0) {
      const Point p = frame.at(day, y.low);
      canvas.line(p, {p.x, plot.y}, {kInk, font_size * 0.09, {}});
      const bool room_right = p.x + canvas.text_width("first pup 00:00", font) < area.right();
      canvas.text({p.x + (room_right ? 3 : -3), plot.y - font_size * 0.75},
                  "first pup " + say_time(chart.zone, *chart.first_pup), {font_size, Weight::regular, kInk},
                  room_right ? Align::left : Align::right);
    }
  }

  std::vector<Point> points;
  std::size_t lowest = 0;
  for (std::size_t i = 0; i < chart.readings.size(); ++i) {
    const auto& r = chart.readings[i];
    points.push_back(frame.at(day_number(chart.zone, first, r.at), shown(r.celsius)));
    if (r.celsius < chart.readings[lowest].celsius) lowest = i;
  }
  draw_curve(canvas, points, {kInk, font_size * 0.13, {}}, 0, font_size * 0.26, true);
  // The figure at the lowest reading: what the keeper looks for.
  const std::string says = say(chart.readings[lowest].celsius, chart.unit);
  const Font bold{font_size, Weight::bold, kInk};
  const double half = canvas.text_width(says, bold) / 2;
  const double x = std::clamp(points[lowest].x, plot.x + half, plot.right() - half);
  const bool below = points[lowest].y + font_size * 1.5 < plot.bottom();
  canvas.text({x, points[lowest].y + (below ? font_size * 1.35 : -font_size * 0.7)}, says, bold, Align::centre);
}

std::string temperature_chart_svg(const TemperatureChart& chart, Size size) {
  std::string said;
  for (const auto& r : chart.readings)
    said +=
        fmt::format("{}{} {}", said.empty() ? "" : "; ", say_day_time(chart.zone, r.at), say(r.celsius, chart.unit));
  SvgCanvas canvas{size, chart.title, said.empty() ? "No readings yet" : said};
  draw_temperatures(canvas, {0, 0, size.width, size.height}, chart, 12);
  return canvas.str();
}

}  // namespace lampside::draw
