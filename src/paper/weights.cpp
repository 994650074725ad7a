// The weights so far: the curves, where each pup stands, and every day's figure with its gain.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "draw/lettering.hpp"
#include "paper/weights.hpp"

namespace lampside::paper {

std::vector<const record::Pup*> weighed(const record::Litter& litter) {
  std::vector<const record::Pup*> out;
  for (const auto& pup : litter.pups)
    if (pup.born_alive()) out.push_back(&pup);
  return out;
}

draw::WeightChart chart_of(const Made& made, std::string_view highlight) {
  const auto& litter = made.litter;
  draw::WeightChart chart;
  chart.highlight = highlight;
  chart.born = litter.first_birth().value_or(made.assessment.at);
  chart.zone = litter.zone;
  chart.unit = litter.units().weight;
  for (const auto* pup : weighed(litter)) {
    draw::WeightSeries series{pup->label, pup->collar(), {}};
    for (const auto& w : pup->weights) series.readings.push_back({w.at, w.what.grams});
    chart.pups.push_back(std::move(series));
  }
  return chart;
}

std::string signed_bare(Grams grams, WeightUnit unit) {
  const std::string size = bare(Grams{std::fabs(grams.count())}, unit);
  if (size == "0") return "0";
  return (grams.count() < 0 ? "\u2212" : "+") + size;
}

std::optional<DayWeight> day_weight(const record::Litter& litter, const record::Pup& pup, CivilDay day) {
  const auto weight = weight_on(litter, pup, day);
  if (!weight) return std::nullopt;
  DayWeight out{*weight, std::nullopt, 1};
  for (auto w = pup.weights.rbegin(); w != pup.weights.rend(); ++w) {
    const CivilDay other = litter.zone.day_of(w->at);
    if (other >= day) continue;
    out.gain = *weight - w->what.grams;
    out.over_days = static_cast<int>((day - other).count());
    break;
  }
  return out;
}

namespace {

constexpr double kDayColumn = mm(26), kHead = mm(10), kDayRow = mm(8.2), kStandingRow = mm(6.4);
constexpr double kNarrowest = mm(12), kNarrowestPounds = mm(15);  // "1240", "11 lb 14⅜"

/// One or two words for the wall: what stands worst about the pup when the sheet was printed.
std::string state_of(const Made& made, const growth::Standing& standing) {
  for (const auto& d : made.assessment.doubts)
    if (d.open_for(standing.label)) return "weigh again";
  switch (standing.level) {
    case reference::Level::emergency:
    case reference::Level::call_vet:
      return "ring the vet";
    case reference::Level::act:
      return "needs a hand";
    case reference::Level::watch:
      return "watch";
    case reference::Level::note:
      return "";
  }
  return "";
}

/// Label, collar, birth weight, last weight and when, gain, change since birth: what the assessment says of each pup.
void draw_standings(Canvas& canvas, Area area, const Made& made) {
  const auto& litter = made.litter;
  const auto unit = litter.units().weight;
  const double widths[] = {0.22, 0.06, 0.11, 0.11, 0.16, 0.12, 0.1, 0.12};
  const std::string heads[] = {"Pup",         "Sex",     "At birth",
                               "Last",        "Weighed", fmt::format("Gain a day, {}", unit_word(unit)),
                               "Since birth", "State"};
  const Font caption{8, draw::Weight::regular, draw::kMuted}, ink{9, draw::Weight::regular, draw::kInk};
  const auto column = [&](std::size_t c, double y) {
    double x = area.x;
    for (std::size_t i = 0; i < c; ++i) x += widths[i] * area.width;
    return Area{x, y, widths[c] * area.width, kStandingRow};
  };
  for (std::size_t c = 0; c < std::size(heads); ++c)
    draw_cell(canvas, column(c, area.y), heads[c], caption, c == 0 ? Align::left : Align::right);
  double y = area.y + kStandingRow;
  canvas.line({area.x, y}, {area.right(), y}, kRule);
  std::size_t n = 0;
  for (const auto* pup : weighed(litter)) {
    const auto standing = std::find_if(made.assessment.pups.begin(), made.assessment.pups.end(),
                                       [&](const auto& s) { return s.label == pup->label; });
    const Area name = column(0, y);
    const double middle = y + kStandingRow / 2;
    const Pen pen = draw::pen_of(pup->collar(), n, 1.1);
    canvas.line({name.x + mm(0.5), middle}, {name.x + mm(8.5), middle}, pen);
    draw::draw_markers(canvas, std::vector<draw::Point>{{name.x + mm(4.5), middle}}, n, 2.4, pen.colour);
    ++n;
    const std::string said =
        pup->collar().empty() || pup->collar() == pup->label ? pup->label : pup->label + " " + pup->collar();
    draw_cell(canvas, {name.x + mm(9.5), y, name.width - mm(9.5), kStandingRow}, said,
              {9, draw::Weight::bold, draw::kInk}, Align::left, 7.5);
    const auto put = [&](std::size_t c, std::string_view text) {
      draw_figure(canvas, column(c, y), text, ink, Align::right);
    };
    const auto left = gone(litter, *pup);
    put(1, say_sex(pup->birth.what.sex));
    if (pup->birth.what.grams) put(2, say(*pup->birth.what.grams, unit));
    if (const auto* last = pup->last_weight()) {
      put(3, say(last->what.grams, unit));
      if (!left) put(4, say_day_time(litter.zone, last->at));
    }
    if (standing != made.assessment.pups.end()) {
      if (const auto* gain = reference::value_of(standing->gain)) put(5, signed_bare(Grams{gain->g_per_day}, unit));
      if (const auto* since = reference::value_of(standing->since_birth))
        put(6, (since->count() > 0 ? "+" : "") + say_number(since->count(), 0) + " %");
    }
    if (!left && standing != made.assessment.pups.end()) {
      const std::string state = state_of(made, *standing);
      draw_cell(canvas, column(7, y), state, {9, draw::Weight::bold, draw::kInk}, Align::right, 7);
    }
    if (left) put(4, std::string(left->word) + " " + say_day(left->day));
    y += kStandingRow;
    canvas.line({area.x, y}, {area.right(), y}, kHairline);
  }
}

void draw_table(Canvas& canvas, Area area, const Made& made, const std::vector<const record::Pup*>& pups,
                const std::vector<CivilDay>& shown) {
  const auto& litter = made.litter;
  const auto unit = litter.units().weight;
  const CivilDay birth_day = litter.zone.day_of(*litter.first_birth());
  const double wide = std::min(mm(22), (area.width - kDayColumn) / static_cast<double>(pups.size()));
  const double right = area.x + kDayColumn + wide * static_cast<double>(pups.size());
  const Font caption{8, draw::Weight::regular, draw::kMuted};
  std::vector<std::string> texts;
  for (const auto* pup : pups)
    for (const auto& w : pup->weights) texts.push_back(bare(w.what.grams, unit));
  const double figures = figure_size(made.ruler, texts, 9.5, wide);
  draw_cell(canvas, {area.x, area.y + kHead / 2, kDayColumn, kHead / 2}, fmt::format("Day, date, {}", unit_word(unit)),
            caption, Align::left);
  for (std::size_t i = 0; i < pups.size(); ++i) {
    const double x = area.x + kDayColumn + wide * static_cast<double>(i);
    draw_name(canvas, {x, area.y, wide, kHead / 2}, pups[i]->label, 10);
    if (pups[i]->collar().empty()) continue;
    draw_spot(canvas, {x + mm(2.2), area.y + kHead * 0.74}, mm(1.2), pups[i]->collar());
    draw_cell(canvas, {x + mm(3.4), area.y + kHead / 2, wide - mm(3.4), kHead / 2}, pups[i]->collar(),
              {8, draw::Weight::regular, draw::kInk}, Align::left);
  }
  double y = area.y + kHead;
  for (std::size_t r = 0; r < shown.size(); ++r, y += kDayRow) {
    const auto number = (shown[r] - birth_day).count();
    canvas.line({area.x, y}, {right, y}, r == 0 || number % 7 == 0 ? kRule : kHairline);
    draw_cell(canvas, {area.x, y, mm(7), kDayRow}, std::to_string(number), {9, draw::Weight::bold, draw::kInk},
              Align::right);
    draw_cell(canvas, {area.x + mm(7.5), y, kDayColumn - mm(7.5), kDayRow}, say_day(shown[r]), caption, Align::left);
    for (std::size_t i = 0; i < pups.size(); ++i) {
      const Area box{area.x + kDayColumn + wide * static_cast<double>(i), y, wide, kDayRow};
      const auto cell = day_weight(litter, *pups[i], shown[r]);
      if (!cell) continue;
      draw_figure(canvas, {box.x, box.y + mm(0.4), box.width, kDayRow * 0.55}, bare(cell->weight, unit),
                  {figures, draw::Weight::regular, draw::kInk});
      if (!cell->gain) continue;
      const bool falls = cell->gain->count() <= 0;  // bold, so that it is seen without colour
      std::string says = signed_bare(*cell->gain, unit);
      if (cell->over_days > 1) says += fmt::format(" in {} d", cell->over_days);
      draw_cell(canvas, {box.x, box.y + kDayRow * 0.5, box.width, kDayRow * 0.45}, says,
                {7.5, falls ? draw::Weight::bold : draw::Weight::regular, falls ? draw::kInk : draw::kMuted});
    }
  }
  canvas.line({area.x, y}, {right, y}, kRule);
  for (std::size_t i = 0; i <= pups.size(); ++i) {
    const double x = area.x + kDayColumn + wide * static_cast<double>(i);
    canvas.line({x, area.y}, {x, y}, kHairline);
  }
  canvas.text({area.x, y + mm(4.5)},
              "Each day's last weight; below it the gain since the figure before. Bold: no gain, or a loss.", caption,
              Align::left);
}

}  // namespace

Form weights(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const auto pups = weighed(made.litter);
  const Area body = body_of(form.paper);

  form.pages.push_back([&made, count = pups.size()](Canvas& canvas, Area area) {
    const double table = count == 0 ? 0 : kStandingRow * static_cast<double>(count + 1) + mm(6);
    const double tall = std::min(area.height - table, mm(172));
    draw::draw_weights(canvas, {area.x, area.y + mm(2), area.width, tall - mm(4)}, chart_of(made), 9);
    if (count > 0) draw_standings(canvas, {area.x, area.y + tall + mm(2), area.width, table}, made);
  });

  std::vector<CivilDay> shown;  // days on which anybody was weighed
  for (const auto* pup : pups)
    for (const auto& w : pup->weights) shown.push_back(made.litter.zone.day_of(w.at));
  std::sort(shown.begin(), shown.end());
  shown.erase(std::unique(shown.begin(), shown.end()), shown.end());
  if (shown.empty()) return form;

  const auto rows = static_cast<std::size_t>((body.height - kHead - mm(6)) / kDayRow);
  std::size_t at = 0;
  const bool pounds = unit_word(made.litter.units().weight) == "oz";
  const auto columns = static_cast<std::size_t>((body.width - kDayColumn) / (pounds ? kNarrowestPounds : kNarrowest));
  for (const std::size_t count : shares(pups.size(), columns)) {
    const std::vector<const record::Pup*> part(pups.begin() + static_cast<std::ptrdiff_t>(at),
                                               pups.begin() + static_cast<std::ptrdiff_t>(at + count));
    for (std::size_t first = 0; first < shown.size(); first += rows) {
      const auto last = std::min(shown.size(), first + rows);
      const std::vector<CivilDay> page_days(shown.begin() + static_cast<std::ptrdiff_t>(first),
                                            shown.begin() + static_cast<std::ptrdiff_t>(last));
      form.pages.push_back(
          [&made, part, page_days](Canvas& canvas, Area area) { draw_table(canvas, area, made, part, page_days); });
    }
    at += count;
  }
  return form;
}

}  // namespace lampside::paper
