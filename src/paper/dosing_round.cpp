// The dosing round to take to the box: how much for each pup today, and room for what really happened.
#include <fmt/format.h>

#include <algorithm>

#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

// The sheet lies beside the box and is read at arm's length (65 cm), in dim light. There a capital of 20 pt (5.1 mm) is
// 27 minutes of arc high, one of 10 pt 13: what is given from is large, and nothing in the table is below 10 pt. Ours.
constexpr double kHead = mm(7), kShort = mm(12), kTall = mm(15);
constexpr double kGiveSize = 20, kPupSize = 17, kTextSize = 10;
constexpr double kPup = mm(31), kWeight = mm(27), kGive = mm(33), kPerKg = mm(23), kGiven = mm(15), kTime = mm(16);
constexpr double kColumns[] = {kPup, kWeight, kGive, kPerKg, kGiven, kTime};
constexpr std::string_view kCaptions[] = {"Pup", "Weight", "Give", "mg/kg", "Given", "Time", "If not: what, why"};
const Font kSmall{kTextSize, draw::Weight::regular, draw::kMuted};

std::string join(const std::vector<MgPerKg>& all) {
  std::string out;
  for (const auto mg : all) out += (out.empty() ? "" : " + ") + say_number(mg.count(), mg.count() < 1 ? 2 : 1);
  return out;
}

/// What the label says and whose word comes first. Returns the height; draws nothing without a canvas.
double top_words(Canvas* canvas, Area body, const Made& made, const care::DosingRound* round) {
  const Font plain{11, draw::Weight::regular, draw::kInk}, bold{11, draw::Weight::bold, draw::kInk};
  double y = body.y + mm(1);
  const auto words = [&](const std::vector<Run>& runs) {
    y += paragraph(canvas, made.ruler, {body.x, y}, body.width, runs) + mm(0.8);
  };
  const record::Product* product = nullptr;
  if (round)
    for (const auto& p : made.litter.products)
      if (p.id == round->label_entry) product = &p.what;
  if (product) {
    const std::string dose = product->dose.value_or("no dose");
    words({{round->product + ".", {16, draw::Weight::bold, draw::kInk}},
           {fmt::format("{} {}; {}{}.", product->active.value_or(""), product->strength.value_or("no strength"),
                        product->at_least.value_or(false) ? "at least " : "", dose),
            plain}});
    if (!round->label) words({{"No dose can be worked out: " + round->label.error().what + ".", bold}});
    if (!round->other_strengths.empty())
      words(
          {{sentence(round->other_strengths) + ". Read the strength on the bottle in your hand before the first dose.",
            bold}});
    if (round->label && round->label->at_least)
      words({{"The label gives a least dose and each amount is rounded down: ask your vet where it falls short.",
              plain}});
  } else {
    words(
        {{"No label is written down: type it in on the Dosing page first. Without the label's strength there is no "
          "dose.",
          bold}});
  }
  words(
      {{"Not every wormer is safe for every breed and age: ask your vet before the first dose. A chilled or ill pup is "
        "not "
        "wormed. Worked out for today's weights: not to be used on another day.",
        plain}});
  return y - body.y;
}

void draw_tick_box(Canvas& canvas, Area given) {
  const double box = mm(6);
  const Area tick{given.x + (given.width - box) / 2, given.y + (given.height - box) / 2, box, box};
  for (const auto& [a, b] : {std::pair{Point{tick.x, tick.y}, Point{tick.right(), tick.y}},
                             {Point{tick.right(), tick.y}, Point{tick.right(), tick.bottom()}},
                             {Point{tick.right(), tick.bottom()}, Point{tick.x, tick.bottom()}},
                             {Point{tick.x, tick.bottom()}, Point{tick.x, tick.y}}})
    canvas.line(a, b, kRule);
}

/// Two lines in one cell: the upper one larger.
void draw_two(Canvas& canvas, Area cell, std::string_view upper, Font large, std::string_view lower, Align align) {
  const Font small{kTextSize, draw::Weight::regular, draw::kInk};
  const double split = cell.height * 0.58;
  draw_cell(canvas, {cell.x, cell.y, cell.width, split}, upper, large, align, kTextSize);
  draw_cell(canvas, {cell.x, cell.y + split - mm(0.8), cell.width, cell.height - split}, lower, small, align,
            kTextSize);
}

/// "at 07:30", or of another day "Fri 20:10".
std::string say_weighed(const Made& made, Instant t) {
  const auto& zone = made.litter.zone;
  const auto day = zone.day_of(t);
  return (day == zone.day_of(made.assessment.at) ? "at" : say_day(day).substr(0, 3)) + " " + say_time(zone, t);
}

/// An amount as large as it goes; tablets stand under their number, for "1 1/2 tablets" is long.
void draw_amount(Canvas& canvas, Area cell, care::Portion give) {
  const Font large{kGiveSize, draw::Weight::bold, draw::kInk};
  const std::string said = care::say(give);
  const auto unit = said.rfind(' ');
  if (give.in == care::Measured::tablets && unit != std::string::npos)
    draw_two(canvas, cell, said.substr(0, unit), large, said.substr(unit + 1), Align::centre);
  else
    draw_figure(canvas, cell, said, large);
}

/// Returns where its first dividing line without words over it may stand: a reason runs over the cells it makes empty.
std::size_t draw_row(Canvas& canvas, Area row, const Made& made, const care::DogDose& dog) {
  const Font plain{12, draw::Weight::regular, draw::kInk}, bold{14, draw::Weight::bold, draw::kInk};
  const auto* pup = made.litter.pup(dog.about);
  double x = row.x;
  const auto cell = [&](double width) {
    const Area out{x + mm(1), row.y, width - mm(2), row.height};
    x += width;
    return out;
  };
  const Font name{kPupSize, draw::Weight::bold, draw::kInk};
  const Area who = cell(kPup);
  if (pup && !pup->collar().empty()) {
    draw_spot(canvas, {who.x + mm(2), row.y + row.height / 2}, mm(2), pup->collar());
    draw_two(canvas, {who.x + mm(5), who.y, who.width - mm(5), who.height}, pup->label, name, pup->collar(),
             Align::left);
  } else {
    draw_cell(canvas, who, pup ? pup->label : made.litter.dam_name(), name, Align::left, kTextSize);
  }
  const Area weight = cell(kWeight);
  if (const auto* w = reference::value_of(dog.weight))
    draw_two(canvas, weight, pup ? say(w->grams, made.litter.units().weight) : say(to_kilograms(w->grams)), plain,
             say_weighed(made, w->weighed), Align::centre);
  const Area give = cell(kGive), per_kg = cell(kPerKg), given = cell(kGiven);
  x += kTime;
  const Area rest{x + mm(1), row.y, row.right() - x - mm(2), row.height};
  const Area beside{per_kg.x, row.y + mm(1.2), row.right() - per_kg.x - mm(1), row.height - mm(2)};
  const auto reason = [&](const std::string& why) {
    paragraph(&canvas, made.ruler, {beside.x, beside.y}, beside.width,
              {{why, {kTextSize, draw::Weight::regular, draw::kInk}}});
    return std::size_t{3};
  };
  if (!dog.given.empty()) {
    draw_cell(canvas, give, "given", bold, Align::centre, kTextSize);
    return reason("at " + say_time(made.litter.zone, dog.given.back().at));
  }
  if (dog.skipped) {
    draw_cell(canvas, give, "left out", bold, Align::centre, kTextSize);
    return reason(dog.skipped->what.reason);
  }
  if (dog.dose) {
    draw_amount(canvas, give, dog.dose->give);
    draw_cell(canvas, per_kg, join(dog.dose->gives), plain, Align::centre, kTextSize);
    draw_tick_box(canvas, given);
    if (dog.dose->above)
      paragraph(
          &canvas, made.ruler, {rest.x, row.y + mm(1.2)}, rest.width,
          {{fmt::format("or {} ({} mg/kg): ask your vet", care::say(*dog.dose->above), join(dog.dose->above_gives)),
            {kTextSize, draw::Weight::regular, draw::kInk}}});
    return std::size(kColumns);
  }
  draw_cell(canvas, give, "no dose", bold, Align::centre, kTextSize);
  return dog.refused.empty() ? std::size(kColumns) : reason(sentence(dog.refused.front().why));
}

void draw_page(Canvas& canvas, Area body, const Made& made, const care::DosingRound* round, std::size_t from,
               std::size_t count, std::size_t blank) {
  const double below = body.y + top_words(&canvas, body, made, round) + mm(5);
  const record::Product* product = nullptr;
  for (const auto& p : made.litter.products)
    if (round && p.id == round->label_entry) product = &p.what;
  double x = draw_field(canvas, {body.x, below}, "Lot", mm(34), product ? product->lot.value_or("") : "");
  x = draw_field(canvas, {x, below}, "Date", mm(30), "");
  draw_field(canvas, {x, below}, "Given by", std::max(mm(20), body.right() - x - mm(18)), "");
  const std::size_t rows = count + blank;
  const double room = body.bottom() - below - mm(4) - kHead - mm(9);
  const double tall = std::clamp(room / static_cast<double>(std::max<std::size_t>(rows, 1)), kShort, kTall);
  const Area table{body.x, below + mm(4), body.width, kHead + tall * static_cast<double>(rows)};
  std::vector<double> edges{table.x};
  for (const double width : kColumns) edges.push_back(edges.back() + width);
  edges.push_back(table.right());
  for (std::size_t i = 0; i < std::size(kCaptions); ++i)
    draw_cell(canvas, {edges[i] + mm(1), table.y, edges[i + 1] - edges[i] - mm(2), kHead}, kCaptions[i], kSmall,
              i == 0 || i == 6 ? Align::left : Align::centre, kTextSize);
  const auto dividers = [&](double top, double height, std::size_t last) {
    for (std::size_t i = 0; i < edges.size(); ++i)
      if (i <= last || i + 1 == edges.size()) canvas.line({edges[i], top}, {edges[i], top + height}, kHairline);
  };
  canvas.line({table.x, table.y}, {table.right(), table.y}, kHairline);
  dividers(table.y, kHead, edges.size());
  for (std::size_t i = 0; i <= rows; ++i) {
    const double y = table.y + kHead + tall * static_cast<double>(i);
    canvas.line({table.x, y}, {table.right(), y}, kHairline);
    if (i < count)
      dividers(y, tall, draw_row(canvas, {table.x, y, table.width, tall}, made, round->dogs[from + i]));
    else if (i < rows)
      dividers(y, tall, edges.size());
  }
  if (round && round->together)
    paragraph(
        &canvas, made.ruler, {table.x, table.bottom() + mm(3)}, table.width,
        {{"All together still to give: " + care::say(*round->together) + ".", {13, draw::Weight::bold, draw::kInk}}});
}

}  // namespace

Form dosing_round(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const Area body = body_of(form.paper);
  const auto most = [&](const care::DosingRound* round) {
    const double room = body.height - top_words(nullptr, body, made, round) - mm(9) - kHead - mm(10);
    return std::max<std::size_t>(1, static_cast<std::size_t>(room / kShort));
  };
  for (const auto& round : made.assessment.dosing) {
    std::size_t from = 0;
    for (const std::size_t count : shares(round.dogs.size(), most(&round))) {
      form.pages.emplace_back([&made, &round, from, count](Canvas& canvas, Area area) {
        draw_page(canvas, area, made, &round, from, count, count == 0 ? 8 : 0);
      });
      from += count;
    }
  }
  if (form.pages.empty())
    form.pages.emplace_back([&made](Canvas& canvas, Area area) { draw_page(canvas, area, made, nullptr, 0, 0, 10); });
  return form;
}

}  // namespace lampside::paper
