// A product's label, read from what the keeper typed. Nothing is known of a molecule here: every figure is the label's.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::care {

/// What a product is measured out in. Powders and granules: grams of the product.
enum class Measured { ml, tablets, grams };
std::string_view name_of(Measured m);  ///< "ml", "tablets", "grams"

/// So much of a product. Its unit is known only once the label is read, so the unit travels with the figure.
struct Portion {
  Measured in;
  double count;
  bool operator==(const Portion&) const = default;
};
std::string say(Portion p);  ///< "0.85 ml", "1 1/2 tablets", "0.45 g"

/// How much of each active one ml, tablet or gram of the product holds, in the label's order.
struct Strength {
  Measured per;
  std::vector<Milligrams> mg;
};

/// "4.54 mg/ml", "22,7 mg/tab", "222 mg/g", "22.7 mg per 5 ml", "15 + 5 mg/ml".
/// Errors: STRENGTH_EMPTY, STRENGTH_PERCENT (says what it would be by volume and by weight), STRENGTH_RATIO,
/// STRENGTH_UNIT, STRENGTH_NUMBER.
Result<Strength> parse_strength(std::string_view text);

/// One line of the label's directions: for dogs of these weights, so much. Exactly one of the three amounts is set.
struct Direction {
  Kilograms from{0};
  Kilograms to{std::numeric_limits<double>::infinity()};
  bool above_from = false;           ///< `from` itself is outside: "over 5 lb"
  bool below_to = false;             ///< `to` itself is outside: "under 5 lb"
  std::vector<MgPerKg> mg_per_kg{};  ///< one an active
  std::optional<Portion> per_kg{};   ///< of the product, for each kilogram
  std::optional<Portion> each{};     ///< of the product, for any dog of these weights
  [[nodiscard]] bool holds(Kilograms dog) const;
};

/// Lines parted by new lines or semicolons, each "[weights:] amount":
///   weights  "0.9-1.8 kg", ">1-5 kg", "up to 5 lb", "<= 5 lb", "under 2 kg", "over 5 lb", "> 5 lb", "from 2 kg"
///   amount   "5 mg/kg", "2.27 mg/lb", "15 + 5 mg/kg", "0.5 ml/kg", "5 ml per 10 lb", "1 tablet per 2.5 kg", "1 1/2",
///            "2 sachets"
/// Errors: DOSE_EMPTY, DOSE_FORMAT, DOSE_UNIT, DOSE_WEIGHTS, DOSE_OVERLAP (two lines for one weight); each names the
/// line.
Result<std::vector<Direction>> parse_directions(std::string_view text, Measured in);

/// A label that can be dosed by. Figures are of base where the label gave the salt and its factor.
struct Label {
  std::string name;
  std::vector<std::string> actives;  ///< small letters; empty when the keeper named none
  Strength strength;
  std::vector<Direction> directions;
  bool at_least = false;
  std::optional<Portion> at_most;
  std::optional<Days> min_age;
  std::optional<Kilograms> min_weight;
  std::optional<Days> repeat;
  int days_in_row = 1;
  int parts = 1;                   ///< a tablet is cut into at most so many
  std::optional<double> mark;      ///< ml of the syringe, grams of the scale; tablets: 1 / parts
  std::optional<CivilDay> use_by;  ///< printed, or opened and the days it keeps, whichever is first
  /// It keeps only so long once opened, and nobody wrote down since when it is open.
  bool opened_unknown = false;
  bool wormer = true;
  std::string lot;
  /// Why its strength may be another presentation's, or a slip; and whether the keeper has read the label again since.
  std::optional<std::string> strength_doubt;
  bool confirmed = false;
};

/// The printed date, or the day it was opened and the days it keeps then, whichever is first; none where neither is
/// known.
std::optional<CivilDay> use_by(std::optional<CivilDay> printed, std::optional<CivilDay> opened,
                               std::optional<Days> keeps_open);

/// The label as a dose can be worked out from it. Errors: those of the parsers, LABEL_NO_STRENGTH, LABEL_NO_DOSE,
/// LABEL_ACTIVES (as many names as strengths), LABEL_SALT (a salt without its factor, or beside other actives),
/// LABEL_MARK (no syringe or scale mark), LABEL_PARTS, LABEL_DISAGREES (the actives' doses call for different amounts).
Result<Label> read_label(const record::Product& product, const reference::Reference& reference);

/// What a strength of that active looks like among those in print: nothing when it is one of them, or when the active
/// is not in the table. A second presentation, the salt taken for the base and a slipped point are told apart. Source:
/// reference/strengths.toml, a row a strength.
std::optional<std::string> strength_doubt(std::string_view active, Measured per, Milligrams mg,
                                          const reference::Reference& reference);

/// The other strengths in print of these actives, to be shown beside a dose: "2.27 and 50 mg/ml, 22 times apart".
std::string other_strengths(const Label& label, const reference::Reference& reference);

/// Whether the label names that active: "pyrantel" is named by "pyrantel embonate".
bool names_active(const std::vector<std::string>& actives, std::string_view active);
/// "febantel + pyrantel" apart, in small letters.
std::vector<std::string> actives_of(std::string_view text);

}  // namespace lampside::care
