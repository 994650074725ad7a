// The printed forms, for the wall and for a pen.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "advice/assessment.hpp"
#include "measure/result.hpp"
#include "record/litter.hpp"

namespace lampside::paper {

enum class Sheet { a4, letter };

/// "weights-to-fill", "weights", "growth-sheet", "whelping-log", "dam-temperature", "when-home", "call-sheet",
/// "dosing-round", "shopping-list", "packing-list": the order to offer them in.
std::vector<std::string> form_names();

/// What the form is called on paper ("Weights, to fill in"); empty for a name that is none.
std::string form_title(std::string_view form);

/// "a4" or "letter". Errors: SHEET_UNKNOWN.
Result<Sheet> sheet_named(std::string_view name);

/// The form as a PDF: the same litter, assessment and sheet give the same bytes. A litter without pups prints too, with
/// columns to name by hand. The moment printed at is `assessment.at`.
/// Errors: FORM_UNKNOWN (lists the names), FORM_FAILED (the PDF library gave up; nothing is printed rather than half).
Result<std::string> make_form(std::string_view form, Sheet sheet, const record::Litter& litter,
                              const advice::Assessment& assessment);

}  // namespace lampside::paper
