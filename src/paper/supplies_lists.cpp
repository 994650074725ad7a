// "Shopping list": what to bring home, trip by trip. "Packing list": what goes into the car to the vet. Both to tick.
#include <fmt/format.h>

#include <algorithm>

#include "draw/lettering.hpp"
#include "paper/sheet.hpp"
#include "supplies/plan.hpp"

namespace lampside::paper {
namespace {

using supplies::Line;

constexpr double kRow = mm(9.6), kHeading = mm(11);

/// One row to tick, or a heading over those that follow.
struct Item {
  std::string what, amount, small, right;
  bool heading = false;
};

double height_of(const Item& item) { return item.heading ? kHeading : kRow; }

void draw_item(Canvas& canvas, Area row, const Item& item) {
  if (item.heading) {
    canvas.text({row.x, row.bottom() - mm(2.6)}, item.what, {12.5, draw::Weight::bold, draw::kInk}, Align::left);
    canvas.text({row.right(), row.bottom() - mm(2.6)}, item.right, {8.5, draw::Weight::regular, draw::kMuted},
                Align::right);
    canvas.line({row.x, row.bottom()}, {row.right(), row.bottom()}, kRule);
    return;
  }
  constexpr double kBox = mm(5);
  canvas.rect({row.x + mm(0.5), row.y + (row.height - kBox) / 2}, {kBox, kBox}, std::nullopt,
              Pen{draw::kMuted, 1.1, {}}, mm(0.8));
  const Font name{11, draw::Weight::bold, draw::kInk}, small{8.5, draw::Weight::regular, draw::kMuted},
      plain{11, draw::Weight::regular, draw::kInk};
  const double x = row.x + kBox + mm(3.5), right = mm(30), amounts = mm(38);
  const double words = row.right() - right - amounts - x - mm(3);
  canvas.text({x, row.y + mm(4.6)}, draw::fit(canvas, item.what, name, words), name, Align::left);
  canvas.text({x, row.y + mm(8.1)}, draw::fit(canvas, item.small, small, words + amounts), small, Align::left);
  const Font amount = draw::fit_font(canvas, item.amount, plain, amounts, 7);
  canvas.text({row.right() - right - mm(3), row.y + mm(4.6)}, item.amount, amount, Align::right);
  if (item.right.empty())
    canvas.line({row.right() - right, row.y + mm(7)}, {row.right(), row.y + mm(7)}, kHairline);
  else
    canvas.text({row.right(), row.y + mm(4.6)}, draw::fit(canvas, item.right, small, right), small, Align::right);
  canvas.line({row.x, row.bottom()}, {row.right(), row.bottom()}, {draw::kGrid, 0.5, {}});
}

/// Rows over as many sheets as they take; a heading never stands last on its sheet. `above` draws what leads the first.
Form sheets(const Made& made, const std::vector<Item>& items, double above,
            const std::function<void(Canvas&, Area)>& lead) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  const double room = body_of(form.paper).height;
  std::vector<std::vector<Item>> pages(1);
  double y = above;
  std::string heading;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].heading) heading = items[i].what;
    const double next = items[i].heading && i + 1 < items.size() ? height_of(items[i + 1]) : 0;
    if (y + height_of(items[i]) + next > room) {
      pages.emplace_back(), y = 0;
      if (!items[i].heading && !heading.empty())
        pages.back().push_back({heading + ", continued", "", "", "", true}), y = kHeading;
    }
    pages.back().push_back(items[i]);
    y += height_of(items[i]);
  }
  for (std::size_t n = 0; n < pages.size(); ++n)
    form.pages.push_back([rows = pages[n], above = n == 0 ? above : 0.0, lead, n](Canvas& canvas, Area body) {
      if (n == 0 && lead) lead(canvas, body);
      double at = body.y + above;
      for (const auto& item : rows) {
        draw_item(canvas, {body.x, at, body.width, height_of(item)}, item);
        at += height_of(item);
      }
    });
  return form;
}

std::string by(const Line& line) { return line.by ? "by " + say_day(*line.by) : ""; }
std::string small_print(const Line& line) {
  std::string out;
  const auto add = [&out](const std::string& part) {
    if (!part.empty()) out += (out.empty() ? "" : " · ") + part;
  };
  add(by(line));
  if (line.present()) add(supplies::say(line.have, line.unit) + " in the house");
  if (line.past_date) add(line.expired ? "what is there is out of date" : "a part of what is there is out of date");
  add(line.purpose);
  return out;
}
std::string to_buy(const Line& line) {
  if (line.packs > 0) return fmt::format("{} × {}", line.packs, supplies::say(*line.pack, line.unit));
  return supplies::say(line.lacking, line.unit);
}

}  // namespace

Form shopping_list(const Made& made) {
  const auto& plan = made.assessment.supplies;
  const auto today = made.litter.zone.day_of(made.assessment.at);
  std::vector<Item> items;
  for (const auto& trip : supplies::shopping(plan, today)) {
    const std::string title = trip.day ? say_date(*trip.day) : trip.later ? "Later" : "Next time you go";
    items.push_back({title, "", "", "price", true});
    for (const auto* line : trip.lines)
      items.push_back(
          {sentence(line->item), to_buy(*line), small_print(*line), line->cost ? say_cash(*line->cost) : "", false});
  }
  if (const auto make = supplies::to_make(plan); !make.empty()) {
    items.push_back({"To be made or done at home", "", "", "", true});
    for (const auto* line : make) items.push_back({sentence(line->item), "", small_print(*line), " ", false});
  }
  const int most = plan.litter.at(0.95);
  std::vector<Run> words{{fmt::format("Amounts for {} pups", most), {11, draw::Weight::bold, draw::kInk}},
                         {"- " + plan.litter.says + ".", {10, draw::Weight::regular, draw::kInk}}};
  if (items.empty()) words.push_back({"Everything is in the house.", {14, draw::Weight::bold, draw::kInk}});
  const double width = body_of(paper_size(made.sheet, Turn::portrait)).width;
  const double above = paragraph(nullptr, made.ruler, {0, 0}, width, words) + mm(3);
  return sheets(made, items, above, [&made, words, width](Canvas& canvas, Area body) {
    paragraph(&canvas, made.ruler, {body.x, body.y}, width, words);
  });
}

Form packing_list(const Made& made) {
  const auto& litter = made.litter;
  std::vector<Item> items{
      {"She and the pups", "", "", "", true},
      {litter.dam_name() + ", on a lead", "", "a towel under her; one person beside her, never behind", " ", false},
      {"Every pup born so far", "", "dry, in the warm box, the lid on; count them in and count them out", "", false}};
  items.push_back({"Into the car", "", "", "", true});
  for (const auto& line : made.assessment.supplies.lines) {
    if (!line.car || !line.wanted) continue;
    const auto* need = reference::value_of(line.need);
    const bool several = need && need->count() > 1;
    items.push_back({sentence(line.item), several ? supplies::say(*need, line.unit) : "", line.purpose,
                     line.present() ? std::string(" ") : "not yet", false});
  }
  items.push_back(
      {"The call sheet, printed, or this phone", "", "what was seen and when, told once and in order", " ", false});
  items.push_back({"Her papers", "", "vaccination, scan, X-ray", " ", false});
  items.push_back({"Your own", "", "", "", true});
  for (int blank = 0; blank < 4; ++blank) items.push_back({"", "", "", "", false});
  const auto& vet = litter.facts.vet;
  const std::string drive = vet && vet->minutes_away ? fmt::format("{} min", *vet->minutes_away) : "";
  return sheets(made, items, mm(17), [drive](Canvas& canvas, Area body) {
    double x = draw_field(canvas, {body.x, body.y + mm(4)}, "Drive", mm(20), drive);
    x = draw_field(canvas, {x, body.y + mm(4)}, "Who drives", mm(38), "");
    draw_field(canvas, {x, body.y + mm(4)}, "Who stays", std::max(mm(14), body.right() - x - mm(22)), "");
    draw_field(canvas, {body.x, body.y + mm(12.5)}, "Emergency hospital, number and address", body.width - mm(62), "");
  });
}

}  // namespace lampside::paper
