// "Call sheet": what to say to the vet, and the night so far, on one page.
#include "advice/call.hpp"

#include <algorithm>

#include "draw/lettering.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

void draw_page(Canvas& canvas, Area body, const Made& made) {
  const auto& litter = made.litter;
  const auto sheet = advice::call_sheet(litter, made.assessment);
  const Font title{11, draw::Weight::bold, draw::kMuted}, plain{11, draw::Weight::regular, draw::kInk},
      bold{13, draw::Weight::bold, draw::kInk}, small{9, draw::Weight::regular, draw::kMuted};
  double y = body.y + mm(2);
  const auto words = [&](const std::string& text, const Font& font, double after) {
    y += paragraph(&canvas, made.ruler, {body.x, y}, body.width, {{text, font}}) + after;
  };
  const auto part = [&](std::string_view name, const std::string& text, const Font& font) {
    words(std::string(name), title, mm(0.5));
    words(text, font, mm(2.5));
  };
  part("Who", sheet.who, bold);
  // Where more flags stand than fit, the worst are said and the rest counted: the sheet is one page.
  constexpr std::size_t kMostFlags = 6, kMostDone = 6;
  words("What, and since when", title, mm(0.5));
  for (std::size_t i = 0; i < std::min(sheet.what.size(), kMostFlags); ++i) words("- " + sheet.what[i], bold, mm(0.5));
  if (sheet.what.size() > kMostFlags)
    words("and " + std::to_string(sheet.what.size() - kMostFlags) + " more", plain, mm(0.5));
  if (sheet.what.empty()) words("nothing on record asks for a call", plain, mm(0.5));
  y += mm(2);
  part("How it stands", sheet.state, plain);
  words("What was done", title, mm(0.5));
  const auto skip_done = sheet.done.size() - std::min(sheet.done.size(), kMostDone);
  for (std::size_t i = skip_done; i < sheet.done.size(); ++i) words("- " + sheet.done[i], plain, mm(0.3));
  if (sheet.done.empty()) words("nothing is written down", plain, mm(0.3));
  y += mm(2);
  part("What is asked", sheet.asked, bold);
  part("The drive", sheet.drive, plain);
  words("The night so far, newest first", title, mm(1));

  // Two columns of the newest lines that fit; the rest stays in the log.
  const double line = mm(4.6), half = (body.width - mm(6)) / 2;
  const auto rows = static_cast<std::size_t>(std::max(0.0, (body.bottom() - y - mm(5)) / line));
  const std::size_t fit = std::min(sheet.timeline.size(), 2 * rows);
  for (std::size_t i = 0; i < fit; ++i) {
    const auto& said = sheet.timeline[sheet.timeline.size() - 1 - i];
    const double x = body.x + (i < rows ? 0 : half + mm(6)), top = y + static_cast<double>(i % rows) * line;
    draw_cell(canvas, {x, top, mm(32), line}, say_day_time(litter.zone, said.at), small, Align::left);
    draw_cell(canvas, {x + mm(32), top, half - mm(32), line}, said.says, {9, draw::Weight::regular, draw::kInk},
              Align::left);
  }
  if (fit < sheet.timeline.size())
    canvas.text({body.x, body.bottom()}, std::to_string(sheet.timeline.size() - fit) + " earlier lines are in the log",
                small, Align::left);
  if (sheet.timeline.empty()) canvas.text({body.x, y + mm(5)}, "nothing is written down", plain, Align::left);
}

}  // namespace

Form call_sheet(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  form.pages.push_back([&made](Canvas& canvas, Area body) { draw_page(canvas, body, made); });
  return form;
}

}  // namespace lampside::paper
