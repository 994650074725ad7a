// The pup's sheet: one page for an advertisement. Facts, and nobody's name, number or address.
#include <fmt/format.h>

#include <algorithm>

#include "draw/pdf/pdf.hpp"
#include "homes/pup_facts.hpp"
#include "paper/flow.hpp"
#include "paper/pictures.hpp"

namespace lampside::paper {
namespace {

void draw_page(Canvas& canvas, Area body, const Made& made, const record::Pup& pup) {
  draw_cell(canvas, {body.x, body.y, body.width, mm(9)}, "Pup " + pup.label, {22, draw::Weight::bold, draw::kInk},
            Align::left);
  double y = body.y + mm(12);
  if (const auto picture = last_picture(made, pup)) {
    const double height = std::min(body.height * 0.42, body.width * picture->height / picture->width);
    canvas.picture({body.x, y, body.width, height}, *picture);
    y += height + mm(5);
  }
  Flow flow{canvas, {body.x, y, body.width, 1e6}};
  for (const auto& fact : homes::pup_facts(made.litter, made.reference, made.assessment.care, pup, made.assessment.at))
    flow.row(fact.name, fact.says);
  flow.small("As written down on " + say_date(made.litter.zone.day_of(made.assessment.at)) + ".");
  for (const auto& page : flow.pages()) page(canvas, {body.x, y, body.width, body.bottom() - y});
}

}  // namespace

Form pup_sheet(const Made& made) {
  Form form;
  form.paper = paper_size(made.sheet, Turn::portrait);
  form.nameless = true;
  for (const auto* pup : chosen_pups(made))
    form.pages.emplace_back([&made, pup](Canvas& canvas, Area body) { draw_page(canvas, body, made, *pup); });
  if (form.pages.empty()) form.pages.emplace_back(no_pup);
  return form;
}

Result<std::string> pup_sheet_png(const record::Litter& litter, const advice::Assessment& assessment,
                                  const Given& given) {
  const auto* pup = litter.pup(given.pup);
  if (!pup)
    return problem("PUP_UNKNOWN", "there is no pup \"" + given.pup + "\" in this litter", "name one that is there");
  constexpr double kPixelsAPoint = 2;  // 144 to the inch
  const auto size = paper_size(Sheet::a4, Turn::portrait);
  draw::PngCanvas canvas{size, kPixelsAPoint};
  const Made made{litter, assessment, reference::built_in(), Sheet::a4, canvas, given};
  draw_page(canvas, {kMargin, kMargin, size.width - 2 * kMargin, size.height - 2 * kMargin}, made, *pup);
  std::string bytes = canvas.finish();
  if (bytes.empty()) return problem("FORM_FAILED", "the picture could not be made", "try again, or take the PDF");
  return bytes;
}

}  // namespace lampside::paper
