// The printed forms, for the wall and for a pen.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "advice/assessment.hpp"
#include "measure/result.hpp"
#include "record/litter.hpp"

namespace lampside::paper {

enum class Sheet { a4, letter };

/// "weights-to-fill", "weights", "growth-sheet", "whelping-log", "dam-temperature", "when-home", "call-sheet",
/// "dosing-round", "turns", "milk-by-hand", "pup-sheet", "folder", "shopping-list", "packing-list": the order to offer
/// them in.
std::vector<std::string> form_names();

/// What the form is called on paper ("Weights, to fill in"); empty for a name that is none.
std::string form_title(std::string_view form);

/// "a4" or "letter". Errors: SHEET_UNKNOWN.
Result<Sheet> sheet_named(std::string_view name);

/// What a form about a pup is given beside the litter.
struct Given {
  std::string pup{};  ///< its label; empty: every pup at home
  /// A kept picture by its SHA-256. Empty: forms have no pictures.
  std::function<Result<std::string>(const std::string& sha256)> picture{};
  /// Who gives the pup and who takes it ("Family", "The Ashdowns, 3 Mill Lane"): never from the journal, printed in the
  /// folder and nowhere else.
  std::vector<std::pair<std::string, std::string>> contacts{};
};

/// The form as a PDF: the same litter, assessment and sheet give the same bytes. A litter without pups prints too, with
/// columns to name by hand. The moment printed at is `assessment.at`.
/// Errors: FORM_UNKNOWN (lists the names), PUP_UNKNOWN, FORM_FAILED (the PDF library gave up; nothing is printed rather
/// than half).
Result<std::string> make_form(std::string_view form, Sheet sheet, const record::Litter& litter,
                              const advice::Assessment& assessment, const Given& given = {});

/// The sheet of the pup that `given` names, as a PNG. Errors: PUP_UNKNOWN, FORM_FAILED.
Result<std::string> pup_sheet_png(const record::Litter& litter, const advice::Assessment& assessment,
                                  const Given& given);

}  // namespace lampside::paper
