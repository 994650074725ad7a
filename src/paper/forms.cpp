#include "paper/forms.hpp"

#include <array>

#include "draw/pdf/pdf.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

struct Known {
  std::string_view name, title;
  Form (*make)(const Made&);
};
constexpr std::array kForms{Known{"weights-to-fill", "Weights, to fill in", weights_to_fill},
                            Known{"weights", "Weights", weights},
                            Known{"growth-sheet", "Growth sheet", growth_sheet},
                            Known{"whelping-log", "Whelping log", whelping_log},
                            Known{"dam-temperature", "The dam's temperature", dam_temperature},
                            Known{"when-home", "When to be home", when_home},
                            Known{"litter-record", "Record of the litter", litter_record},
                            Known{"call-sheet", "Call sheet", call_sheet},
                            Known{"dosing-round", "Dosing round", dosing_round},
                            Known{"turns", "Turns at the teats", turns},
                            Known{"milk-by-hand", "Milk by hand", milk_by_hand},
                            Known{"pup-sheet", "The pup's sheet", pup_sheet},
                            Known{"folder", "The folder", folder},
                            Known{"shopping-list", "Shopping list", shopping_list},
                            Known{"packing-list", "Packing list for the car", packing_list}};

}  // namespace

std::vector<std::string> form_names() {
  std::vector<std::string> out;
  for (const auto& form : kForms) out.emplace_back(form.name);
  return out;
}

std::string form_title(std::string_view name) {
  for (const auto& form : kForms)
    if (form.name == name) return std::string(form.title);
  return {};
}

Result<Sheet> sheet_named(std::string_view name) {
  if (name == "a4") return Sheet::a4;
  if (name == "letter") return Sheet::letter;
  return problem("SHEET_UNKNOWN", "\"" + std::string(name) + "\" is not a sheet size", "choose a4 or letter");
}

Result<std::string> make_form(std::string_view name, Sheet sheet, const record::Litter& litter,
                              const advice::Assessment& assessment, const Given& given) {
  if (!given.pup.empty() && !litter.pup(given.pup))
    return problem("PUP_UNKNOWN", "there is no pup \"" + given.pup + "\" in this litter", "name one that is there");
  std::string names;
  for (const auto& known : kForms) {
    names += (names.empty() ? "" : ", ") + std::string(known.name);
    if (known.name != name) continue;
    const Stamp made_at = litter.zone.stamp(assessment.at);
    const draw::PdfCanvas ruler{{1, 1}, {"", made_at}};
    const Made made{litter, assessment, reference::built_in(), sheet, ruler, given};
    Form form = known.make(made);
    form.title = known.title;

    const auto of_whom = form.nameless ? "" : ", " + litter.dam_name() + ", litter " + litter.key;
    draw::PdfCanvas canvas{form.paper, {form.title + of_whom, made_at}};
    for (std::size_t page = 0; page < form.pages.size(); ++page) {
      if (page > 0) canvas.next_page();
      draw_surround(canvas, form, made, page);
      form.pages[page](canvas, form.nameless ? Area{kMargin, kMargin, form.paper.width - 2 * kMargin,
                                                    form.paper.height - 2 * kMargin}
                                             : body_of(form.paper));
    }
    std::string bytes = canvas.finish();
    if (bytes.empty())
      return problem("FORM_FAILED", "the PDF could not be made", "try again; if it stays so, print another form");
    return bytes;
  }
  return problem("FORM_UNKNOWN", "there is no form \"" + std::string(name) + "\"", "choose one of " + names);
}

}  // namespace lampside::paper
