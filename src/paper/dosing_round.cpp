// The dosing round to take to the box: how much for each pup today, and room for what really happened.
#include <fmt/format.h>

#include <algorithm>

#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

constexpr double kHead = mm(7), kTall = mm(13.5);
constexpr double kPup = mm(30), kWeight = mm(27), kGive = mm(30), kPerKg = mm(22), kGiven = mm(13), kTime = mm(16);
constexpr double kColumns[] = {kPup, kWeight, kGive, kPerKg, kGiven, kTime};
constexpr std::string_view kCaptions[] = {
    "Pup", "Weight", "Give", "mg/kg", "Given", "Time", "Left out, why; or another amount"};
const Font kSmall{8, draw::Weight::regular, draw::kMuted};

std::string join(const std::vector<MgPerKg>& all) {
  std::string out;
  for (const auto mg : all) out += (out.empty() ? "" : " + ") + say_number(mg.count(), mg.count() < 1 ? 2 : 1);
  return out;
}

/// What the label says and whose word comes first. Returns the height; draws nothing without a canvas.
double top_words(Canvas* canvas, Area body, const Made& made, const care::DosingRound* round) {
  const Font plain{10, draw::Weight::regular, draw::kInk}, bold{10, draw::Weight::bold, draw::kInk};
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
    words({{round->product + ".", {14, draw::Weight::bold, draw::kInk}},
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

void draw_row(Canvas& canvas, Area row, const Made& made, const care::DogDose& dog) {
  const Font plain{9.5, draw::Weight::regular, draw::kInk};
  const auto* pup = made.litter.pup(dog.about);
  double x = row.x;
  const auto cell = [&](double width) {
    const Area out{x + mm(1), row.y, width - mm(2), row.height};
    x += width;
    return out;
  };
  Area name = cell(kPup);
  if (pup && !pup->collar().empty()) {
    draw_spot(canvas, {name.x + mm(2), row.y + row.height / 2}, mm(2), pup->collar());
    draw_cell(canvas, {name.x + mm(5), row.y, name.width - mm(5), row.height / 2 + mm(1)}, pup->label,
              {13, draw::Weight::bold, draw::kInk}, Align::left);
    draw_cell(canvas, {name.x + mm(5), row.y + row.height / 2 - mm(0.5), name.width - mm(5), row.height / 2},
              pup->collar(), {8.5, draw::Weight::regular, draw::kInk}, Align::left);
  } else {
    draw_cell(canvas, name, pup ? pup->label : made.litter.dam_name(), {13, draw::Weight::bold, draw::kInk},
              Align::left);
  }
  Area weight = cell(kWeight);
  if (const auto* w = reference::value_of(dog.weight)) {
    const Area upper{weight.x, row.y, weight.width, row.height / 2 + mm(1)};
    draw_cell(canvas, upper, pup ? say(w->grams, made.litter.units().weight) : say(to_kilograms(w->grams)), plain);
    draw_cell(canvas, {weight.x, row.y + row.height / 2 - mm(0.5), weight.width, row.height / 2},
              say_day_time(made.litter.zone, w->weighed), {7, draw::Weight::regular, draw::kMuted});
  }
  const Area give = cell(kGive), per_kg = cell(kPerKg), given = cell(kGiven);
  x += kTime;
  const Area rest{x + mm(1), row.y, row.right() - x - mm(2), row.height};
  const double box = mm(5.5);
  const Area tick{given.x + (given.width - box) / 2, row.y + (row.height - box) / 2, box, box};
  for (const auto& [a, b] : {std::pair{Point{tick.x, tick.y}, Point{tick.right(), tick.y}},
                             {Point{tick.right(), tick.y}, Point{tick.right(), tick.bottom()}},
                             {Point{tick.right(), tick.bottom()}, Point{tick.x, tick.bottom()}},
                             {Point{tick.x, tick.bottom()}, Point{tick.x, tick.y}}})
    canvas.line(a, b, kRule);
  if (!dog.given.empty()) {
    draw_cell(canvas, give, "given at " + say_time(made.litter.zone, dog.given.back().at), plain);
  } else if (dog.skipped) {
    draw_cell(canvas, give, "left out", plain);
    draw_cell(canvas, rest, dog.skipped->what.reason, plain, Align::left);
  } else if (dog.dose) {
    draw_figure(canvas, give, care::say(dog.dose->give), {15, draw::Weight::bold, draw::kInk});
    draw_cell(canvas, per_kg, join(dog.dose->gives), plain);
    if (dog.dose->above)
      draw_cell(canvas, rest,
                fmt::format("or {} ({} mg/kg): ask your vet", care::say(*dog.dose->above), join(dog.dose->above_gives)),
                {7.5, draw::Weight::regular, draw::kInk}, Align::left);
  } else if (!dog.refused.empty()) {
    draw_cell(canvas, give, "no dose", {11, draw::Weight::bold, draw::kInk});
    paragraph(&canvas, made.ruler, {rest.x, row.y + mm(1)}, rest.width,
              {{sentence(dog.refused.front().why), {7.5, draw::Weight::regular, draw::kInk}}});
  }
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
  const Area table{body.x, below + mm(4), body.width, kHead + kTall * static_cast<double>(count + blank)};
  x = table.x;
  for (std::size_t i = 0; i < std::size(kCaptions); ++i) {
    const double width = i < std::size(kColumns) ? kColumns[i] : table.right() - x;
    draw_cell(canvas, {x + mm(1), table.y, width - mm(2), kHead}, kCaptions[i], kSmall,
              i == 0 || i == 6 ? Align::left : Align::centre);
    canvas.line({x, table.y}, {x, table.bottom()}, kHairline);
    x += width;
  }
  canvas.line({table.right(), table.y}, {table.right(), table.bottom()}, kHairline);
  canvas.line({table.x, table.y}, {table.right(), table.y}, kHairline);
  for (std::size_t i = 0; i <= count + blank; ++i) {
    const double y = table.y + kHead + kTall * static_cast<double>(i);
    canvas.line({table.x, y}, {table.right(), y}, kHairline);
    if (i < count) draw_row(canvas, {table.x, y, table.width, kTall}, made, round->dogs[from + i]);
  }
  if (round && round->together)
    paragraph(
        &canvas, made.ruler, {table.x, table.bottom() + mm(3)}, table.width,
        {{"All together still to give: " + care::say(*round->together) + ".", {11, draw::Weight::bold, draw::kInk}}});
}

}  // namespace

Form dosing_round(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const Area body = body_of(form.paper);
  const auto most = [&](const care::DosingRound* round) {
    const double room = body.height - top_words(nullptr, body, made, round) - mm(9) - kHead - mm(10);
    return std::max<std::size_t>(1, static_cast<std::size_t>(room / kTall));
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
