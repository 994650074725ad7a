// The weights for the wall: pups as columns, days as rows, cells that a thick pen can write in.
#include <fmt/format.h>

#include <algorithm>

#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

using std::chrono::days;

constexpr int kLastDay = 56;  // eight weeks
constexpr double kDayColumn = mm(27), kByColumn = mm(13);
constexpr double kNarrowest = mm(14);  // "1240" by a thick pen
constexpr double kHeadRow = mm(5.4), kHead = 4 * kHeadRow + mm(1);
constexpr double kFields = mm(9);

/// The columns: pups born alive in birth order, then blank ones for those still expected.
std::vector<Place> places(const Made& made) {
  std::vector<Place> out;
  for (const auto& pup : made.litter.pups)
    if (pup.born_alive()) out.push_back({&pup});
  const auto& watch = made.assessment.whelping;
  const auto born = static_cast<int>(made.litter.pups.size());
  int blank = 0;
  if (born == 0)
    blank = std::clamp(watch.expected.value_or(8), 1, 20);
  else if (watch.stage != whelping::Stage::done)
    blank = std::clamp(watch.expected.value_or(born) - born, 0, 20);
  out.resize(out.size() + static_cast<std::size_t>(blank));
  if (out.empty()) out.resize(1);  // every pup was stillborn: still a sheet, not an empty grid
  return out;
}

std::vector<std::vector<Run>> rules(const Made& made) {
  std::vector<std::vector<Run>> out;
  for (const std::string_view code : {"NO_GAIN", "LOSS_TWO_DAYS", "LOSS_TEN"})
    for (const auto* rule : reference::rules_of(made.reference.percent_rules, code)) out.push_back(rule_runs(*rule, 8));
  return out;
}
double rules_height(const Made& made, double width) {
  double height = mm(2);
  for (const auto& runs : rules(made)) height += paragraph(nullptr, made.ruler, {0, 0}, width, runs) + mm(0.6);
  return height;
}

/// One size for every figure of the form, birth weights included.
double size_of_figures(const Made& made, double wide) {
  std::vector<std::string> figures;
  for (const auto& pup : made.litter.pups)
    for (const auto& w : pup.weights) figures.push_back(bare(w.what.grams, made.litter.units().weight));
  return figure_size(made.ruler, figures, 11.5, wide);
}

void draw_fields(Canvas& canvas, Area body, const Made& made) {
  const auto& litter = made.litter;
  const auto unit = litter.units().weight;
  const record::Noted<record::Weight>* tub = nullptr;  // the last weighing that took one off
  for (const auto& pup : litter.pups)
    for (const auto& w : pup.weights)
      if (w.what.tare_g && w.what.tare_g->count() > 0 && (!tub || w.at > tub->at)) tub = &w;
  const Point at{body.x, body.y + mm(4.5)};
  const std::string scale =
      litter.facts.scale_g
          ? "reads to " + say(*litter.facts.scale_g,
                              litter.facts.scale_g->count() < kGramsPerOunce / 8 ? WeightUnit::grams : unit)
          : "";
  double x = draw_field(canvas, at, "Scale", mm(34), scale);
  x = draw_field(canvas, {x, at.y}, "Tub, to take off", mm(24), tub ? say(*tub->what.tare_g, unit) : "");
  x = draw_field(canvas, {x, at.y}, "Time of day", mm(18), "");
  draw_field(canvas, {x, at.y}, "Weighed by", std::max(mm(14), body.right() - x - mm(20)), "");
}

void draw_head(Canvas& canvas, Area table, const std::vector<Place>& columns, double wide, WeightUnit unit,
               double figures) {
  const Font small{8, draw::Weight::regular, draw::kMuted};
  const std::string captions[] = {"Pup", "Collar", "Sex", fmt::format("At birth, {}", unit_word(unit))};
  for (int row = 0; row < 4; ++row) {
    const double y = table.y + row * kHeadRow;
    draw_cell(canvas, {table.x, y, kDayColumn, kHeadRow}, captions[row], small, Align::left);
    if (row > 0) canvas.line({table.x + kDayColumn, y}, {table.right() - kByColumn, y}, {draw::kGrid, 0.5, {}});
  }
  draw_cell(canvas, {table.right() - kByColumn, table.y + 3 * kHeadRow, kByColumn, kHeadRow}, "by", small);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const double x = table.x + kDayColumn + static_cast<double>(i) * wide;
    const auto row = [&](int n) { return Area{x, table.y + n * kHeadRow, wide, kHeadRow}; };
    const auto* pup = columns[i].pup;
    if (!pup) continue;
    draw_name(canvas, row(0), pup->label, 11);
    if (!pup->collar().empty()) {
      const Area word{x + mm(4.2), row(1).y, wide - mm(4.4), kHeadRow};
      draw_spot(canvas, {x + mm(2.7), row(1).y + kHeadRow / 2}, mm(1.5), pup->collar());
      draw_cell(canvas, word, pup->collar(), {8.5, draw::Weight::regular, draw::kInk}, Align::left);
    }
    draw_cell(canvas, row(2), say_sex(pup->birth.what.sex), {8.5, draw::Weight::regular, draw::kInk});
    if (pup->birth.what.grams)
      draw_figure(canvas, row(3), bare(*pup->birth.what.grams, unit),
                  {std::min(figures, 9.5), draw::Weight::regular, draw::kInk});
  }
}

void draw_day(Canvas& canvas, Area row, int day, std::optional<CivilDay> date, bool today) {
  const Font number{10, draw::Weight::bold, draw::kInk},
      name{8.5, draw::Weight::regular, today ? draw::kInk : draw::kMuted};
  draw_cell(canvas, {row.x, row.y, mm(8), row.height}, std::to_string(day), number, Align::right);
  if (date)
    draw_cell(canvas, {row.x + mm(8.5), row.y, kDayColumn - mm(8.5), row.height}, say_day(*date), name, Align::left);
}

void draw_page(Canvas& canvas, Area body, const Made& made, const std::vector<Place>& columns, double wide,
               int first_day, int count, double tall) {
  const auto& litter = made.litter;
  const auto unit = litter.units().weight;
  const auto born = litter.first_birth();
  const double figures = size_of_figures(made, wide);
  draw_fields(canvas, body, made);
  const Area table{body.x, body.y + kFields, kDayColumn + wide * static_cast<double>(columns.size()) + kByColumn,
                   kHead + count * tall};
  draw_head(canvas, table, columns, wide, unit, figures);

  const double top = table.y + kHead;
  for (int r = 0; r < count; ++r) {
    const int day = first_day + r;
    const Area row{table.x, top + r * tall, table.width, tall};
    const auto date = born ? std::optional{litter.zone.day_of(*born) + days{day}} : std::nullopt;
    draw_day(canvas, row, day, date, date && *date == litter.zone.day_of(made.assessment.at));
    for (std::size_t i = 0; i < columns.size() && date; ++i) {
      const auto* pup = columns[i].pup;
      if (!pup) continue;
      const Area cell{table.x + kDayColumn + static_cast<double>(i) * wide, row.y, wide, tall};
      const auto left = gone(litter, *pup);
      const bool over = left && *date >= left->day;
      const auto weight = weight_on(litter, *pup, *date);
      // Not to be filled in: before this pup was born, or after it died or left.
      const bool unborn = *date < litter.zone.day_of(pup->birth.at);
      if ((over || unborn) && !weight)
        canvas.rect({cell.x, cell.y}, {cell.width, cell.height}, draw::kWash, std::nullopt, 0);
      if (weight) draw_figure(canvas, cell, bare(*weight, unit), {figures, draw::Weight::regular, draw::kInk});
      // The word once, in the first field that stays empty.
      const bool first_empty =
          over && (*date == left->day || (*date == left->day + days{1} && weight_on(litter, *pup, left->day)));
      if (!weight && first_empty) draw_cell(canvas, cell, left->word, {8.5, draw::Weight::regular, draw::kMuted});
    }
    // A week is easier to find than a day: its first row has the stronger line above.
    canvas.line({row.x, row.y}, {row.right(), row.y}, day % 7 == 0 || r == 0 ? kRule : kHairline);
  }
  canvas.line({table.x, table.bottom()}, {table.right(), table.bottom()}, kRule);
  for (std::size_t i = 0; i <= columns.size(); ++i) {
    const double x = table.x + kDayColumn + static_cast<double>(i) * wide;
    canvas.line({x, table.y}, {x, table.bottom()}, kHairline);
  }

  double y = body.bottom() - rules_height(made, body.width) + mm(1.2);
  for (const auto& runs : rules(made)) y += paragraph(&canvas, made.ruler, {body.x, y}, body.width, runs) + mm(0.6);
}

}  // namespace

Form weights_to_fill(const Made& made) {
  const auto columns = places(made);
  // Few pups: upright, a month to a sheet. Many: on its side, so that the columns stay wide.
  Form form;
  const draw::Size upright = paper_size(made.sheet, Turn::portrait);
  const double upright_wide = (body_of(upright).width - kDayColumn - kByColumn) / static_cast<double>(columns.size());
  form.paper = upright_wide >= mm(17) ? upright : paper_size(made.sheet, Turn::landscape);
  const Area body = body_of(form.paper);

  const double room = body.width - kDayColumn - kByColumn;
  const double below = body.height - kFields - kHead - rules_height(made, body.width);
  const auto rows = shares(kLastDay + 1, static_cast<std::size_t>(below / kWritable));
  const double tall = std::min(mm(10.5), below / static_cast<double>(rows.front()));

  std::size_t at = 0;
  for (const std::size_t count : shares(columns.size(), static_cast<std::size_t>(room / kNarrowest))) {
    const std::vector<Place> part(columns.begin() + static_cast<std::ptrdiff_t>(at),
                                  columns.begin() + static_cast<std::ptrdiff_t>(at + count));
    const double wide = std::min(mm(28), room / static_cast<double>(count));
    int day = 0;
    for (const std::size_t n : rows) {
      form.pages.push_back([&made, part, wide, day, n, tall](Canvas& canvas, Area area) {
        draw_page(canvas, area, made, part, wide, day, static_cast<int>(n), tall);
      });
      day += static_cast<int>(n);
    }
    at += count;
  }
  return form;
}

}  // namespace lampside::paper
