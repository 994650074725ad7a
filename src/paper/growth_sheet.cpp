// A pup's growth on one sheet: for its new family, and for the folder it leaves with.
#include <fmt/format.h>

#include <algorithm>

#include "paper/weights.hpp"

namespace lampside::paper {
namespace {

constexpr double kRow = mm(5.6), kHeading = mm(17), kLeastChart = mm(70), kMostChart = mm(125);
constexpr std::size_t kBlocks = 3;  // tables side by side

/// One line of the table, told before any page exists, so that the letters can be chosen.
struct Row {
  long day;
  std::string date, weight, gain;
  bool falls;
};

std::vector<Row> rows_of(const record::Litter& litter, const record::Pup& pup) {
  std::vector<CivilDay> days;
  for (const auto& w : pup.weights) days.push_back(litter.zone.day_of(w.at));
  days.erase(std::unique(days.begin(), days.end()), days.end());
  const CivilDay born = litter.zone.day_of(pup.birth.at);
  const auto unit = litter.units().weight;
  std::vector<Row> out;
  for (const CivilDay day : days) {
    const auto cell = day_weight(litter, pup, day);
    if (!cell) continue;
    std::string gain = cell->gain ? signed_bare(*cell->gain, unit) : "";
    if (cell->gain && cell->over_days > 1) gain += fmt::format(" in {} d", cell->over_days);
    out.push_back({(day - born).count(), say_day(day), bare(cell->weight, unit), std::move(gain),
                   cell->gain && cell->gain->count() <= 0});
  }
  return out;
}

void draw_table(Canvas& canvas, Area area, const Made& made, const std::vector<Row>& rows) {
  const auto unit = made.litter.units().weight;
  const Font caption{8, draw::Weight::regular, draw::kMuted}, ink{9, draw::Weight::regular, draw::kInk};
  const double gap = mm(6), wide = (area.width - gap * (kBlocks - 1)) / kBlocks;
  const std::size_t high = (rows.size() + kBlocks - 1) / kBlocks;
  for (std::size_t block = 0; block * high < rows.size(); ++block) {
    const double x = area.x + static_cast<double>(block) * (wide + gap);
    const auto cell = [&](double from, double to, double y) {
      return Area{x + wide * from, y, wide * (to - from), kRow};
    };
    draw_cell(canvas, cell(0, 0.16, area.y), "Day", caption, Align::left);
    draw_cell(canvas, cell(0.16, 0.45, area.y), "Date", caption, Align::left);
    draw_cell(canvas, cell(0.45, 0.7, area.y), fmt::format("Weight, {}", unit_word(unit)), caption, Align::right);
    draw_cell(canvas, cell(0.7, 1, area.y), "Gain", caption, Align::right);
    double y = area.y + kRow;
    canvas.line({x, y}, {x + wide, y}, kRule);
    for (std::size_t r = block * high; r < std::min(rows.size(), (block + 1) * high); ++r, y += kRow) {
      const Row& row = rows[r];
      draw_figure(canvas, cell(0.01, 0.13, y), std::to_string(row.day), {9, draw::Weight::bold, draw::kInk},
                  Align::right);
      draw_cell(canvas, cell(0.16, 0.45, y), row.date, caption, Align::left);
      draw_figure(canvas, cell(0.45, 0.7, y), row.weight, ink, Align::right);
      draw_cell(canvas, cell(0.7, 1, y), row.gain,
                {8, row.falls ? draw::Weight::bold : draw::Weight::regular, row.falls ? draw::kInk : draw::kMuted},
                Align::right);
      canvas.line({x, y + kRow}, {x + wide, y + kRow}, kHairline);
    }
  }
}

}  // namespace

void growth_page(Canvas& canvas, Area body, const Made& made, const record::Pup& pup) {
  const auto& litter = made.litter;
  draw_spot(canvas, {body.x + mm(3), body.y + mm(5)}, mm(2.4), pup.collar());
  std::string name = "Pup " + pup.label;
  if (!pup.collar().empty() && pup.collar() != pup.label) name += ", " + pup.collar() + " collar";
  draw_cell(canvas, {body.x + mm(8), body.y + mm(1), body.width - mm(8), mm(8)}, name,
            {16, draw::Weight::bold, draw::kInk}, Align::left);
  const auto sex = pup.birth.what.sex;
  std::string about = !sex ? "Born " : *sex == record::Sex::male ? "Dog, born " : "Bitch, born ";
  about += say_day_time(litter.zone, pup.birth.at);
  if (const auto left = gone(litter, pup)) about += fmt::format("; {} {}", left->word, say_day(left->day));
  draw_cell(canvas, {body.x + mm(8), body.y + mm(9), body.width - mm(8), mm(6)}, about,
            {10, draw::Weight::regular, draw::kInk}, Align::left);

  const auto rows = rows_of(litter, pup);
  const double table = kRow * (static_cast<double>((rows.size() + kBlocks - 1) / kBlocks) + 1) + mm(9);
  const double chart = std::clamp(body.height - kHeading - table, kLeastChart, kMostChart);
  draw::draw_weights(canvas, {body.x, body.y + kHeading, body.width, chart}, chart_of(made, pup.label), 9);
  if (rows.empty()) return;
  draw_table(canvas, {body.x, body.y + kHeading + chart + mm(3), body.width, table}, made, rows);
  canvas.text({body.x, body.y + kHeading + chart + table - mm(1.5)},
              "The day's last weight, and the gain since the figure before. Pale lines: its litter mates.",
              {8, draw::Weight::regular, draw::kMuted}, Align::left);
}

Form growth_sheet(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  for (const auto* pup : weighed(made.litter))
    form.pages.push_back([&made, pup](Canvas& canvas, Area body) { growth_page(canvas, body, made, *pup); });
  if (form.pages.empty())
    form.pages.push_back([&made](Canvas& canvas, Area body) {
      paragraph(&canvas, made.ruler, {body.x, body.y + mm(4)}, body.width,
                {{"No pup is born yet: there will be a page for each.", {12, draw::Weight::regular, draw::kInk}}});
    });
  return form;
}

}  // namespace lampside::paper
