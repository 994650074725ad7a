#include "paper/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "draw/lettering.hpp"
#include "measure/text.hpp"

namespace lampside::paper {
namespace {

constexpr double kTitleHeight = mm(15);
constexpr double kFootHeight = mm(8);

std::string vet_line(const record::Litter& litter) {
  if (!litter.facts.vet) return {};
  const auto& vet = *litter.facts.vet;
  std::string out;
  if (vet.phone && !vet.phone->empty()) out = "Vet " + *vet.phone;
  if (vet.night_phone && !vet.night_phone->empty())
    out += (out.empty() ? "Vet at night " : ", at night ") + *vet.night_phone;
  return out;
}

}  // namespace

draw::Size paper_size(Sheet sheet, Turn turn) {
  const draw::Size upright = sheet == Sheet::a4 ? draw::Size{mm(210), mm(297)} : draw::Size{612, 792};
  return turn == Turn::portrait ? upright : draw::Size{upright.height, upright.width};
}

Area body_of(draw::Size paper) {
  return {kMargin, kMargin + kTitleHeight, paper.width - 2 * kMargin,
          paper.height - 2 * kMargin - kTitleHeight - kFootHeight};
}

void draw_surround(Canvas& canvas, const Form& form, const Made& made, std::size_t page) {
  const auto& litter = made.litter;
  const double left = kMargin, right = form.paper.width - kMargin;
  const Font title{16, draw::Weight::bold, draw::kInk}, small{8.5, draw::Weight::regular, draw::kMuted};

  if (form.nameless) return;
  const double base = kMargin + 14;
  canvas.text({left, base}, form.title, title, Align::left);
  const std::string vet = vet_line(litter);
  const double room = right - left - canvas.text_width(form.title, title) - mm(6);
  const Font phone = draw::fit_font(canvas, vet, {11, draw::Weight::bold, draw::kInk}, room, 7);
  if (vet.empty()) {  // to be written on: the sheet hangs where the number is needed
    const double from = right - mm(62);
    canvas.text({from - mm(1.5), base}, "Vet, day and night", small, Align::right);
    canvas.line({from, base + 2}, {right, base + 2}, kHairline);
  } else {
    canvas.text({right, base}, draw::fit(canvas, vet, phone, room), phone, Align::right);
  }

  std::string about = litter.dam_name();
  if (!litter.breed().empty()) about += " · " + litter.breed();
  about += " · litter " + litter.key;
  if (const auto born = litter.first_birth()) about += " · born " + say_date(litter.zone.day_of(*born));
  canvas.text({left, base + 15}, draw::fit(canvas, about, small, right - left), small, Align::left);

  const double foot = form.paper.height - kMargin;
  canvas.text({left, foot}, "Your vet's word and your law come first.", {8.5, draw::Weight::bold, draw::kInk},
              Align::left);
  const auto at = made.assessment.at;
  canvas.text({(left + right) / 2 + mm(10), foot},
              fmt::format("printed {}, {}", say_date(litter.zone.day_of(at)), say_time(litter.zone, at)), small,
              Align::centre);
  canvas.text({right, foot}, fmt::format("page {} of {}", page + 1, form.pages.size()), small, Align::right);
}

std::string say_date(CivilDay day) {
  const std::chrono::year_month_day ymd{day};
  return fmt::format("{} {}", say_day(day), static_cast<int>(ymd.year()));
}

std::string bare(Grams grams, WeightUnit unit) {
  std::string out = say(grams, unit);
  for (const std::string_view suffix : {" kg", " oz", " g"})
    if (out.ends_with(suffix)) {
      out.resize(out.size() - suffix.size());
      break;  // "1 lb": whole pounds keep their unit
    }
  constexpr std::pair<std::string_view, std::string_view> kFractions[] = {
      {"1/8", "⅛"}, {"1/4", "¼"}, {"3/8", "⅜"}, {"1/2", "½"}, {"5/8", "⅝"}, {"3/4", "¾"}, {"7/8", "⅞"}};
  for (const auto& [plain, sign] : kFractions) {
    if (!out.ends_with(plain)) continue;
    out.resize(out.size() - plain.size());
    if (out.ends_with("lb "))
      out += '0';  // "1 lb 0⅞": a fraction alone after the pounds would be misread
    else if (out.ends_with(' '))
      out.pop_back();
    out += sign;
    break;
  }
  return out;
}

std::string_view unit_word(WeightUnit unit) {
  switch (unit) {
    case WeightUnit::grams:
      return "g";
    case WeightUnit::kilograms:
      return "kg";
    case WeightUnit::ounces:
    case WeightUnit::pounds:
      break;
  }
  return "oz";
}

std::string_view say_sex(const std::optional<record::Sex>& sex) {
  if (!sex) return "";
  return *sex == record::Sex::female ? "bitch" : "dog";
}

void draw_spot(Canvas& canvas, Point centre, double radius, std::string_view collar) {
  canvas.circle(centre, radius, draw::swatch_of(collar), Pen{draw::kMuted, 0.5, {}});
}

void draw_cell(Canvas& canvas, Area cell, std::string_view text, Font font, Align align, double smallest) {
  if (text.empty()) return;
  const double pad = mm(0.8);
  const double room = cell.width - 2 * pad;
  font = draw::fit_font(canvas, text, font, room, std::min(font.size, smallest));
  const double x = align == Align::left    ? cell.x + pad
                   : align == Align::right ? cell.right() - pad
                                           : cell.x + cell.width / 2;
  canvas.text({x, cell.y + cell.height / 2 + font.size * 0.36}, draw::fit(canvas, text, font, room), font, align);
}

void draw_name(Canvas& canvas, Area cell, std::string_view name, double size) {
  const double room = cell.width - mm(1.2);
  const Font font = draw::fit_font(canvas, name, {size, draw::Weight::bold, draw::kInk}, room, 7.5);
  if (canvas.text_width(name, font) <= room) return draw_cell(canvas, cell, name, font);
  const Font small{6.4, draw::Weight::bold, draw::kInk};
  auto lines = draw::wrap(canvas, name, small, room);
  std::string rest;
  for (std::size_t i = 1; i < lines.size(); ++i) rest += (rest.empty() ? "" : " ") + lines[i];
  const double middle = cell.x + cell.width / 2;
  canvas.text({middle, cell.y + cell.height / 2 - 0.6}, lines.empty() ? "" : lines.front(), small, Align::centre);
  canvas.text({middle, cell.y + cell.height / 2 + 6}, draw::fit(canvas, rest, small, room), small, Align::centre);
}

double figure_size(const Canvas& ruler, const std::vector<std::string>& figures, double size, double width) {
  for (const auto& figure : figures)
    size = draw::fit_font(ruler, figure, {size, draw::Weight::regular, draw::kInk}, width - mm(1.2), 4).size;
  return size;
}
void draw_figure(Canvas& canvas, Area cell, std::string_view figure, Font font, Align align) {
  const double pad = mm(0.6);
  font = draw::fit_font(canvas, figure, font, cell.width - 2 * pad, 4);
  const double x = align == Align::right ? cell.right() - pad : cell.x + cell.width / 2;
  canvas.text({x, cell.y + cell.height / 2 + font.size * 0.36}, figure, font, align);
}

double draw_field(Canvas& canvas, Point baseline, std::string_view caption, double line_width, std::string_view known) {
  const Font small{8.5, draw::Weight::regular, draw::kMuted}, ink{10, draw::Weight::regular, draw::kInk};
  canvas.text(baseline, caption, small, Align::left);
  const double from = baseline.x + canvas.text_width(caption, small) + mm(1.5);
  canvas.line({from, baseline.y + 2}, {from + line_width, baseline.y + 2}, kHairline);
  canvas.text({from + mm(1), baseline.y}, draw::fit(canvas, known, ink, line_width - mm(1)), ink, Align::left);
  return from + line_width + mm(5);
}

double paragraph(Canvas* canvas, const Canvas& ruler, Point top_left, double width, const std::vector<Run>& runs) {
  double line = 0;
  for (const auto& r : runs) line = std::max(line, r.font.size * 1.32);
  double x = 0, y = line;
  for (const auto& run : runs) {
    const double gap = ruler.text_width(" ", run.font);
    std::string_view rest = run.text;
    std::string piece;  // words of this run that go on the current line
    double start = x, wide = 0;
    const auto put = [&] {
      if (canvas && !piece.empty())
        canvas->text({top_left.x + start, top_left.y + y - line * 0.25}, piece, run.font, Align::left);
      piece.clear();
    };
    while (!rest.empty()) {
      const auto space = std::min(rest.find(' '), rest.size());
      const std::string word{rest.substr(0, space)};
      rest.remove_prefix(std::min(space + 1, rest.size()));
      const std::string longer = piece.empty() ? word : piece + " " + word;
      wide = ruler.text_width(longer, run.font);
      if (start + wide > width && start + ruler.text_width(piece, run.font) > 0) {
        put();
        start = 0;
        y += line;
        piece = word;
        wide = ruler.text_width(word, run.font);
      } else {
        piece = longer;
      }
    }
    put();
    x = start + wide + gap;
  }
  return y;
}

std::vector<std::size_t> shares(std::size_t count, std::size_t most) {
  most = std::max<std::size_t>(most, 1);
  const std::size_t sheets = std::max<std::size_t>(1, (count + most - 1) / most);
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < sheets; ++i) out.push_back(count / sheets + (i < count % sheets ? 1 : 0));
  return out;
}

std::optional<Grams> weight_on(const record::Litter& litter, const record::Pup& pup, CivilDay day) {
  std::optional<Grams> last;
  for (const auto& w : pup.weights)
    if (litter.zone.day_of(w.at) == day) last = w.what.grams;
  return last;
}

std::optional<Gone> gone(const record::Litter& litter, const record::Pup& pup) {
  if (pup.death) return Gone{litter.zone.day_of(pup.death->at), "died"};
  if (pup.departure) return Gone{litter.zone.day_of(pup.departure->at), "left"};
  return std::nullopt;
}

}  // namespace lampside::paper
